"""A digit that answers by itself: told from one that was typed ahead, scanned in, held down or bumped twice."""

import math
from dataclasses import dataclass, field
from weakref import WeakKeyDictionary

from textual.app import App
from textual.message import Message

from triage.present.read_first import MOMENT_S

AGAIN_S = 1.2
"""From memory: a key held down repeats for the first time within a second."""
MOST = 9
"""Answers that one digit can name."""


@dataclass
class Pressed:
    """What was pressed in a program, whichever of its screens was in front.

    Args:
        last_s: when each digit came last [s].
        answered_s: when a digit last answered [s]; the Enter typed behind it may arrive on the next screen.
    """

    last_s: dict[str, float] = field(default_factory=dict)
    answered_s: float = -math.inf

    def ends_answered(self, at_s: float) -> bool:
        """Whether Enter at `at_s` [s] only ends a digit that has answered already."""
        return at_s - self.answered_s < AGAIN_S


_PRESSED: WeakKeyDictionary[App[object], Pressed] = WeakKeyDictionary()


def pressed_in(app: App[object]) -> Pressed:
    """What was pressed in a program."""
    return _PRESSED.setdefault(app, Pressed())


def now_s() -> float:
    """The time now, on the clock that stamps keys when they arrive."""
    return Message().time


class OneKey:
    """Decides which digit answers at once; every other one is text like any other.

    A digit answers when answers have stood on the screen for a moment, and when the same key was not pressed just
    before. What has answered ends the offer, so that of many digits that arrive together one answers at most.
    """

    def __init__(self) -> None:
        """Have nothing on offer."""
        self._highest = 0
        self._painted_s = math.inf
        self._before: tuple[int, float] | None = None

    def offer(self, highest: int, painted_s: float) -> None:
        """Say that answers are on the screen now.

        Args:
            highest: the number of the last one; 0 or more than nine where no digit is to answer by itself.
            painted_s: when they were painted [s].
        """
        self._highest = highest if highest <= MOST else 0
        self._painted_s, self._before = painted_s, None

    def withdraw(self) -> None:
        """Take back what was offered: what is on the screen may be about to change."""
        if self._painted_s < math.inf:
            self._before = self._highest, self._painted_s
        self._highest, self._painted_s = 0, math.inf

    def forget(self) -> None:
        """Withdraw for good: something else is about to be painted."""
        self._highest, self._painted_s, self._before = 0, math.inf, None

    def restore(self) -> None:
        """Offer what was withdrawn again: it has stood there all the time."""
        if self._before:
            self._highest, self._painted_s = self._before

    def was_read(self, at_s: float) -> bool:
        """Whether what is on the screen had stood there for a moment at `at_s` [s]."""
        return at_s - self._painted_s >= MOMENT_S

    def takes(self, digit: str, at_s: float, pressed: Pressed) -> bool:
        """Whether a digit that arrived at `at_s` [s] may answer at once."""
        before_s = pressed.last_s.get(digit, -math.inf)
        pressed.last_s[digit] = at_s
        return 1 <= int(digit) <= self._highest and self.was_read(at_s) and at_s - before_s >= AGAIN_S
