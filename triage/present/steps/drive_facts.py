"""What the layout of this vehicle's drive says about a check, in a few short lines, out of what was recorded."""

from collections.abc import Callable, Mapping

from triage.drive.mechanics.rates import COVERAGE, RateMatch
from triage.drive.pages.figures_page import NOTICE, account_of_match
from triage.knowledge.models import PULLEY_TYPES, PulleyType
from triage.record.layout import Layout
from triage.record.layouts import DriveKnown, MatchedRate, Weakest
from triage.record.payloads import UsedLayout
from triage.session.state import State


def drive_facts(check_id: str, state: State) -> tuple[str, ...]:
    """Lines for a check; none without a layout, or where it has nothing to say."""
    lines_of = _LINES.get(check_id)
    if state.layout is None or lines_of is None:
        return ()
    against = contradiction(state.layout.layout, state.facts) if check_id in _BY_ENGINE_OR_PULLEY else ""
    compared = _compared(state.match) if check_id == "chirp-timing" else ()
    return (*([against] if against else []), *lines_of(state.layout), *compared, NOTICE)


def contradiction(layout: Layout, facts: Mapping[str, str | float | None]) -> str:
    """Where layout and vehicle say different things of the alternator's pulley or the cylinders, else nothing."""
    typed = next((pulley.pulley for pulley in layout.pulleys if pulley.pulley), None)
    pulley, cylinders = facts.get("pulley"), facts.get("cylinders")
    written, told = [], []
    if typed and isinstance(pulley, str) and pulley not in ("unknown", typed):
        written.append(_type(typed))
        told.append(_type(pulley))
    if layout.engine.cylinders and isinstance(cylinders, int | float) and cylinders != layout.engine.cylinders:
        written.append(_cylinders(layout.engine.cylinders))
        told.append(_cylinders(cylinders))
    return f"The layout says {' and '.join(written)}, the vehicle {' and '.join(told)}." if written else ""


def _type(pulley: str) -> str:
    return pulley.replace("-clutch", " clutch")


def _cylinders(count: float) -> str:
    return f"{count:g} cylinder{'' if count == 1 else 's'}"


def drive_sources(check_id: str, state: State) -> list[str]:
    """Where those lines come from."""
    if not drive_facts(check_id, state) or state.layout is None:
        return []
    said = [f"Layout {state.layout.name}: worked out from what its file gives"]
    slowing = f"Slowing by {state.layout.known.slowing_rpm_per_s:.0f} r/min each second: from memory"
    return [*said, slowing] if check_id == "snap-deceleration" else said


def match_words(match: MatchedRate) -> str:
    """What a counted repeat fits, and what it cannot tell apart."""
    compared = RateMatch(match.fits, match.nearest, match.apart_hz, match.unknown)
    return f"{match.text} at {match.crank_rpm:.0f} r/min. {account_of_match(compared).strip()}"


def _repeats(used: UsedLayout) -> list[str]:
    known = used.known
    turns = known.idle_rpm / 60 if known.idle_rpm else 1.0
    when = f"At {known.idle_rpm:.0f} r/min, times a second" if known.idle_rpm else "Times for each turn of the crank"
    rates = sorted((times * turns, name) for name, times in known.repeats.items())
    widths = {name: width * turns for name, width in known.repeats_u.items()}
    listed = ", ".join(f"{name} {rate:.3g}{_width(widths.get(name))}" for rate, name in rates)
    return [f"{when} ({used.name}): {listed}", *(["u: what the diameters leave open"] if widths else [])]


def _compared(match: MatchedRate | None) -> tuple[str, ...]:
    return (match_words(match) if match else 'Type "rate" to compare a count with these.',)


def _width(standard: float | None) -> str:
    return f" (u {standard:.2g})" if standard else ""


def _margins(used: UsedLayout) -> list[str]:
    known = used.known
    if known.steady is None:
        return [f"Share of grip used ({used.name}): {_unknown(known, 'steady')}"]
    return [
        f"Most of its grip used, at 100 % it slips ({used.name}): steady {_weakest(known.steady)}",
        f"Slowing by {known.slowing_rpm_per_s:.0f} r/min each second: {_slowing(known)}",
        *_alternator(known),
        "Mean torques only: single firings are not in these figures, and a solid pulley may slip at less",
        _reversal(known),
        *known.warnings,
    ]


