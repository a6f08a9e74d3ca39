"""Short remarks beside a check: minutes, tools, what can be typed, limits with their sources, the drive at hand."""

from triage.knowledge.models import Check, Knowledge, Reading
from triage.present.steps.coasting import COASTING, coast_contradictions, coast_lines
from triage.present.steps.drive_facts import drive_facts
from triage.present.steps.limits import say_limits, unit_shown
from triage.present.steps.ways import ways_lines
from triage.session.judging import limits_of
from triage.session.state import State
from triage.units import parse_quantity, say_quantity


def check_facts(knowledge: Knowledge, state: State, check: Check) -> tuple[str, ...]:
    """Everything to say beside a check, in the order to show it."""
    facts = [f"About {check.minutes:g} min" + (f", {check.people} people" if check.people > 1 else "")]
    facts.extend(tools_line(knowledge, check))
    if check.reading:
        facts.extend(
            (*ways_lines(check.reading, unit_shown(check.reading, state)), *say_limits(knowledge, state, check))
        )
        facts.extend(_layout_below(check.reading, state))
    coasting = (*coast_lines(state), *coast_contradictions(state)) if check.id in COASTING else ()
    return (*facts, *drive_facts(check.id, state), *coasting)


def tools_line(knowledge: Knowledge, check: Check) -> tuple[str, ...]:
    """The tools of a check on one line, none where it needs none."""
    names = ", ".join(knowledge.tools[tool].name for tool in check.tools)
    return (f"Tools: {names}",) if names else ()


def _layout_below(reading: Reading, state: State) -> tuple[str, ...]:
    """That the layout's own tension lies in the lowest zone, where each rib's force is read; else nothing."""
    used, limits = state.layout, limits_of(reading, state)
    by_rib = reading.kind == "force" and any(part.from_layout == "ribs" for way in reading.ways for part in way.parts)
    if used is None or not by_rib or not limits or used.layout.tension is None or not used.layout.belt.ribs:
        return ()
    rib_n = parse_quantity(used.layout.tension, "force").value / used.layout.belt.ribs
    if rib_n >= limits[0].value:
        return ()
    own, limit = say_quantity(rib_n, "force"), say_quantity(limits[0].value, "force")
    said = f"The tension in the layout {used.name} is {own} a rib, below the limit of {limit} a rib used here"
    given = limits[0].source.startswith("maker")
    return (f"{said}." if given else f'{said}; the maker\'s figure is entered with "figure".',)
