"""How the step on screen is laid out: what is pinned, what scrolls, and how large a window it needs."""

import textwrap
from collections.abc import Mapping
from dataclasses import dataclass, replace
from types import MappingProxyType
from typing import Any, Final, Literal

from triage.present.read_first import ALONE, ENDS_A_RUN
from triage.present.shapes import StepView
from triage.present.text import NARROWEST, folded, view_lines, wrapped
from triage.tui.guard import FEWEST_COLUMNS
from triage.tui.marked import numbered

Room = Literal["roomy", "tight", "small"]
BESIDE: Final[Mapping[Room, int]] = MappingProxyType({"roomy": 4, "tight": 2, "small": 1})
"""Rows that the step leaves to bar, one row of what was said, line and words; to bar and line; to the line."""
BORDER_ROWS = 2
BESIDE_COLUMNS = 4
"""Border and an empty column on both sides."""
BAR_COLUMNS = 1
"""What stands beside rows that scroll."""
TITLE_COLUMNS = 4
"""Columns of the border that its title cannot have."""
MOST_TOLD = 3
"""Rows under the answers for what came of the last line."""
READ_ON = "  … read on: PgDn PgUp"
LEAST_READ = 3
"""Rows that what scrolls must keep, that it goes on included, for hazards to stay in view below it."""
AIRY = 2
"""Answers stand apart by an empty row where the step then still takes no more than one in this many rows."""
_ONLY_READ: dict[str, Any] = {"ask": "", "choices": (), "warnings": ()}


@dataclass(frozen=True)
class Asked:
    """What is to be laid out.

    Args:
        view: the step.
        kind: its kind.
        question: what is asked on top of it; empty where the step itself is to be answered.
        is_word: whether all of it must have been read before it is answered.
        left: what is left of a timed run; empty where none runs.
        trouble: that nothing can be saved, and what to do; empty where all is saved.
        mark: what became of the last line, in a word or two.
        told: what came of the last line.
    """

    view: StepView
    kind: str = ""
    question: str = ""
    is_word: bool = False
    left: str = ""
    trouble: str = ""
    mark: str = ""
    told: tuple[str, ...] = ()

    @property
    def words(self) -> str:
        """What is asked now."""
        return self.question or self.view.ask

    def reading(self, width: int) -> list[str]:
        """What is read before the hazards."""
        return [] if self.question else view_lines(replace(self.view, **_ONLY_READ), width)[1:]

    def hazards(self, width: int) -> list[str]:
        """What can hurt."""
        return [line for hazard in self.view.warnings for line in wrapped(hazard, width, "  ! ")]

    def title(self, width: int) -> list[str]:
        """The title, where the border has no room for it."""
        fits = len(self.view.title) + TITLE_COLUMNS <= width
        return [] if fits or self.question else wrapped(self.view.title, width)

    def asking(self, width: int, apart: str = "\n") -> list[str]:
        """Time left, title, question and answers."""
        lines = [*([self.left] if self.left else []), *self.title(width)]
        lines += ["", *folded(self.words.split("\n"), width)] if self.words else []
        if self.question:
            return lines
        answers = numbered(
            tuple(choice.words for choice in self.view.choices), width, "#" if self.view.measured else " ", apart
        )
        return [*lines, *([""] if apart.count("\n") > 1 and answers else []), *answers]

    def troubled(self, width: int, rows: int) -> list[str]:
        """That nothing can be saved, shortened to some rows, one at least."""
        most = max(1, min(rows, MOST_TOLD))
        return _shortened(wrapped(self.trouble, width, "  ! "), width, most) if self.trouble else []

    def telling(self, width: int) -> list[str]:
        """What came of the last line, shortened."""
        rows = folded(self.told, width, f"{self.mark} · " if self.mark else "  ")
        return _shortened(rows, width, MOST_TOLD)


def _shortened(rows: list[str], width: int, most: int) -> list[str]:
    if len(rows) <= most:
        return rows
    last = rows[most - 1]
    fitting = last if len(last) + 2 <= width else last[: width - 1].rpartition(" ")[0]
    return [*rows[: most - 1], f"{fitting} …"]


@dataclass(frozen=True)
class Laid:
    """A step laid out.

    Args:
        room: what stands beside it.
        reading: rows that scroll.
        pinned: rows that are always in view.
        free: rows in view of those that scroll.
        must: rows that must have been in view before the step is answered.
        fits: whether question and answers are all in view at once.
        crowded: whether there was no row for what came of the last line.
    """

    room: Room = "roomy"
    reading: tuple[str, ...] = ()
    pinned: tuple[str, ...] = ()
    free: int = 1
    must: frozenset[str] = frozenset()
    fits: bool = True
    crowded: bool = False

    @property
    def scrolls(self) -> bool:
        """Whether some of it is out of view."""
        return len(self.reading) > self.free


