"""A step's view as plain lines, wrapped for the width at hand."""

import textwrap

from triage.present.shapes import StepView

NARROWEST = 30


def view_lines(view: StepView, width: int) -> list[str]:
    """The view as lines of at most `width` characters, in reading order.

    Args:
        view: the step.
        width: characters a line; never taken below 30.
    """
    lines = [f"--- {view.title} ---"]
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
    """Text as lines with a lead before the first and its width before the others; as narrow as `view_lines`."""
    width = max(width, NARROWEST)
    folded: list[str] = []
    for line in text.splitlines() or [""]:
        folded += textwrap.wrap(line, width, initial_indent=lead, subsequent_indent=" " * len(lead)) or [lead]
        lead = " " * len(lead)
    return folded
