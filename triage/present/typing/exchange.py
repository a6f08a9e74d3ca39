"""What comes of a typed line, and of time that passes: a face's side of a session, without its screen or terminal."""

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Literal

from triage.app.drive_runs import Lines, Outcome, others_asked
from triage.app.job import Job
from triage.app.long_work import LongWork, StoppedError
from triage.errors import QuantityUnclear, TriageError
from triage.present.answers.answering import answers_to
from triage.present.answers.replying import Replies
from triage.present.commands import word_for
from triage.present.read_first import ENDS_A_RUN, line_named, must_be_read
from triage.present.said.telling import DROPPED, TIME_PASSED, told
from triage.present.shapes import Choice, StepView
from triage.present.sheet.layout import sheet_lines
from triage.present.sheet.sheet import sheet_of
from triage.present.steps.other_pulleys import prediction_lines
from triage.present.steps.views import line_view, step_view
from triage.present.typing.accepting import Acceptance
from triage.present.typing.choosing import chosen
from triage.present.typing.interpreting import Typing, interpret
from triage.present.typing.proposing import ANSWERS, NO, UNDERSTANDS, YES, Proposal, Words
from triage.present.typing.results import Ask, Copy, Leave, Result, Show, Watch, Work
from triage.present.typing.saving import NOT_SAVED_YET, Saving, refusal_words
from triage.present.typing.showing import shown
from triage.record.events import CheckAnswered, Event
from triage.record.layouts import Predictions
from triage.session.commands import CompareDrive
from triage.session.interlocks import is_pressed

if TYPE_CHECKING:
    from triage.record.payloads import UsedLayout

PULLEY_CHECK = "pulley-type"
WORKING_OUT_OTHERS = "I work out what other pulleys would do in this drive, and say it here. Go on meanwhile."
NOT_WORKED_OUT = "What other pulleys would do in this drive was not worked out."
STOPPED = "Stopped. Nothing was lost."
Mark = Literal["", "SAVED", "TAKEN", "NOT TAKEN"]


@dataclass(frozen=True)
class Reply:
    """What to do now.

    Args:
        kind: whether to go on, open a page, open the stopwatch, work something out that takes long, or leave.
        lines: what to say, or the page.
        mark: what became of the line that was typed, in a word or two; empty where none was.
        moved: whether the step on screen has changed without an answer to it.
        news: what to say of saving, which stands beside the step as long as it is so.
        work: what is to be worked out; `finished` says what comes of it.
        page: the page for a width, where it is made for one.
        aside: what to say of the answer before, beside nothing.
    """

    kind: Literal["go-on", "page", "watch", "work", "leave"] = "go-on"
    lines: tuple[str, ...] = ()
    mark: Mark = ""
    moved: bool = False
    news: tuple[str, ...] = ()
    work: Work | None = None
    page: Lines | None = None
    aside: tuple[str, ...] = ()


def is_sheet(line: str) -> bool:
    """Whether a line asks for the sheet of the session."""
    word = word_for(line)
    return word is not None and word.name == "sheet"


def lines_of(came: Outcome) -> Lines:
    """The page of what work came to."""
    if not isinstance(came, Predictions):
        return came
    return lambda width: tuple(prediction_lines(came, width))