def lay(asked: Asked, width: int, rows: int) -> Laid:
    """Lay a step out; where the window is short, what was said and the words at the bottom give way to it.

    Args:
        asked: the step.
        width: characters a line.
        rows: rows of the window.
    """
    roomy = _laid(asked, width, rows - BESIDE["roomy"] - BORDER_ROWS)
    if roomy.fits and not (asked.kind in ALONE and roomy.scrolls):
        return roomy
    tight = _laid(asked, width, rows - BESIDE["tight"] - BORDER_ROWS)
    if tight.fits:
        return replace(tight, room="tight")
    return replace(tight, room="small") if asked.is_word else roomy


def _laid(asked: Asked, width: int, most: int) -> Laid:
    most = max(1, most)
    reading, hazards = asked.reading(width), asked.hazards(width)
    asking = asked.asking(width, apart="\n\n")
    if len(reading) + len(hazards) + len(asking) > most // AIRY:
        asking = asked.asking(width)
    if len(reading) + len(hazards) + len(asking) + bool(asked.trouble) > most:
        asking = [line for line in asking if line]
    needed = len(asking) + bool(reading or hazards)
    fits = width > NARROWEST and needed + bool(asked.trouble) <= most
    room = max(0, most - needed)
    told = _under(asked, width, room, most - len(reading) - len(hazards) - len(asking))
    pinned = [*hazards, *asking, *told]
    if len(reading) + len(pinned) > most:
        reading = asked.reading(width - BAR_COLUMNS)
    if len(pinned) + min(len(reading), LEAST_READ) > most:
        hazards = asked.hazards(width - BAR_COLUMNS)
        reading, pinned = [*hazards, *reading], [*asking, *told]
    if not fits and len(pinned) >= most:
        asking = [line for line in asked.asking(width - BAR_COLUMNS) if line]
        reading, pinned = [*reading, *asking, *told], []
    if len(reading) + len(pinned) > most > len(pinned) + 1:
        pinned = [READ_ON, *pinned]
    must = frozenset((*hazards, *(line for line in asking if line and line != asked.left)))
    crowded = len(told) < len(asked.telling(width)) + bool(asked.trouble)
    return Laid("roomy", tuple(reading), tuple(pinned), max(1, most - len(pinned)), must, fits, crowded)


def _under(asked: Asked, width: int, room: int, spare: int) -> list[str]:
    """What stands under the answers: what cannot be saved, in one row at least, then what came of the last line.

    Args:
        asked: the step.
        width: characters a line.
        room: rows that question and answers leave.
        spare: rows that all of the step leaves.
    """
    told = asked.telling(width)[: max(0, (spare if asked.kind in ALONE else room) - bool(asked.trouble))]
    return [*asked.troubled(width, spare - len(told)), *told] if room else []


def fewest_rows(asked: Asked, width: int) -> int:
    """How many rows a window must have for a step, at a width of its text."""
    asking = [line for line in asked.asking(width) if line]
    rest = asked.reading(width) or asked.hazards(width)
    return len(asking) + bool(rest) + bool(asked.trouble) + BORDER_ROWS + BESIDE["tight"]


def too_small(asked: Asked, width: int, columns: int) -> tuple[str, ...]:
    """Say how large the window must be for a step, in a sentence and in fewer and fewer words.

    Args:
        asked: the step.
        width: characters a line of its text.
        columns: columns of the window.
    """
    across = max(FEWEST_COLUMNS, columns)
    down = fewest_rows(asked, max(width, FEWEST_COLUMNS - BESIDE_COLUMNS))
    off = "Switch the engine off now: 1 when it is off and all is still. " if asked.kind in ENDS_A_RUN else ""
    no = ', "no"' if asked.kind == "confirm" else ""
    larger = f"This window is too small for this step: make it {across} columns by {down} rows, or larger."
    return (
        f"{off}{larger} Until then it takes help, pause, leave{no}. {asked.trouble}".rstrip(),
        f"{off}Too small: make it {across} columns by {down} rows.",
        "Switch off. 1: all off" if off else f"Make window {across}x{down}",
    )


def small_rows(asked: Asked, width: int, columns: int, rows: int) -> list[str]:
    """What stands in a window that is too small for its step: as much of it as there is room for."""
    left = [asked.left if len(asked.left) <= columns else asked.left.split()[-1]] if asked.left else []
    sizes = [textwrap.wrap(text, max(1, columns)) for text in too_small(asked, width, columns)]
    fitting = [lines for lines in sizes if len(left) + len(lines) <= rows]
    return [*left, *(fitting or sizes[-1:])[0]][:rows]
