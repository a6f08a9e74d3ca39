"""From typed parts to a judged reading: formula, instrument, limits, verdict.

A reading is judged per boundary at 95 %. Where a boundary is too close to call, one more measurement is asked for, and
both are weighed together; where they do not agree, a third one is. What agrees then follows the likelier side, and the
verdict says where that was close.

Source: jcgm-106, jcgm-100
"""

import math
from dataclasses import dataclass

from triage.drive.bay.formulas import FORMULAS, evaluate
from triage.errors import CommandRefused
from triage.knowledge.models import Check, Part, Reading, Way
from triage.reasoning.conformity import judge
from triage.reasoning.repeats import Measured, that_agree, weighed
from triage.record.readings import MeasuredOnce, TypedPart, Verdict, said_of
from triage.session.state import Finding, State
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
        value = parse_quantity(zone.below.text, reading.kind).value * times_12_v(reading, state)
        default = Limit(value, zone.below.source)
        limits.append(Limit(maker.value, f"maker: {maker.reference}") if maker else default)
    return tuple(limits)


def times_12_v(reading: Reading, state: State) -> int:
    """How often the limits for 12 V go into those of this vehicle: one of 24 V has twice the cells."""
    return 2 if reading.of_12_v and state.facts.get("system_voltage") == "24" else 1


def way_of(reading: Reading, parts: tuple[TypedPart, ...]) -> Way | None:
    """The way to a reading that takes these parts, in this order; None where there is none."""
    typed = [part.part for part in parts]
    return next((way for way in reading.ways if [part.id for part in way.parts] == typed), None)


@dataclass(frozen=True)
class Judged:
    """What a reading comes to with those before it.

    Args:
        verdict: of all that agree; of this one alone where they do not.
        outcome: its id; "" where one more measurement is due.
        by_itself: this one alone.
        weighed: the readings that count together, as typed; empty where this is the only one or they do not agree.
        apart: those that do not agree with them, or with this one.
    """

    verdict: Verdict
    outcome: str
    by_itself: MeasuredOnce
    weighed: tuple[str, ...] = ()
    apart: tuple[str, ...] = ()


def judged(check: Check, state: State, parts: tuple[TypedPart, ...]) -> Judged:
    """Judge a reading of a check.

    Args:
        check: a check with a reading.
        state: gives instrument, maker figures and the measurements before.
        parts: one for each part of one of the reading's ways, in its order; they choose the way.

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
    value, uncertainty = _measured(way, state, parts)
    once = Measured(_zero_minded(reading, value), uncertainty)
    before = state.first_readings.get(check.id, ())
    return _together(reading, limits_of(reading, state), once, before, said_of(parts))


def taken_together(check: Check, state: State) -> Judged | None:
    """What the readings come to that are left of a check once one was thrown away; None where one more is due."""
    *before, last = state.first_readings.get(check.id, (None,))
    if check.reading is None or last is None or last.by_itself is None:
        return None
    once = Measured(last.by_itself.value, last.by_itself.uncertainty)
    found = _together(check.reading, limits_of(check.reading, state), once, tuple(filter(None, before)), last.said)
    return found if found.outcome else None


def _together(
    reading: Reading, limits: tuple[Limit, ...], once: Measured, before: tuple[Finding, ...], said: str
) -> Judged:
    every = [*(Measured(one.by_itself.value, one.by_itself.uncertainty) for one in before if one.by_itself), once]
    texts = [*(one.said for one in before if one.by_itself), said]
    chosen = that_agree(every)
    verdict, zone = _verdict(limits, weighed([every[place] for place in chosen]) if chosen else once)
    by_itself = MeasuredOnce(value=_rounded(once.value), uncertainty=_rounded(once.uncertainty))
    decided = bool(chosen) and (verdict.settled or len(every) > 1)
    outcome = reading.zones[zone].outcome if decided else ""
    if len(every) == 1:
        return Judged(verdict, outcome, by_itself)
    together = tuple(texts[place] for place in chosen)
    apart = tuple(text for place, text in enumerate(texts) if place not in chosen)
    return Judged(verdict, outcome, by_itself, together, apart)


def _verdict(limits: tuple[Limit, ...], measured: Measured) -> tuple[Verdict, int]:
    """How a value stands to the limits, and the zone on the likelier side."""
    found = judge(measured.value, measured.uncertainty, [limit.value for limit in limits])
    verdict = Verdict(
        value=_rounded(measured.value),
        uncertainty=_rounded(measured.uncertainty),
        probabilities=tuple(round(probability, 6) for probability in found.probabilities),
        margin=_rounded(found.margins[found.nearest]),
        limit=_rounded(limits[found.nearest].value),
        limit_source=limits[found.nearest].source,
        settled=found.settled,
    )
    return verdict, found.zone


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