class Exchange:
    """A session being talked to.

    Attributes:
        job: the session.
        question: what was asked on top of the step; empty where the step itself is to be answered.
    """

    def __init__(self, job: Job) -> None:
        """Take a session up where it stands."""
        self.job = job
        self.question = ""
        self._typed: tuple[str, ...] = ()
        self._by_line = False
        self._saving = Saving(job)
        self._words = Words(job)
        self._replies = Replies(job)
        self._proposal: Proposal | None = None
        self._others: tuple[UsedLayout, LongWork[Outcome]] | None = None

    def pass_time(self) -> Reply | None:
        """Let time pass.

        Returns:
            What to say where the step on screen has changed, the clock was moved, or saving fails or works again.
        """
        before, pressed = self.job.state.step, self._pressed()
        lines = told(self.job.knowledge, self.job.tick())
        lines += self._others_ended()
        # A card stays as it is where nothing but its pressed lines has ended: it is another one to whoever types.
        moved = self.job.state.step != before or not pressed <= self._pressed()
        if moved:
            self.drop()
            # Where the engine is to be switched off, that is all there is to read.
            lines += [] if self.job.state.step.kind in ENDS_A_RUN else [TIME_PASSED]
        news = self._saving.news()
        return Reply(lines=tuple(lines), moved=moved, news=news) if moved or lines or news else None

    def take(self, line: str) -> Reply:
        """Take a line that was typed for the step on screen; one whose step has changed is dropped, but not a leave."""
        passed = self.pass_time() or Reply()
        word = word_for(line)
        if passed.moved and not (word and word.name == "leave"):
            return passed
        if self._proposal:
            return self._after(passed, self._answered(self._proposal, line))
        if self._typed and not line.strip():
            if self._by_line:
                return replace(self._carried_out(self._typed[:-1]), lines=passed.lines)
            self.drop()
            return replace(passed, lines=(*passed.lines, DROPPED))
        return self._after(passed, self._carried_out((*self._typed, line)))

    def _after(self, passed: Reply, reply: Reply) -> Reply:
        """A reply with what has come of time before it; a page stands alone."""
        if reply.kind != "go-on":
            return reply
        return replace(reply, lines=(*passed.lines, *reply.lines), news=(*passed.news, *reply.news))

    def look(self, word: str) -> Reply:
        """Open the page that a word names; a question that is open stays open."""
        return self._shown(shown(self.job.knowledge, self.job.state, word, self.job.clock()))

    def weigh(self) -> Reply | None:
        """Let it be weighed whether checks still pay after the last answer, whose next step is on screen by now."""
        lines, news = told(self.job.knowledge, self.job.advise()), self._saving.news()
        aside = self._replies.said()
        proposal = None if self.question or self._typed else self._words.offer()
        self._propose(proposal)
        return Reply(lines=tuple(lines), news=news, aside=aside) if lines or news or aside or proposal else None

    def _pressed(self) -> set[str]:
        state = self.job.state
        return {line for line in state.step.lines if is_pressed(self.job.knowledge, state, line)}

    @property
    def typed(self) -> tuple[str, ...]:
        """The lines typed so far for a command that still asks."""
        return self._typed

    @property
    def picked(self) -> bool:
        """Whether a line of a round was picked just now, and nothing more is typed for it."""
        return len(self._typed) == 1 and not self.question

    @property
    def proposes(self) -> bool:
        """Whether something that was understood waits for a yes."""
        return self._proposal is not None

    def must_be_read(self, line: str) -> bool:
        """Whether a line is a person's word: an answer that counts, or a yes to what was said back."""
        if self._proposal:
            return line.strip().lower() not in NO
        return must_be_read(self.job.knowledge, self.job.state.step, line, self._typed)

    @property
    def view(self) -> StepView:
        """The step, or the line of a round that was picked and waits for its answer."""
        state = self.job.state
        line = line_named(state.step, self._typed[0]) if self._typed else ""
        if line in state.step.open:
            return line_view(self.job.knowledge, state, line)
        return step_view(self.job.knowledge, state)

    def waits_after(self, *lines: str) -> bool:
        """Whether these lines, and no more, were typed for a command that still asks."""
        return self._typed == lines

    def _carried_out(self, lines: tuple[str, ...]) -> Reply:
        job, step = self.job, self.job.state.step
        if len(lines) == 1 and is_sheet(lines[0]):
            return Reply("page", page=self._sheet)
        typing = Typing(job.knowledge, job.state, job.clock(), job.who, job.trouble, job.unsaved)
        try:
            result = interpret(typing, lines)
        except TriageError as error:
            return self._heard(lines, error) or self._refused(error)
        try:
            return self._come_to(typing, lines, result)
        except TriageError as error:
            if job.state.step != step:
                self.drop()
            return replace(self._refused(error), moved=job.state.step != step)

    def _sheet(self, width: int) -> tuple[str, ...]:
        """The sheet as it stands now."""
        job = self.job
        return sheet_lines(job.knowledge, sheet_of(job.knowledge, job.events, str(job.head)), width)

    def _refused(self, error: TriageError) -> Reply:
        return Reply(lines=refusal_words(error), mark="NOT TAKEN", news=self._saving.news())

    def _heard(self, lines: tuple[str, ...], error: TriageError) -> Reply | None:
        """What a line says in words that was no answer as it stands; None where it says nothing here."""
        step = self.job.state.step
        picked = line_named(step, lines[0]) if lines[1:] else ""
        if isinstance(error, QuantityUnclear) or step.kind not in (*UNDERSTANDS, *ANSWERS) or not _in_words(lines[-1]):
            return None
        if len(lines) > (2 if picked else 1) or word_for(lines[0]):
            return None
        on_screen = picked or (step.check if step.kind not in ("round", *ANSWERS) else "")
        try:
            heard = self._words.heard(lines[-1], on_screen)
        except TriageError:  # a faulty file of wording takes no answer away
            return None
        said = answers_to(self.job, heard.questions(self.job.knowledge, lines[-1], on_screen))
        if step.kind in ANSWERS:
            return Reply(lines=said) if said else None
        self._propose(heard.proposal)
        if heard.proposal or said:
            return Reply(lines=(*said, *heard.lines))
        return Reply(lines=heard.lines, mark="NOT TAKEN") if heard.lines else None

    def _propose(self, proposal: Proposal | None) -> None:
        if proposal:
            self._proposal, self.question, self._by_line = proposal, proposal.question, False

    def _answered(self, proposal: Proposal, line: str) -> Reply:
        """A yes, a no or the number of what was meant; any other line is taken anew."""
        typed, said, step = self._typed, line.strip().lower(), self.job.state.step
        self.drop()
        if said in NO or (proposal.meanings and said in YES):
            self._words.forget(proposal)
            self._typed = typed
            return Reply(lines=(DROPPED,))
        if proposal.meanings:
            try:
                number = chosen(tuple(Choice(str(at), "") for at, _ in enumerate(proposal.meanings)), line)
            except TriageError:
                return self._carried_out((*typed, line))
            return self._accepted(replace(proposal, items=(proposal.meanings[int(number)],)))
        if said in YES:
            return self._accepted(proposal)
        reply = self._carried_out((*typed, line))
        if reply.kind == "go-on" and not reply.mark and not self.question and self.job.state.step == step:
            # Only something was asked: what was said back still waits.
            self._typed = typed
            self._propose(proposal)
        return reply

    def _accepted(self, proposal: Proposal) -> Reply:
        """What counts now is saved; what does not is said with its reason, and its sentence kept."""
        state, before, knowledge = self.job.state, len(self.job.events), self.job.knowledge
        try:
            came = Acceptance(self.job, proposal.on_screen, proposal.text, proposal.by).accept(proposal.items)
        except TriageError as error:
            came = None
            lines: tuple[str, ...] = refusal_words(error)
        happened = self.job.events[before:]
        self._replies.answered(state, happened)
        told_now = (*dict.fromkeys(told(knowledge, happened)), *self._compare(happened))
        if came is None:
            return Reply(lines=(*told_now, *lines), mark="NOT TAKEN", news=self._saving.news())
        if proposal.text or not proposal.on_screen:  # what was told before is offered once
            self._words.keep(came.left)
        self._words.lack(proposal.items)
        mark = self._mark_of(happened)
        reply = Reply(lines=(*told_now, *came.why), mark=mark, news=self._saving.news())
        if not came.goes_on:
            return reply
        after = self._carried_out(came.goes_on)
        return replace(after, lines=(*reply.lines, *after.lines), news=(*reply.news, *after.news))

    def _mark_of(self, happened: tuple[Event, ...]) -> Mark:
        if not happened:
            return "NOT TAKEN"
        return "TAKEN" if self.job.unsaved else "SAVED"

    def _come_to(self, typing: Typing, lines: tuple[str, ...], result: Result) -> Reply:
        if isinstance(result, Leave):
            return Reply("leave", (self._saving.left(),))
        if isinstance(result, Watch):
            return Reply("watch")
        if isinstance(result, Work):
            self.drop()
            return Reply("work", work=result)
        if isinstance(result, Show):
            self.drop()
            return self._shown(result)
        if isinstance(result, Ask):
            self._typed, self.question, self._by_line = lines, result.question, result.by_line
            return Reply()
        if isinstance(result, Copy):
            said = self._saving.copy(result)
            self.drop()
            return Reply("leave", (self._saving.left(),)) if result.leaves else Reply(lines=(said,), mark="SAVED")
        self.drop()
        before = self.job.state
        events = self.job.do(result, advise=False)
        self._replies.answered(before, events)
        happened = [*told(typing.knowledge, events), *self._compare(events)]
        if self.job.unsaved:
            return Reply(lines=(*happened, NOT_SAVED_YET), mark="TAKEN", news=self._saving.news())
        return Reply(lines=tuple(happened), mark="SAVED", news=self._saving.news())

    def _shown(self, page: Show) -> Reply:
        if page.record:
            step = self.job.state.step
            try:
                self.job.do(page.record)
            except TriageError as error:
                if self.job.state.step != step:  # a page must not cover that the engine is to be switched off
                    return Reply(lines=refusal_words(error), moved=True, news=self._saving.news())
                return Reply("page", (*page.lines, *refusal_words(error)))
        return Reply("page", page.lines)

    def finished(self, work: LongWork[Outcome]) -> Reply:
        """What came of work that has ended; what other pulleys would do is kept."""
        try:
            came = work.result()
            if isinstance(came, Predictions):
                self._keep(came)
            return Reply("page", page=lines_of(came))
        except StoppedError:
            return Reply(lines=(STOPPED,))
        except TriageError as error:
            return Reply(lines=refusal_words(error), mark="NOT TAKEN")

    def _keep(self, predictions: Predictions) -> tuple[Event, ...]:
        job = self.job
        return job.do(CompareDrive(at_ms=job.clock(), who=job.who, predictions=predictions), advise=False)

    def _compare(self, happened: tuple[Event, ...]) -> tuple[str, ...]:
        """Begin to work out what other pulleys would do, where the type of the pulley was just looked at."""
        state = self.job.state
        looked = any(isinstance(event, CheckAnswered) and event.check == PULLEY_CHECK for event in happened)
        if not looked or state.layout is None or state.predictions or self._others:
            return ()
        self._others = state.layout, others_asked(state.layout.layout)
        return (WORKING_OUT_OTHERS,)

    def _others_ended(self) -> tuple[str, ...]:
        """What to say where it has been worked out what other pulleys would do; of another layout nothing is."""
        if self._others is None or not self._others[1].wait(0):
            return ()
        (used, work), self._others = self._others, None
        if used is not self.job.state.layout:
            return ()
        try:
            came = work.result()
            return tuple(told(self.job.knowledge, self._keep(came))) if isinstance(came, Predictions) else ()
        except (TriageError, StoppedError) as error:
            return (f"{NOT_WORKED_OUT} {error}",)

    def stop(self) -> None:
        """Stop what is worked out beside the session."""
        if self._others:
            self._others[1].stop()

    def left(self) -> str:
        """What to say to somebody who leaves."""
        return self._saving.left()

    def drop(self) -> None:
        """Forget what was typed for a command that still asks, and what waits for a yes."""
        self._typed, self.question, self._proposal = (), "", None


def _in_words(line: str) -> bool:
    return any(letter.isalpha() for letter in line)
