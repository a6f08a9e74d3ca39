"""From typed parts to a judged reading: formula, instrument, limits, verdict.

A reading is judged per boundary at 95 %. Where a boundary is too close to call, one more measurement is asked for; the
mean of both then follows the likelier side, and the verdict says that it was close.

Source: jcgm-106
"""

import math
from dataclasses import dataclass

from triage.drive.bay.formulas import FORMULAS, evaluate
from triage.errors import CommandRefused
from triage.knowledge.models import Check, Part, Reading, Way
from triage.reasoning.conformity import judge
from triage.record.readings import TypedPart, Verdict
from triage.session.state import State
from triage.units import parse_quantity, say_quantity, standard_uncertainty

FIGURES = 9
"""Significant figures kept in the trace."""


@dataclass(frozen=True)
class Limit:
    """One boundary of a reading: SI value and whose figure it is."""

    value: float
    source: str


def limits_of(reading: Reading, state: State) -> tuple[Limit, ...]:
    """The boundaries that count for this job; the vehicle maker's figure wins over the default."""
    limits = []
    for zone in reading.zones:
        if zone.below is None:
            continue
        maker = state.maker.get(zone.figure or "")
        default = Limit(parse_quantity(zone.below.text, reading.kind).value, zone.below.source)
        limits.append(Limit(maker.value, f"maker: {maker.reference}") if maker else default)
    return tuple(limits)


def way_of(reading: Reading, parts: tuple[TypedPart, ...]) -> Way | None:
    """The way to a reading that takes these parts, in this order; None where there is none."""
    typed = [part.part for part in parts]
    return next((way for way in reading.ways if [part.id for part in way.parts] == typed), None)


def judged(check: Check, state: State, parts: tuple[TypedPart, ...]) -> tuple[Verdict, str]:
    """Judge a reading of a check.

    Args:
        check: a check with a reading.
        state: gives instrument, maker figures and a first measurement.
        parts: one for each part of one of the reading's ways, in its order; they choose the way.

    Returns:
        The verdict, and the outcome id; "" where it is too close to call and one more measurement is due.

    Raises:
        CommandRefused: the check has no reading, its parts are not these, or it cannot lie so far below zero.
    """
    reading = check.reading
    if reading is None:
        raise CommandRefused("This check has no reading.", "Answer with one of its outcomes.")
    way = way_of(reading, parts)
    if way is None:
        wanted = "; or ".join(", ".join(part.ask for part in way.parts) for way in reading.ways)
        raise CommandRefused("The reading is not complete.", f"It needs: {wanted}.")
    measured, uncertainty = _measured(way, state, parts)
    value = _zero_minded(reading, measured)
    first = state.first_readings.get(check.id)
    if first and first.verdict:
        value = (value + first.verdict.value) / 2
    limits = limits_of(reading, state)
    found = judge(value, uncertainty, [limit.value for limit in limits])
    verdict = Verdict(
        value=_rounded(value),
        uncertainty=_rounded(uncertainty),
        probabilities=tuple(round(probability, 6) for probability in found.probabilities),
        margin=_rounded(found.margins[found.nearest]),
        limit=_rounded(limits[found.nearest].value),
        limit_source=limits[found.nearest].source,
        settled=found.settled,
    )
    decided = found.settled or first is not None
    return verdict, reading.zones[found.zone].outcome if decided else ""


def _zero_minded(reading: Reading, value: float) -> float:
    below_zero = reading.below_zero
    if below_zero is None:
        return value
    if isinstance(below_zero, str):
        return abs(value)
    allowed = parse_quantity(below_zero.allowed.text, reading.kind) if below_zero.allowed else None
    if value < -(allowed.value if allowed else 0.0):
        said = say_quantity(value, reading.kind, allowed.unit if allowed else "")
        raise CommandRefused(f"{said}: {below_zero.why}", below_zero.instead)
    return value


def _measured(way: Way, state: State, parts: tuple[TypedPart, ...]) -> tuple[float, float]:
    uncertainties = [_uncertainty(way, part, state, typed) for part, typed in zip(way.parts, parts, strict=True)]
    if way.formula is None:
        return parts[0].value, uncertainties[0]
    formula = FORMULAS.get(way.formula)
    if formula is None or [part.kind for part in way.parts] != [part.kind for part in formula.parts]:
        message = f"This program has no formula '{way.formula}' for such a reading."
        raise CommandRefused(message, "Answer with one of the outcomes, and mend the check.")
    return evaluate(way.formula, [part.value for part in parts], uncertainties)


def _uncertainty(way: Way, part: Part, state: State, typed: TypedPart) -> float:
    # Nobody held an instrument to what was taken from a sheet or a layout.
    measured = not part.as_typed and not typed.source
    accuracy = state.accuracies.get(part.instrument or way.instrument) if measured else None
    relative = accuracy.relative if accuracy else 0.0
    absolute = accuracy.absolute if accuracy else 0.0
    return standard_uncertainty(relative * typed.value, absolute, typed.spread)


def _rounded(value: float) -> float:
    if value == 0.0 or not math.isfinite(value):
        return 0.0
    return float(f"{value:.{FIGURES}g}")
