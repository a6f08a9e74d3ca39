"""What comes of a typed line, and of time that passes: a face's side of a session, without its screen or terminal."""

from dataclasses import dataclass, replace
from typing import Literal

from triage.app.job import Job
from triage.errors import TriageError
from triage.present.commands import word_for
from triage.present.read_first import ENDS_A_RUN, line_named
from triage.present.said.telling import DROPPED, TIME_PASSED, told
from triage.present.shapes import StepView
from triage.present.steps.views import line_view, step_view
from triage.present.typing.interpreting import Typing, interpret
from triage.present.typing.results import Ask, Copy, Leave, Show, Watch
from triage.present.typing.saving import NOT_SAVED_YET, Saving, refusal_words
from triage.present.typing.showing import shown
from triage.session.interlocks import is_pressed

Mark = Literal["", "SAVED", "TAKEN", "NOT TAKEN"]


@dataclass(frozen=True)
class Reply:
    """What to do now.

    Args:
        kind: whether to go on, open a page, open the stopwatch, or leave.
        lines: what to say, or the page.
        mark: what became of the line that was typed, in a word or two; empty where none was.
        moved: whether the step on screen has changed without an answer to it.
        news: what to say of saving, which stands beside the step as long as it is so.
    """

    kind: Literal["go-on", "page", "watch", "leave"] = "go-on"
    lines: tuple[str, ...] = ()
    mark: Mark = ""
    moved: bool = False
    news: tuple[str, ...] = ()


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

    def pass_time(self) -> Reply | None:
        """Let time pass.

        Returns:
            What to say where the step on screen has changed, the clock was moved, or saving fails or works again.
        """
        before, pressed = self.job.state.step, self._pressed()
        lines = told(self.job.knowledge, self.job.tick())
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
        if self._typed and not line.strip():
            if self._by_line:
                return replace(self._carried_out(self._typed[:-1]), lines=passed.lines)
            self.drop()
            return replace(passed, lines=(*passed.lines, DROPPED))
        reply = self._carried_out((*self._typed, line))
        if reply.kind != "go-on":
            return reply
        return replace(reply, lines=(*passed.lines, *reply.lines), news=(*passed.news, *reply.news))

    def look(self, word: str) -> Reply:
        """Open the page that a word names; a question that is open stays open."""
        return self._shown(shown(self.job.knowledge, self.job.state, word, self.job.clock()))

    def weigh(self) -> Reply | None:
        """Let it be weighed whether checks still pay after the last answer, whose next step is on screen by now."""
        lines, news = told(self.job.knowledge, self.job.advise()), self._saving.news()
        return Reply(lines=tuple(lines), news=news) if lines or news else None

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
        typing = Typing(job.knowledge, job.state, job.clock(), job.who, job.trouble, job.unsaved)
        try:
            return self._carry_out(typing, lines)
        except TriageError as error:
            if job.state.step != step:
                self.drop()
            moved = job.state.step != step
            return Reply(lines=refusal_words(error), mark="NOT TAKEN", moved=moved, news=self._saving.news())

    def _carry_out(self, typing: Typing, lines: tuple[str, ...]) -> Reply:
        result = interpret(typing, lines)
        if isinstance(result, Leave):
            return Reply("leave", (self._saving.left(),))
        if isinstance(result, Watch):
            return Reply("watch")
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
        happened = told(typing.knowledge, self.job.do(result, advise=False))
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

    def left(self) -> str:
        """What to say to somebody who leaves."""
        return self._saving.left()

    def drop(self) -> None:
        """Forget what was typed for a command that still asks."""
        self._typed, self.question = (), ""
