"""The ways to a reading in words: what to type, how it is worked out, with which instruments and how sure they are."""

from collections.abc import Mapping

from triage.drive.bay.formulas import FORMULAS
from triage.knowledge.models import Knowledge, Reading, Way
from triage.record.readings import AccuracyUsed
from triage.units import KINDS, say_quantity


def ways_lines(reading: Reading, unit: str) -> list[str]:
    """What to type, where that is more than one quantity; what a calculated way leaves open.

    Args:
        reading: the reading.
        unit: in which its limits are shown.
    """
    if len(reading.ways) == 1:
        return [f"Asked one after the other: {_asks(reading.ways[0])}"] if len(reading.parts) > 1 else []
    lines = ["Type one of these, with its unit:"]
    for way in reading.ways:
        then = f", then {_asks(way, 1)}" if len(way.parts) > 1 else ""
        first = way.parts[0]
        lines += [f"- {first.ask} ({unit if way.formula is None else KINDS[first.kind].usual}){then}", *caveat(way)]
    return lines


def _asks(way: Way, first: int = 0) -> str:
    return "; ".join(part.ask for part in way.parts[first:])


def caveat(way: Way) -> list[str]:
    """How far a calculated way can be trusted."""
    formula = FORMULAS.get(way.formula or "")
    return [formula.limits] if formula else []


def worked_out_lines(knowledge: Knowledge, reading: Reading) -> list[str]:
    """The formulas behind a reading, each with its source."""
    formulas = [FORMULAS[way.formula] for way in reading.ways if way.formula in FORMULAS]
    titles = {key: source.title for key, source in knowledge.sources.items()}
    return [f"{one.title}: {one.text} ({titles.get(one.source, one.source)})" for one in formulas]


def instruments(way: Way) -> tuple[str, ...]:
    """The ids of what a way is measured with."""
    return tuple(dict.fromkeys(part.instrument or way.instrument for part in way.parts if not part.as_typed))


def instruments_words(
    knowledge: Knowledge, accuracies: Mapping[str, AccuracyUsed], reading: Reading | None, way_id: str
) -> str:
    """What a reading was made with, one way of it."""
    way = next((way for way in reading.ways if way.id == way_id), None) if reading else None
    used = instruments(way) if way else ()
    return "with " + " and ".join(instrument_words(knowledge, accuracies, tool) for tool in used) if used else ""


def instrument_words(knowledge: Knowledge, accuracies: Mapping[str, AccuracyUsed], tool_id: str) -> str:
    """An instrument with the deviation that this session allows it, and whose figure that is."""
    tool, used = knowledge.tools.get(tool_id), accuracies.get(tool_id)
    if tool is None:
        return tool_id
    widths = [f"{used.relative * 100:.3g} % of the reading"] if used and used.relative else []
    if used and used.absolute and tool.measures:
        widths.append(say_quantity(used.absolute, tool.measures))
    if used is None or not widths:
        return f"{tool.name}, no deviation known"
    source = knowledge.sources.get(used.source)
    return f"{tool.name} ±{' and ±'.join(widths)} ({source.title if source else used.source})"
