"""A session: the conversation, the step on screen, the line, and the column beside them."""

from dataclasses import replace
from functools import partial

from textual import events
from textual.app import ComposeResult
from textual.binding import Binding
from textual.containers import Horizontal, Vertical
from textual.screen import Screen
from textual.widgets import Static

from triage.app.drive_runs import Outcome
from triage.app.job import Job
from triage.app.long_work import LongWork
from triage.present.cleaning import clean_line
from triage.present.commands import SCREEN_WORDS, WORDS, word_for
from triage.present.pages.any_moment import PAGES
from triage.present.pages.drive_page import drive_page
from triage.present.pages.session_page import said_lines
from triage.present.read_first import ALONE, MORE_TO_READ, NOT_READ, ends_something, is_word
from triage.present.shapes import NOT_REVIEWED, StepView
from triage.present.typing.exchange import STOPPED, Exchange, Reply
from triage.present.typing.results import Work
from triage.present.typing.saving import trouble_words
from triage.tui.answer_line import AnswerLine
from triage.tui.marked import Marked
from triage.tui.pages.browser import Browser
from triage.tui.pages.page_screen import PageScreen
from triage.tui.pages.reader import Reader
from triage.tui.pages.waiting import Waiting
from triage.tui.session.conversation import Conversation
from triage.tui.session.helping import footer_words, session_help
from triage.tui.session.hints import PROPOSED, echo, hint, one_key_answers, preview, time_left
from triage.tui.session.path_screen import PathScreen
from triage.tui.session.side import Side, vehicle_words
from triage.tui.session.step_layout import Asked
from triage.tui.session.step_panel import StepPanel
from triage.tui.session.timing import Stopwatch, TapAlong, Timing

PAINTED_S = 0.02
"""In this time the parts that have changed have asked to be laid out; what is called after the next refresh comes after
they were painted. The toolkit paints 60 times a second."""
TICK_S = 0.5
WELCOME = 'At any moment type "help". Every answer is saved as it is given.'
WORKED_OUT = "Worked out"
ONE_QUESTION = "First the question that is open; Enter on an empty line drops it."


