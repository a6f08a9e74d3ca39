"""The conversation: shows the step, takes lines until a command comes of them, says what happened."""

import shutil
from collections.abc import Callable
from typing import TYPE_CHECKING

from triage.app.drive_runs import Outcome
from triage.app.job import Job
from triage.app.long_work import LongWork
from triage.chat.lines import POLL_S, InputEndedError, Lines
from triage.present.cleaning import clean_line
from triage.present.commands import word_for
from triage.present.read_first import NOT_READ
from triage.present.shapes import NOT_REVIEWED
from triage.present.text import view_lines, wrapped
from triage.present.typing.exchange import Exchange, Reply
from triage.present.typing.saving import trouble_words

if TYPE_CHECKING:
    from triage.record.steps import Step

COUNTED = (20, 10, 5, 4, 3, 2, 1)
"""Seconds left of a timed run at which the chat speaks."""
WIDEST = 88
SAID_SHARE = 0.2
"""How much further long work is when it is said again."""


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
        self._exchange = Exchange(job)
        self._shown: Step | None = None
        self._behind: tuple[str, ...] = ()
        self._counted = 0

    def run(self) -> None:
        """Talk until the session is closed or left."""
        if not self.job.state.reviewer:
            self._say(NOT_REVIEWED)
        self._say('At any moment type "help". Every answer is saved as it is given.')
        try:
            self._hear(self._exchange.weigh())
            while self._turn():
                pass
        except InputEndedError:
            self._say(f"The input has ended. {self._exchange.left()}")

    def _turn(self) -> bool:
        if self.job.state.step != self._shown:
            if not self._exchange.proposes:
                self._exchange.drop()
            self._show()
        # Behind the step: that the engine is to be switched off comes first.
        behind, self._behind = self._behind, ()
        self._say(*behind)
        if self.job.state.closed:
            return False
        self._propose()
        line = self._lines.read("> ", self._waiting)
        if line is None or (self._waiting() and not _leaves(line)):
            return True
        if self._lines.ahead and self._exchange.must_be_read(line):
            self._say(NOT_READ, self._exchange.question if self._exchange.proposes else self._exchange.view.ask)
            return True
        return self._take(line)

    def _take(self, line: str) -> bool:
        """Do what a line comes to, and say whether the talk goes on."""
        reply = self._exchange.take(line)
        if reply.kind == "watch":
            return self._watch()
        if reply.work:
            reply = self._exchange.finished(self._ended(reply.work.words, reply.work.begin()))
        self._hear(reply)
        if reply.kind == "go-on" and not reply.mark and not self._exchange.proposes:
            self._say(*self._exchange.question.split("\n") if self._exchange.question else ())
            if self._exchange.picked:
                self._show()
        self._hear(self._exchange.weigh())
        return reply.kind != "leave"

    def _propose(self) -> None:
        """Say what waits for a yes, below the step that it was said at."""
        if self._exchange.proposes:
            self._say(*self._exchange.question.split("\n"))

    def _hear(self, reply: Reply | None) -> None:
        """Say a reply at once; behind the next step what could not be taken for want of saving, and news of that."""
        if reply is None:
            return
        if reply.page:
            self._say(*reply.page(self._width), fold=False)
        refused = reply.mark == "NOT TAKEN"
        if refused and self.job.trouble:
            self._behind += (*reply.lines, trouble_words(self.job.trouble))
            return
        # Of refusals alone the lines are our own: a line that a text of the trees would begin stays within its row.
        self._say(*(line for text in reply.lines for line in (text.split("\n") if refused else [text])))
        self._behind += reply.news

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
        if not self._exchange.view.timed:
            return True
        return self._take(line)

    def _ended(self, words: str, work: LongWork[Outcome]) -> LongWork[Outcome]:
        """Wait for long work and say how far it is; Ctrl-C stops it, and so does a step that has become another one."""
        self._say(f"Working out {words}. Ctrl-C stops it.")
        said = 0.0
        try:
            while not work.wait(POLL_S):
                if work.share >= said + SAID_SHARE:
                    said = work.share
                    self._say(f"{said:.0%} done")
                if self._waiting():
                    break
        except KeyboardInterrupt:
            pass
        work.stop()
        while not work.wait(POLL_S):
            pass
        return work

    def _waiting(self) -> bool:
        """Let time pass, and say whether the step on screen has changed."""
        self._hear(self._exchange.pass_time())
        step = self.job.state.step
        if step.until_ms:
            left = max(0, -(-(step.until_ms - self.job.reading_ms()) // 1000))
            if left in COUNTED and left != self._counted:
                self._counted = left
                self._say(f"{left} s left")
        if step == self._shown:
            behind, self._behind = self._behind, ()
            self._say(*behind)
        return step != self._shown

    def _show(self) -> None:
        self._shown = self.job.state.step
        self._say("", *view_lines(self._exchange.view, self._width), fold=False)

    @property
    def _width(self) -> int:
        return min(shutil.get_terminal_size().columns, WIDEST) - 1

    def _say(self, *texts: str, fold: bool = True) -> None:
        width = self._width
        for text in texts:
            for line in wrapped(text, width) if fold and text else [text]:
                self._lines.say(clean_line(line))


def _leaves(line: str) -> bool:
    word = word_for(line)
    return word is not None and word.name == "leave"
