"""What comes of a typed line, and of time that passes: the face's side of a session, without a screen."""

from dataclasses import dataclass
from typing import Literal

from triage.app.job import Job
from triage.errors import TriageError
from triage.present.interpreting import Typing, interpret
from triage.present.recording import shown
from triage.present.results import Ask, Leave, Show, Watch
from triage.present.telling import DROPPED, TIME_PASSED, told


@dataclass(frozen=True)
class Reply:
    """What to do now.

    Args:
        kind: whether to go on, open a page, open the stopwatch, or leave.
        lines: what to say, or the page.
        mark: what became of the line that was typed, in a word or two; empty where none was.
    """

    kind: Literal["go-on", "page", "watch", "leave"] = "go-on"
    lines: tuple[str, ...] = ()
    mark: Literal["", "SAVED", "NOT TAKEN"] = ""


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

    def pass_time(self) -> Reply | None:
        """Let time pass.

        Returns:
            What to say where the step on screen has changed or the trace could not be written, else None.
        """
        before = self.job.state.step
        try:
            self.job.tick()
        except TriageError as error:
            return Reply(lines=_both(error))
        if self.job.state.step == before:
            return None
        self._drop()
        return Reply(lines=(TIME_PASSED,))

    def take(self, line: str) -> Reply:
        """Take a line that was typed for the step on screen."""
        passed = self.pass_time()
        if passed:
            return passed
        if self._typed and not line.strip():
            self._drop()
            return Reply(lines=(DROPPED,))
        typing = Typing(self.job.knowledge, self.job.state, self.job.clock(), self.job.who)
        try:
            return self._carry_out(typing, (*self._typed, line))
        except TriageError as error:
            return Reply(lines=_both(error), mark="NOT TAKEN")

    def look(self, word: str) -> Reply:
        """Open the page that a word names; a question that is open stays open."""
        return self._shown(shown(self.job.knowledge, self.job.state, word, self.job.clock()))

    @property
    def typed(self) -> tuple[str, ...]:
        """The lines typed so far for a command that still asks."""
        return self._typed

    def waits_after(self, *lines: str) -> bool:
        """Whether these lines, and no more, were typed for a command that still asks."""
        return self._typed == lines

    def _carry_out(self, typing: Typing, lines: tuple[str, ...]) -> Reply:
        result = interpret(typing, lines)
        if isinstance(result, Leave):
            return Reply("leave")
        if isinstance(result, Watch):
            return Reply("watch")
        if isinstance(result, Show):
            self._drop()
            return self._shown(result)
        if isinstance(result, Ask):
            self._typed, self.question = lines, result.question
            return Reply()
        self._drop()
        return Reply(lines=tuple(told(typing.knowledge, self.job.do(result))), mark="SAVED")

    def _shown(self, page: Show) -> Reply:
        if page.record:
            try:
                self.job.do(page.record)
            except TriageError as error:
                return Reply("page", (*page.lines, *_both(error)))
        return Reply("page", page.lines)

    def _drop(self) -> None:
        self._typed, self.question = (), ""


def _both(error: TriageError) -> tuple[str, ...]:
    return tuple(text for text in (error.message, error.hint) if text)