def _slowing(known: DriveKnown) -> str:
    if not known.slowing:
        return _unknown(known, "slowing")
    return _by_type({pulley: _weakest(weakest) for pulley, weakest in known.slowing.items()})


def _alternator(known: DriveKnown) -> list[str]:
    if not known.alternator:
        return []
    part = next(iter(known.alternator.values())).part
    said = _by_type({pulley: _used(weakest) for pulley, weakest in known.alternator.items()})
    return [f"At {part} itself, slowing so: {said}"]


def _by_type(margins: Mapping[PulleyType, str]) -> str:
    types: dict[str, list[str]] = {}
    for pulley in PULLEY_TYPES:
        types.setdefault(margins.get(pulley, "unknown"), []).append(pulley)
    if len(types) == 1:
        return f"{next(iter(types))}, whatever type the alternator's pulley has"
    return "; ".join(f"{' or '.join(pulleys)} {said}" for said, pulleys in types.items())


def _weakest(weakest: Weakest) -> str:
    below = f", slips below a friction of {weakest.slips_below:.2g}" if weakest.slips_below else ""
    return f"{_used(weakest)} at {weakest.part}{below}"


def _used(weakest: Weakest) -> str:
    if weakest.used is None:
        # Written before shares were recorded, or a side goes slack.
        return f"margin {weakest.margin:.3g}, below 1 it slips," if weakest.margin else "a side goes slack"
    width = f" ± {COVERAGE * weakest.used_u * 100:.0f}" if weakest.used_u else ""
    return f"{weakest.used * 100:.0f}{width} %"


def _pulley(used: UsedLayout) -> list[str]:
    known, spring = used.known, used.known.spring
    isolates = ""
    if spring:
        verdict = "it isolates" if spring.isolates else "it does not isolate"
        isolates = f"rotor {spring.rotor_hz:.3g} Hz, firing {spring.firing_hz:.3g} Hz, {verdict}"
    return [
        _reversal(known),
        "By mean torque alone pulley types differ only beyond that; single firings tell them apart at steady idle too",
        f"Its pulley's spring at idle: {isolates or _unknown(known, 'spring')}",
    ]


def _diameters(used: UsedLayout) -> list[str]:
    widths = used.known.pitch_spread_m
    listed = ", ".join(
        f"{part} {pitch_m * 1000:.1f}{f' ± {widths[part] * 1000:.1f}' if part in widths else ''} mm"
        for part, pitch_m in used.known.pitch_m.items()
    )
    return [f"Pitch diameters ({used.name}): {listed}"]


def _ring(used: UsedLayout) -> list[str]:
    turns = used.known.repeats.get("alternator")
    if turns is None:
        return [f"The layout {used.name} has no part called alternator"]
    return [
        f"For each turn of the crank the alternator's ring turns {turns:.4g} times ({used.name}), if the belt grips"
    ]


def _tension(used: UsedLayout) -> list[str]:
    known, span = used.known, used.known.longest
    if span is None:
        return [f"Longest free span ({used.name}): {_unknown(known, 'longest')}"]
    lines = [f"Longest free span ({used.name}): {span.start} to {span.end}, {span.length_m * 1000:.0f} mm"]
    if span.note_hz is not None:
        lines.append(f"Standing, with the layout's tension, it would sound at {span.note_hz:.3g} Hz")
    return lines


def _reversal(known: DriveKnown) -> str:
    slows, unloaded = known.reversal_rpm_per_s, known.unloaded_reversal_rpm_per_s
    said = _unknown(known, "reversal") if slows is None else f"{slows:.0f} r/min each second"
    off = "" if unloaded is None else f"; ignition off, from {unloaded:.0f} on"
    return f"Alternator's torque reverses when the crank slows by: {said}{off}"


def _unknown(known: DriveKnown, name: str) -> str:
    return f"unknown. {known.reasons.get(name, '')}".strip()


_BY_ENGINE_OR_PULLEY = ("chirp-timing", "snap-deceleration", "pulley-type")
"""Checks whose lines depend on the cylinders or on the type of the alternator's pulley."""

_LINES: dict[str, Callable[[UsedLayout], list[str]]] = {
    "belt-slip": _diameters,
    "clutch-slip": _ring,
    "chirp-timing": _repeats,
    "snap-deceleration": _margins,
    "span-tension": _tension,
    "pulley-type": _pulley,
}
