"""What needs no session: the bay's arithmetic, and what a layout's drive does. Asked line by line, then a page."""

from collections.abc import Callable, Mapping
from types import MappingProxyType
from typing import Final

from triage.app.shop.own_layouts import layout_file
from triage.knowledge.models import Knowledge
from triage.present.pages.drive_page import layout_page
from triage.present.typing.driving import WHICH_LAYOUT
from triage.present.typing.entering import NEW, entered
from triage.present.typing.results import Ask
from triage.present.typing.tooling import worked_out

Lines = Callable[[int], tuple[str, ...]]
"""A page for a width in characters."""


def tool(knowledge: Knowledge, lines: tuple[str, ...]) -> Ask | Lines:
    """The next question of a tool, or the page with its result.

    Raises:
        TriageError: there is no such tool, or a value cannot be.
    """
    came = worked_out(knowledge, lines)
    return came if isinstance(came, Ask) else lambda _width: came.lines


def drive(_knowledge: Knowledge, lines: tuple[str, ...]) -> Ask | Lines:
    """Which layout, then drawing and figures of its drive.

    Raises:
        TriageError: there is no such layout, it has faults, or its belt cannot run.
    """
    if not lines:
        return Ask(WHICH_LAYOUT)
    if lines[0].strip().lower() == NEW:
        return layout(_knowledge, lines[1:])
    from triage.drive.layout.placement import read_layout

    file = layout_file(lines[0].strip())
    named = read_layout(file)
    layout_page(file.stem, named)  # what cannot be is said before a page is opened
    return lambda width: tuple(layout_page(file.stem, named, width))


def layout(_knowledge: Knowledge, lines: tuple[str, ...]) -> Ask | Lines:
    """Question after question, then drawing and figures of the drive that was entered and saved.

    Raises:
        TriageError: a line was not understood, or the layout cannot be saved.
    """
    came = entered(lines)
    if isinstance(came, Ask):
        return came
    return lambda width: tuple(layout_page(came.name, came.layout, width))


WITHOUT_SESSION: Final[Mapping[str, Callable[[Knowledge, tuple[str, ...]], Ask | Lines]]] = MappingProxyType(
    {"drive": drive, "layout": layout, "tool": tool}
)
