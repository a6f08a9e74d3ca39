"""A session: the conversation, the step on screen, the line, and the column beside them."""

from typing import Literal

from textual import events
from textual.app import ComposeResult
from textual.binding import Binding
from textual.containers import Horizontal, Vertical
from textual.content import Content
from textual.screen import Screen
from textual.widgets import Static

from triage.app.job import Job
from triage.present.cleaning import clean, clean_line
from triage.present.commands import WORDS, word_for
from triage.present.views import NOT_REVIEWED, StepView, step_view
from triage.tui.answer_line import AnswerLine
from triage.tui.browser import Browser
from triage.tui.conversation import Conversation
from triage.tui.exchange import Exchange, Reply
from triage.tui.reader import Reader
from triage.tui.side import Side, vehicle_words
from triage.tui.step_panel import StepPanel
from triage.tui.timing import Stopwatch, TapAlong

TICK_S = 0.5
ROWS_OF_LOG = 1
ROWS_OF_REST = 3
"""Bar, line and words."""
KEYS = "F3 taps F4 trees"
KEYS_EXPLAINED = (
    "",
    "Keys of this screen:",
    "PgUp PgDn  a step or page that is longer than its place",
    "Up Down    what was said before",
    "F3         tap along with a chirp or a mark on the belt",
    "F4         walk and search the trees",
    "Ctrl-Z     back to the shell for a while; fg comes back",
    "Ctrl-Q     stop; the session is kept",
)
WELCOME = 'At any moment type "help". Every answer is saved as it is given.'


def footer_words(width: int) -> str:
    """As many words of the one table as fit, the word that lists all of them always among them."""
    names = [word.name for word in WORDS if word.name != "help"]
    while names and len(" ".join(["help", *names, "·", KEYS])) > width - 2:
        names.pop()
    return " ".join(["help", *names, "·", KEYS])


def _echo(view: StepView, question: str, line: str) -> str:
    """What was typed, with the question that it answers and the words that a number stands for."""
    if word_for(line) or question:
        return f"> {line}"
    number = line.strip().removeprefix("#" if view.measured else "")
    named = number.isascii() and number.isdecimal() and (line.strip() != number) == view.measured
    chosen = view.choices[int(number[:4]) - 1].words if named and 1 <= int(number[:4]) <= len(view.choices) else ""
    return f"{view.title} > {line} {chosen}".rstrip()


class SessionScreen(Screen[Literal["start", "stop"]]):
    """One session; it says on closing whether the program goes back to its start or stops."""

    BINDINGS = [  # noqa: RUF012 - as the base class has it
        Binding("pageup", "scroll_step(-1)", show=False),
        Binding("pagedown", "scroll_step(1)", show=False),
        Binding("up", "scroll_log(-1)", show=False),
        Binding("down", "scroll_log(1)", show=False),
        Binding("f3", "tap", show=False),
        Binding("f4", "trees", show=False),
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

    def compose(self) -> ComposeResult:
        """Lay the screen out."""
        yield Static(classes="bar", id="session-bar", markup=False)
        with Horizontal(id="session-body"):
            with Vertical(id="session-main"):
                yield Conversation()
                yield StepPanel()
            yield Side()
        with Horizontal(classes="typing"):
            yield Static("> ", markup=False)
            yield AnswerLine()
        yield Static(classes="bar", id="session-words", markup=False)

    def on_mount(self) -> None:
        """Say what must be said first, and let time pass from now on."""
        reviewed = () if self._job.state.reviewer else (NOT_REVIEWED,)
        self._conversation.say(*reviewed, *self._notices, WELCOME)
        self.call_after_refresh(self._show)
        self.set_interval(TICK_S, self._tick)

    def on_unmount(self) -> None:
        """Close the trace."""
        self._job.leave()

    @property
    def _conversation(self) -> Conversation:
        return self.query_one(Conversation)

    def on_answer_line_given(self, event: AnswerLine.Given) -> None:
        """Take a line; one that was typed ahead into a covered session is dropped."""
        event.stop()
        if self.app.screen is self:
            self._take(event.text)

    def on_answer_line_refused(self, event: AnswerLine.Refused) -> None:
        """Say why a paste was refused."""
        self._conversation.say(event.why)

    def _take(self, line: str) -> None:
        if self._job.state.closed and not line.strip():
            self.dismiss("start")
            return
        question = self._exchange.question
        self._conversation.say(_echo(step_view(self._job.knowledge, self._job.state), question, line), typed=True)
        reply = self._exchange.take(line)
        self._answer(line.strip(), reply)
        if self._exchange.question not in ("", question):
            self._conversation.say(self._exchange.question)
        self._show()

    def _answer(self, word: str, reply: Reply) -> None:
        if reply.kind == "leave":
            self.dismiss("stop")
        elif reply.kind == "page":
            self.app.push_screen(Reader(word, reply.lines + (KEYS_EXPLAINED if word.lower() == "help" else ())))
        elif reply.kind == "watch":
            self.app.push_screen(Stopwatch(), self._watched)
        else:
            self._conversation.say(*reply.lines)

    def _watched(self, reading: str | None) -> None:
        if reading:
            self._conversation.say(f"Stopwatch: {reading}")
            self._take(reading)

    def _tapped(self, rate: str | None) -> None:
        if rate:
            self._conversation.say(f"Tapped: {rate}")

    def _tick(self) -> None:
        reply = self._exchange.pass_time()
        if reply:
            self._uncover()
            self.query_one(AnswerLine).clear()
            self._conversation.say(*reply.lines)
            self._show()
        self._count_down()

    def _uncover(self) -> None:
        """Bring the session back before whatever covers it: its step has changed."""
        while self in self.app.screen_stack and self.app.screen is not self:
            self.app.pop_screen()

    def _count_down(self) -> None:
        until_ms = self._job.state.step.until_ms
        left_s = max(0, -(-(until_ms - self._job.clock()) // 1000)) if until_ms else None
        self.query_one(StepPanel).count_down(left_s)

    def _show(self) -> None:
        knowledge, state = self._job.knowledge, self._job.state
        bar = f"{vehicle_words(state)} · {knowledge.trees[state.symptom].name} · job {state.job}"
        self.query_one("#session-bar", Static).update(Content(clean_line(bar)))
        self.query_one("#session-words", Static).update(
            Content(clean("Enter goes back to the start" if state.closed else footer_words(self.size.width)))
        )
        self.query_one(Side).show(knowledge, state)
        panel = self.query_one(StepPanel)
        panel.fit(self.size.height - ROWS_OF_REST - ROWS_OF_LOG)
        panel.show(step_view(knowledge, state), state.step.kind, self._exchange.question)
        self._count_down()

    def on_resize(self, _event: events.Resize) -> None:
        """Lay out again."""
        self.call_after_refresh(self._show)

    def action_scroll_step(self, pages: int) -> None:
        """Move through a long step."""
        self.query_one(StepPanel).scroll_reading(pages)

    def action_scroll_log(self, lines: int) -> None:
        """Move through what was said."""
        self._conversation.scroll_relative(y=lines, animate=False)

    def action_tap(self) -> None:
        """Open the tap-along."""
        self.app.push_screen(TapAlong(), self._tapped)

    def action_trees(self) -> None:
        """Open the tree browser."""
        self.app.push_screen(Browser(self._job.knowledge))
