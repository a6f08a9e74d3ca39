"""A part that was renewed before: which one, and at what odometer, so that its age is not taken for the vehicle's."""

from triage.errors import CommandRefused
from triage.knowledge.models import Knowledge
from triage.present.cleaning import clean_line
from triage.present.shapes import Choice
from triage.present.steps.costs_line import part_names
from triage.present.typing.choosing import chosen
from triage.present.typing.correcting import Stamp, numbered
from triage.present.typing.results import Ask, Result
from triage.session import commands as c
from triage.session.state import State
from triage.units import parse_quantity, say_quantity

NEVER = "never"
"""Takes a renewal back that was told by mistake."""


def renewal_told(knowledge: Knowledge, state: State, stamp: Stamp, lines: tuple[str, ...]) -> Result:
    """Which part, then the odometer, then the command.

    Raises:
        TriageError: a line was not understood, or the age of no part counts for anything.
    """
    names = part_names(knowledge)
    lasting = [*state.prices.lives, *(one.part for one in knowledge.circumstances.values() if one.part)]
    told_m = state.renewed_at_m
    choices = tuple(
        Choice(part, names[part] + (f": renewed before, at {_distance(told_m[part])}" if part in told_m else ""))
        for part in dict.fromkeys((*lasting, *told_m))
        if part in names
    )
    if not choices:
        raise CommandRefused("It is known of no part how long it lasts.", "Its age would change nothing here.")
    if not lines:
        return Ask(numbered("Which part was renewed before?", choices))
    part = chosen(choices, lines[0])
    if len(lines) == 1:
        withdrawn = f', or "{NEVER}"' if part in told_m else ""
        return Ask(clean_line(f"{names[part]}: at what odometer? A number (km), or with its unit{withdrawn}."))
    never = part in told_m and lines[1].strip().lower() == NEVER
    odometer_m = None if never else parse_quantity(lines[1], "distance").value
    return c.TellRenewal(at_ms=stamp[0], who=stamp[1], part=part, odometer_m=odometer_m)


def _distance(driven_m: float) -> str:
    return say_quantity(driven_m, "distance")
