"""Every figure is a quantity that the program can read.

**Why.** A figure that cannot be read would stop a session in the middle, at the vehicle.

**Passes.** `relative: {text: 4 %, …}`; `absolute:` as a quantity of what the tool measures; `lives`, `run_limit`
and `cold_after` of a vehicle state, `hours` of an access or a remedy, `minutes` of a round as times; `typical` of a
torque as a torque, also as a range; `life` of a circumstance as a distance; what a reading is `allowed` below zero as a
quantity of its kind.

**Fails.** `relative: {text: four percent}`, `lives: {text: 15 mm}`, or an `absolute` deviation of a tool that
measures nothing.
"""

from collections.abc import Iterator

from triage.errors import Fault, TriageError
from triage.knowledge.models import Figure, Knowledge, Refused
from triage.knowledge.origins import Origins, Path
from triage.units import KINDS, parse_quantity


def find(knowledge: Knowledge, origins: Origins) -> Iterator[Fault]:
    """Name every figure that is no quantity of its kind."""
    for path, figure, kind in _figures(knowledge):
        place = origins.place(*path, "text")
        if kind not in KINDS:
            if kind == "":
                yield Fault(place, "The tool has a deviation but measures nothing.", "Add 'measures:' and a kind.")
            continue
        try:
            unit = parse_quantity(figure.text, kind).unit
        except TriageError as error:
            yield Fault(place, error.message, error.hint)
            continue
        if kind == "number" and unit != "%":
            yield Fault(place, f"'{figure.text}' is no percentage.", "Write it like 4 %.")


def _figures(knowledge: Knowledge) -> Iterator[tuple[Path, Figure, str]]:
    """Yield path, figure and kind of each, the zones of readings aside."""
    for tool in knowledge.tools.values():
        yield from _given(("tools", tool.id, "relative"), tool.relative, "number")
        yield from _given(("tools", tool.id, "absolute"), tool.absolute, tool.measures or "")
    for state in knowledge.states.values():
        for name in ("lives", "run_limit", "cold_after"):
            yield from _given(("states", state.id, name), getattr(state, name), "time")
    for remedy in knowledge.remedies.values():
        for position, torque in enumerate(remedy.torques):
            yield from _given(("remedies", remedy.id, "torques", position, "typical"), torque.typical, "torque")
        yield from _given(("remedies", remedy.id, "hours"), remedy.hours, "time")
    for circumstance in knowledge.circumstances.values():
        yield from _given(("circumstances", circumstance.id, "life"), circumstance.life, "distance")
    for check in knowledge.checks.values():
        if check.reading and isinstance(check.reading.below_zero, Refused):
            path = ("checks", check.id, "reading", "below_zero", "allowed")
            yield from _given(path, check.reading.below_zero.allowed, check.reading.kind)
    yield from _of_work(knowledge)


def _of_work(knowledge: Knowledge) -> Iterator[tuple[Path, Figure, str]]:
    for access in knowledge.accesses.values():
        yield from _given(("accesses", access.id, "hours"), access.hours, "time")
    for one in knowledge.rounds.values():
        yield from _given(("rounds", one.id, "minutes"), one.minutes, "time")


def _given(path: Path, figure: Figure | None, kind: str) -> Iterator[tuple[Path, Figure, str]]:
    if figure is not None:
        yield path, figure, kind