class SessionScreen(Screen[str]):
    """One session; on closing it gives what to say when the program stops, or nothing to go back to its start."""

    BINDINGS = [  # noqa: RUF012 - as the base class has it
        Binding("pageup", "scroll_step(-1)", show=False),
        Binding("pagedown", "scroll_step(1)", show=False),
        Binding("up", "scroll_log(-1)", show=False),
        Binding("down", "scroll_log(1)", show=False),
        *(
            Binding(word.key.lower(), f"word('{word.name}')", show=False)
            for word in (*WORDS, *SCREEN_WORDS)
            if word.key and word.name != "help"
        ),
    ]

    def __init__(self, job: Job, notices: tuple[str, ...] = ()) -> None:
        """Show a session.

        Args:
            job: the session; it is left when the screen closes.
            notices: what to say about its trace.
        """
        super().__init__()
        self._job = job
        self._exchange = Exchange(job)
        self._notices = notices
        self.behind = 0
        """How often the column beside the step is still to follow."""

    def compose(self) -> ComposeResult:
        """Lay the screen out."""
        yield Marked(classes="bar", id="session-bar", markup=False)
        with Horizontal(id="session-body"):
            with Vertical(id="session-main"):
                yield Conversation()
                yield StepPanel()
            yield Side()
        with Horizontal(classes="typing"):
            yield Static("> ", markup=False)
            yield AnswerLine()
        yield Marked(classes="bar", id="session-words", markup=False)

    def on_mount(self) -> None:
        """Say what must be said first, and let time pass from now on."""
        reviewed = () if self._job.state.reviewer else (NOT_REVIEWED,)
        said = (line for event in self._job.events for line in said_lines(self._job.knowledge, event))
        self._conversation.say(*said, *reviewed, *self._notices, WELCOME)
        self.call_after_refresh(self._show)
        self.set_interval(TICK_S, self._tick)
        self.app.app_resume_signal.subscribe(self, lambda _app: self._tick())

    def on_unmount(self) -> None:
        """Close the trace."""
        self._exchange.stop()
        self._job.leave()

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:  # noqa: ARG002 - any of them
        """Take no key before the screen stands or once it is being left."""
        return self.is_current and bool(self.query("#asking")) and bool(self.query(AnswerLine))

    @property
    def _conversation(self) -> Conversation:
        return self.query_one(Conversation)

    @property
    def _line(self) -> AnswerLine:
        return self.query_one(AnswerLine)

    @property
    def _view(self) -> StepView:
        return self._exchange.view

    def holds_back(self) -> bool:
        """Whether something is not saved: that is said first, as "leave" does, and only the second time ends it."""
        if not self._job.trouble:
            return False
        self._uncover()
        if not self._exchange.waits_after("leave"):
            self._exchange.drop()
        self._take("leave")
        return True

    def on_answer_line_given(self, event: AnswerLine.Given) -> None:
        """Take a line; one that was typed ahead into a covered session is dropped."""
        event.stop()
        if self.app.screen is not self:
            return
        why = self._why_not_read(event)
        if why:
            self._refuse(why)
            self._line.keep_offer()
        else:
            self._take(event.text)

    def _why_not_read(self, event: AnswerLine.Given) -> str:
        """What keeps a person's word from being taken: that not all of its question was on the screen."""
        step, panel = self._job.state.step, self.query_one(StepPanel)
        if not self._exchange.must_be_read(event.text):
            return ""
        if not event.read:
            return NOT_READ
        if not self._exchange.question and ends_something(step, event.text):
            return ""
        return panel.too_small or ("" if panel.was_read(event.at_s) else MORE_TO_READ)

    def on_answer_line_refused(self, event: AnswerLine.Refused) -> None:
        """Say why a paste was refused."""
        self._refuse(event.why)

    def on_input_changed(self) -> None:
        """Say what Enter would send."""
        self._hint()

    def on_screen_resume(self) -> None:
        """Offer answers anew: nobody saw them behind another screen."""
        self._offer()
        self.query_one(StepPanel).look_soon()

    def help_lines(self, width: int) -> tuple[str, ...]:
        """The help of the step on screen."""
        now = hint(self._job.knowledge, self._job.state, self._view, self._exchange.question)
        return session_help(now, width)

    def action_word(self, name: str) -> None:
        """Say a word by its key; a question that is open is not answered by it."""
        if name in PAGES:
            reply = self._exchange.look(name)
            self._answer(name, reply)
            if reply.moved:
                self._show()
        elif name == "taps":
            self.app.push_screen(TapAlong(), self._tapped)
        elif name == "trees":
            self.app.push_screen(Browser(self._job.knowledge))
        elif self._exchange.question:
            self._refuse(ONE_QUESTION)
        else:
            self._take(name)

    def _take(self, line: str) -> None:
        said, question = line.strip().lower(), self._exchange.question
        if not said and not question:
            if self._job.state.closed:
                self.dismiss("")
            self._offer()
            return
        if not question and said in (word.name for word in SCREEN_WORDS):
            self.action_word(said)
            return
        said_yes = self._exchange.proposes and not said
        self._conversation.say(echo(self._view, question, "yes" if said_yes else line), typed=True)
        self._answer(said, self._exchange.take(line))
        if self._exchange.question not in ("", question):
            self._conversation.say(self._exchange.question.splitlines()[0])
        self._show()

    def _answer(self, word: str, reply: Reply) -> None:
        if reply.kind == "leave":
            self.dismiss(*reply.lines)
        elif reply.kind == "watch":
            self.app.push_screen(Stopwatch(), self._watched)
        elif reply.work:
            self.app.push_screen(Waiting(reply.work.words, reply.work.begin()), partial(self._worked, reply.work))
        elif reply.page:
            self.app.push_screen(Reader(word, reply.page))
        elif reply.kind == "page" and word == "help":
            self.call_later(self.run_action, "app.help")
        elif reply.kind == "page" and word == "path":
            self.app.push_screen(PathScreen(self._job.knowledge, self._job.state), self._amend)
        elif reply.kind == "page" and word == "drive":
            self.app.push_screen(Reader(word, self._drive_lines))
        elif reply.kind == "page":
            self.app.push_screen(Reader(word if word_for(word) else WORKED_OUT, lambda _: reply.lines))
        else:
            self._tell(reply)

    def _worked(self, asked: Work, work: LongWork[Outcome] | None) -> None:
        self._answer(asked.words, self._exchange.finished(work) if work else Reply(lines=(STOPPED,)))

    def _tell(self, reply: Reply) -> None:
        """Say what came of a line, in the log and beside the line."""
        self._conversation.say(*reply.lines, *reply.news)
        # That nothing can be saved stands beside the step anyway.
        beside = reply.lines if self._job.trouble else (*reply.lines, *reply.news)
        if reply.mark or beside or not reply.news:
            self.query_one(StepPanel).tell(reply.mark, beside)

    def _refuse(self, why: str) -> None:
        self._tell(Reply(lines=(why,), mark="NOT TAKEN"))

    def _drive_lines(self, width: int) -> tuple[str, ...]:
        return tuple(drive_page(self._job.knowledge, self._job.state, width))

    def _amend(self, number: str | None) -> None:
        """Put right what was picked on the path; a number goes nowhere else."""
        if number and self._exchange.question:
            self._refuse(ONE_QUESTION)
        elif number:
            self._take("amend")
            if self._exchange.waits_after("amend"):
                self._take(number)

    def _watched(self, reading: str | None) -> None:
        if not reading:
            return
        self._conversation.say(f"Stopwatch: {reading}")
        # A person's word is typed, beside its question.
        is_said = is_word(self._job.knowledge, self._job.state.step, ())
        if self._view.timed and not self._exchange.question and not is_said:
            self._take(reading)

    def _tapped(self, rate: str | None) -> None:
        if not rate:
            return
        self._conversation.say(f"Tapped: {rate}")
        if not self._exchange.question:
            self._take("rate")
        if self._exchange.waits_after("rate"):
            self._take(rate)

    def _tick(self) -> None:
        reply = self._exchange.pass_time()
        if reply:
            if reply.moved:
                self._uncover()
                reply = self._dropping(reply)
            self._tell(reply)
            self._show()
        self._count_down()

    def _dropping(self, reply: Reply) -> Reply:
        """Drop what was being typed for a step that is another one now, and say it, so that it can be typed again."""
        typed = self._line.value
        self._line.clear()
        return replace(reply, lines=(*reply.lines, f'Dropped: "{typed}"')) if typed.strip() else reply

    def _uncover(self) -> None:
        """Bring the session back before whatever covers it: its step has changed."""
        while self in self.app.screen_stack and self.app.screen is not self:
            self.app.pop_screen()

    def _count_down(self) -> None:
        left = time_left(self._job.state.step, self._job.reading_ms())
        self.query_one(StepPanel).count_down(left)
        if isinstance(self.app.screen, PageScreen | Timing):
            self.app.screen.count_down(left)

    def _show(self) -> None:
        if not self.is_attached:  # put off until after a refresh, it can come behind a leave
            return
        knowledge, state = self._job.knowledge, self._job.state
        bar = f"{vehicle_words(state)} · {knowledge.trees[state.symptom].name} · job {state.job}"
        self.query_one("#session-bar", Marked).show(clean_line(bar))
        self.query_one("#session-words", Marked).show(footer_words(self.size.width))
        asked = Asked(
            self._view,
            state.step.kind,
            self._exchange.question,
            is_word=self._exchange.proposes or is_word(knowledge, state.step, self._exchange.typed),
            trouble="" if self._exchange.waits_after("leave") else trouble_words(self._job.trouble),
        )
        self.query_one(StepPanel).show(asked, at_once=self._one_key_answers() > 0)
        self.set_class(state.step.kind in ALONE, "-alone")
        self._count_down()
        self._hint()
        self._offer()
        # What is to be done now comes first; ranking and weighing take longer than all the rest together.
        self.behind += 1
        self.set_timer(PAINTED_S, partial(self.call_after_refresh, self._show_beside))

    def _show_beside(self) -> None:
        self.behind -= 1
        # A screen that is being closed has lost its parts before it is gone itself.
        for side in self.query(Side) if self.is_attached else ():
            side.show(self._job.knowledge, self._job.state)
            self.call_after_refresh(self._weigh)

    def _weigh(self) -> None:
        reply = self._exchange.weigh() if self.is_attached and self.query(StepPanel) else None
        if reply:
            proposed = self._exchange.question.split("\n")[:1] if self._exchange.proposes else ()
            self._conversation.say(*reply.lines, *reply.news, *proposed)
            self.query_one(StepPanel).tell_more(reply.lines)
            self._show()

    def _hint(self) -> None:
        view, question, line = self._view, self._exchange.question, self._line.value
        waits = self._exchange.proposes
        words = preview(view, question, line) or (
            PROPOSED if waits else hint(self._job.knowledge, self._job.state, view, question)
        )
        self.query_one(StepPanel).hint(words, typing=bool(line))

    def _one_key_answers(self) -> int:
        if self._exchange.question or self._job.state.closed:
            return 0
        return one_key_answers(self._job.knowledge, self._job.state, self._view)

    def _offer(self) -> None:
        self._line.offer(self._one_key_answers())

    def on_resize(self, _event: events.Resize) -> None:
        """Lay out again."""
        self.call_after_refresh(self._show)

    def action_scroll_step(self, pages: int) -> None:
        """Move through a long step."""
        self.query_one(StepPanel).scroll_reading(pages)

    def action_scroll_log(self, lines: int) -> None:
        """Move through what was said."""
        self._conversation.scroll_relative(y=lines, animate=False)
