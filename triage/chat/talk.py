"""The conversation: shows the step, takes lines until a command comes of them, says what happened."""

import shutil
from collections.abc import Callable
from typing import TYPE_CHECKING

from triage.app.job import Job
from triage.chat.lines import InputEndedError, Lines
from triage.errors import NotSaved, TriageError
from triage.present.cleaning import clean_line
from triage.present.commands import word_for
from triage.present.read_first import ENDS_A_RUN, NOT_READ, must_be_read
from triage.present.said.telling import DROPPED, TIME_PASSED, told
from triage.present.shapes import NOT_REVIEWED
from triage.present.steps.views import step_view
from triage.present.text import view_lines, wrapped
from triage.present.typing.interpreting import Typing, interpret
from triage.present.typing.results import Ask, Copy, Leave, Result, Show, Watch
from triage.present.typing.saving import NOT_SAVED_YET, NOTHING_TAKEN, Saving

if TYPE_CHECKING:
    from triage.record.steps import Step

COUNTED = (20, 10, 5, 4, 3, 2, 1)
"""Seconds left of a timed run at which the chat speaks."""
WIDEST = 88


class Talk:
    """One session in the plain chat."""

    def __init__(self, job: Job, lines: Lines, seconds: Callable[[], float]) -> None:
        """Take a session up.

        Args:
            job: the session.
            lines: where lines come from and go to.
            seconds: a clock that only moves forward, for the stopwatch.
        """
        self.job = job
        self._lines = lines
        self._seconds = seconds
        self._saving = Saving(job)
        self._shown: Step | None = None
        self._typed: tuple[str, ...] = ()
        self._refused: tuple[str, ...] = ()
        self._counted = 0

    def run(self) -> None:
        """Talk until the session is closed or left."""
        if not self.job.state.reviewer:
            self._say(NOT_REVIEWED)
        self._say('At any moment type "help". Every answer is saved as it is given.')
        try:
            while self._turn():
                pass
        except InputEndedError:
            self._say(f"The input has ended. {self._saving.left()}")

    def _turn(self) -> bool:
        if self.job.state.step != self._shown:
            self._typed = ()
            self._show()
        # Behind the step: that the engine is to be switched off comes first.
        self._say(*self._refused, *self._saving.news())
        self._refused = ()
        if self.job.state.closed:
            return False
        line = self._lines.read("> ", self._waiting)
        if line is None or (self._waiting() and not _leaves(line)):
            if self.job.state.step.kind not in ENDS_A_RUN:
                self._say(TIME_PASSED)
            return True
        state = self.job.state
        if self._lines.ahead and must_be_read(self.job.knowledge, state.step, line, self._typed):
            self._say(NOT_READ, step_view(self.job.knowledge, state).ask)
            return True
        return self._take(line)

    def _take(self, line: str) -> bool:
        job = self.job
        typing = Typing(job.knowledge, job.state, job.clock(), job.who, job.trouble, job.unsaved)
        lines = (*self._typed, line)
        if self._typed and not line.strip():
            self._typed = ()
            self._say(DROPPED)
            return True
        try:
            return self._carry_out(interpret(typing, lines), lines)
        except NotSaved:
            self._refused = (NOTHING_TAKEN,)
            self._saving.refused()
        except TriageError as error:
            self._say(*error.message.split("\n"), error.hint)
        return True

    def _carry_out(self, result: Result, lines: tuple[str, ...]) -> bool:
        """Do what lines came to, and say whether the talk goes on."""
        if isinstance(result, Ask):
            self._typed = lines
            self._say(*result.question.split("\n"))
            return True
        if isinstance(result, Watch):
            return self._watch()
        if isinstance(result, Copy):
            self._say(self._saving.copy(result))
        leaves = isinstance(result, Leave) or (isinstance(result, Copy) and result.leaves)
        self._typed = ()
        if leaves:
            self._say(self._saving.left())
        elif isinstance(result, Show):
            self._say(*result.lines)
            if result.record:
                self.job.do(result.record)
        elif not isinstance(result, Copy | Leave):
            self._say(*told(self.job.knowledge, self.job.do(result)))
            self._say(*([NOT_SAVED_YET] if self.job.unsaved else []))
        return not leaves

    def _watch(self) -> bool:
        self._say("Press Enter when it begins.")
        if self._lines.read("", self._waiting) is None:
            return True
        began = self._seconds()
        self._say("Running. Press Enter when it ends.")
        if self._lines.read("", self._waiting) is None:
            return True
        line = f"{self._seconds() - began:.1f} s"
        self._say(f"Stopwatch: {line}")
        if not step_view(self.job.knowledge, self.job.state).timed:
            return True
        return self._take(line)

    def _waiting(self) -> bool:
        """Let time pass, and say whether the step on screen has changed."""
        happened = self.job.tick()
        step = self.job.state.step
        self._say(*told(self.job.knowledge, happened))
        if step.kind == "run":
            left = max(0, -(-(step.until_ms - self.job.reading_ms()) // 1000))
            if left in COUNTED and left != self._counted:
                self._counted = left
                self._say(f"{left} s left")
        if step == self._shown:
            self._say(*self._saving.news())
        return step != self._shown

    def _show(self) -> None:
        self._shown = self.job.state.step
        width = min(shutil.get_terminal_size().columns, WIDEST) - 1
        self._say("", *view_lines(step_view(self.job.knowledge, self.job.state), width), fold=False)

    def _say(self, *texts: str, fold: bool = True) -> None:
        width = min(shutil.get_terminal_size().columns, WIDEST) - 1
        for text in texts:
            for line in wrapped(text, width) if fold and text else [text]:
                self._lines.say(clean_line(line))


def _leaves(line: str) -> bool:
    word = word_for(line)
    return word is not None and word.name == "leave"
