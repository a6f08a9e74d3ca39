"""A step's view as plain lines, wrapped for the width at hand."""

import textwrap
from collections.abc import Iterable

from triage.present.cleaning import clean_line
from triage.present.shapes import StepView

NARROWEST = 30


def view_lines(view: StepView, width: int) -> list[str]:
    """The view as lines of at most `width` characters, in reading order.

    Args:
        view: the step.
        width: characters a line; never taken below 30.
    """
    lines = [clean_line(f"--- {view.title} ---")]
    if view.vehicle:
        lines += wrapped(f"Vehicle: {view.vehicle}", width)
    for line in view.lines:
        lines += wrapped(line, width)
    for warning in view.warnings:
        lines += wrapped(warning, width, "  ! ")
    for number, step in enumerate(view.steps, 1):
        lines += wrapped(step, width, f"  {number}. ")
    for fact in view.facts:
        lines += wrapped(fact, width, "  ")
    if view.ask:
        lines += ["", *wrapped(view.ask, width)]
    sign = "#" if view.measured else " "
    for number, choice in enumerate(view.choices, 1):
        lines += wrapped(choice.words, width, f" {sign}{number}  ")
    return lines


def wrapped(text: str, width: int, lead: str = "") -> list[str]:
    """One line folded, with a lead before its first row and that width before the others; as narrow as `view_lines`.

    Whatever would begin a new line in it is made visible: a text out of a trace must not pass for the next answer.
    """
    width = max(width, NARROWEST)
    behind = " " * len(lead)
    return textwrap.wrap(clean_line(text), width, initial_indent=lead, subsequent_indent=behind) or [lead]


def folded(lines: Iterable[str], width: int, lead: str = "") -> list[str]:
    """Lines of the program's own making, each folded; the lead stands before the first."""
    rows: list[str] = []
    for line in lines:
        rows += wrapped(line, width, lead)
        lead = " " * len(lead)
    return rows
