"""Every figure is a quantity that the program can read.

**Why.** A figure that cannot be read would stop a session in the middle, at the vehicle.

**Passes.** `relative: {text: 4 %, …}`; `absolute:` as a quantity of what the tool measures; `lives`, `run_limit`
and `cold_after` of a vehicle state, `hours` of an access or a remedy, `minutes` of a round as times; `typical` of a
torque as a torque, also as a range; `life` of a circumstance as a distance; what a reading is `allowed` below zero as a
quantity of its kind; what a tool `reads_from` and `reads_to`, and the `least`, the `most` and the `stop` of a reading
and its parts.

**Fails.** `relative: {text: four percent}`, `lives: {text: 15 mm}`, or an `absolute` deviation of a tool that
measures nothing.
"""

from collections.abc import Iterator

from triage.errors import Fault, TriageError
from triage.knowledge.models import Figure, Knowledge, Reading, Refused
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
    yield from _of_tools(knowledge)
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
        if check.reading:
            yield from _expected(check.id, check.reading)
        if check.reading and isinstance(check.reading.below_zero, Refused):
            path = ("checks", check.id, "reading", "below_zero", "allowed")
            yield from _given(path, check.reading.below_zero.allowed, check.reading.kind)
    yield from _of_work(knowledge)


def _of_work(knowledge: Knowledge) -> Iterator[tuple[Path, Figure, str]]:
    for access in knowledge.accesses.values():
        yield from _given(("accesses", access.id, "hours"), access.hours, "time")
    for one in knowledge.rounds.values():
        yield from _given(("rounds", one.id, "minutes"), one.minutes, "time")


def _of_tools(knowledge: Knowledge) -> Iterator[tuple[Path, Figure, str]]:
    for tool in knowledge.tools.values():
        yield from _given(("tools", tool.id, "relative"), tool.relative, "number")
        for name in ("absolute", "reads_from", "reads_to"):
            yield from _given(("tools", tool.id, name), getattr(tool, name), tool.measures or "")


def _expected(check: str, reading: Reading) -> Iterator[tuple[Path, Figure, str]]:
    """Yield what is asked back of a reading, of what comes out of it and of its parts."""
    at: Path = ("checks", check, "reading")
    yield from _given((*at, "most"), reading.most, reading.kind)
    ways = (
        (at, reading.parts),
        *(((*at, "other_ways", place), way.parts) for place, way in enumerate(reading.other_ways)),
    )
    for where, parts in ways:
        for position, part in enumerate(parts):
            for name in ("least", "most", "stop"):
                yield from _given((*where, "parts", position, name), getattr(part, name), part.kind)


def _given(path: Path, figure: Figure | None, kind: str) -> Iterator[tuple[Path, Figure, str]]:
    if figure is not None:
        yield path, figure, kind
