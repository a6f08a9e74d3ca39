"""A drive's figures as a page of plain text, for terminals and for the trace of a session."""

import textwrap
from collections.abc import Sequence
from typing import TYPE_CHECKING

from triage.drive.openness import shares_of_ratios, what_is_open
from triage.drive.overrun import PULLEY_TYPES
from triage.drive.rates import RateMatch
from triage.drive.sketch import sketch

if TYPE_CHECKING:
    # A page needs no matrices: whoever writes one for a saved session need not load them.
    from triage.drive.assembly import Drive
    from triage.drive.dynamics import Isolation
    from triage.drive.figures import DriveFigures

NOTICE = "These figures explain. The vehicle maker's procedure decides."
WIDTH = 80
_UNKNOWN = "unknown"


def account(drive: "Drive", figures: "DriveFigures") -> str:
    """Write a page about a drive: drawing, table, margins, frequencies, and what is unknown.

    Args:
        drive: drive with n pulleys.
        figures: what was worked out for it.

    Returns:
        lines of text of at most 80 characters where names are short.

    Source: common-practice
    """
    head = [drive.about, ""] if drive.about else []
    drawing = [sketch(drive.route), ""] if drive.route else []
    blocks = (_turning(figures), _belt(figures), _slip(figures), _ringing(figures), _open_ends(figures))
    lines = [line for block in blocks for line in [*block, ""]]
    return "\n".join([*head, *drawing, *lines, NOTICE, ""])


def account_of_match(match: RateMatch) -> str:
    """Say what a counted repeat fits.

    Args:
        match: the comparison.

    Returns:
        one or two sentences.

    Source: common-practice
    """
    if not match.fits:
        return f"Nothing in this drive comes round like that; nearest is {match.nearest}.\n"
    if len(match.fits) == 1:
        return f"It fits {match.fits[0]} and nothing else here.\n"
    said = f"It fits {', '.join(match.fits[:-1])} and {match.fits[-1]}; this reading cannot tell them apart."
    if match.apart_hz is None:
        return f"{said} As far as the layout is sure they turn alike, so no count will.\n"
    return f"{said} A standard uncertainty of {_number(match.apart_hz)} Hz would part the closest two.\n"


def _turning(figures: "DriveFigures") -> list[str]:
    shares = shares_of_ratios(figures)
    unsure = f"{'u %':>6}" if shares else ""
    lines = [f"{'no':>3}  {'part':<16}{'ratio':>8}{unsure}{'turns/s':>10}{'wrap °':>9}{'span mm':>10}{'span Hz':>10}"]
    for position, part in enumerate(figures.parts):
        ratio, turns = figures.ratios[position], _at(figures.turns_per_s, position)
        wrap, note = _at(figures.wraps_deg, position), _at(figures.span_hz, position)
        unsure = f"{_fixed(shares[position], 1, 100):>6}" if shares else ""
        row = f"{position + 1:>3}  {part:<16}{_fixed(ratio, 3):>8}{unsure}{_fixed(turns, 1):>10}{_fixed(wrap, 1):>9}"
        lines.append(f"{row}{_fixed(_at(figures.spans_m, position), 1, 1000):>10}{_fixed(note, 1):>10}")
    return [*lines, "u %: standard uncertainty of ratio and turns, from the diameters alone."] if shares else lines


def _belt(figures: "DriveFigures") -> list[str]:
    length = f"Belt along the cord: {_fixed(figures.belt_length_m, 0, 1000)} mm."
    if figures.rib_tension_n is not None:
        length += f" At rest {figures.rib_tension_n:.0f} N a rib; typical is 65 to 130 N (common practice)."
    if figures.rpm is None:
        return [length, "No engine speed is given, so nothing is said about rates."]
    speeds = f"belt {_number(figures.belt_speed_m_s)} m/s, laps {_number(figures.lap_per_s)} Hz"
    return [length, f"At {figures.rpm:.0f} r/min: {speeds}, firing {_number(figures.firing_hz)} Hz."]


def _slip(figures: "DriveFigures") -> list[str]:
    steady = figures.slip_margin["steady"]["solid"]
    slowing = [figures.slip_margin["slowing"][pulley] for pulley in PULLEY_TYPES]
    if steady is None:
        return [f"Margin against slip: {_UNKNOWN}."]
    lines = [
        "Margin against slip, below 1 the belt slips. Steady it is the same for all pulley",
        f"types; then while the crank loses {figures.slowing_rpm_per_s:.0f} r/min each second, by type:",
        f"{'no':>3}  {'part':<16}{'steady':>8}" + "".join(f"{pulley:>{len(pulley) + 3}}" for pulley in PULLEY_TYPES),
    ]
    for position, part in enumerate(figures.parts):
        cells = [f"{_number(_at(steady, position)):>8}"]
        for pulley, margins in zip(PULLEY_TYPES, slowing, strict=True):
            cells.append(f"{_number(_at(margins, position)):>{len(pulley) + 3}}")
        lines.append(f"{position + 1:>3}  {part:<16}" + "".join(cells))
    return lines


def _ringing(figures: "DriveFigures") -> list[str]:
    return [
        f"Natural frequencies, crank free: {_listed(figures.natural_hz)}",
        f"Natural frequencies, crank held: {_listed(figures.natural_crank_held_hz)}",
        f"Alternator's torque reverses when the crank slows by: {_reversal(figures.reversal_rpm_per_s)}.",
        f"Spring of the alternator's pulley at idle: {_isolated(figures.isolation)}.",
    ]


def _reversal(rpm_per_s: float | None) -> str:
    return _UNKNOWN if rpm_per_s is None else f"{rpm_per_s:.0f} r/min each second"


def _isolated(isolation: "Isolation | None") -> str:
    if isolation is None:
        return _UNKNOWN
    verdict = "it isolates" if isolation.isolates else "it does not isolate"
    rotor, firing = _number(isolation.spring_hz), _number(isolation.firing_hz)
    return f"rotor {rotor} Hz, firing {firing} Hz, {verdict}"


def _open_ends(figures: "DriveFigures") -> list[str]:
    reasons = list(dict.fromkeys(figures.reasons.values()))
    lines = ["What is unknown, and why:", *(line for reason in reasons for line in _folded(reason))] if reasons else []
    if figures.assumed:
        lines += ["Taken for granted:", *(line for sentence in figures.assumed for line in _folded(sentence))]
    if figures.uncertainty:
        lines += _folded(what_is_open(figures), "")
    return lines or ["Nothing is unknown."]


def _folded(sentence: str, indent: str = "  ") -> list[str]:
    return textwrap.wrap(sentence, WIDTH, initial_indent=indent, subsequent_indent=indent * 2)


def _at(values: Sequence[float] | None, position: int) -> float | None:
    return None if values is None else values[position]


def _listed(values: Sequence[float] | None) -> str:
    return _UNKNOWN if values is None else ", ".join(_number(value) for value in values) + " Hz"


def _fixed(value: float | None, decimals: int, factor: float = 1.0) -> str:
    return "-" if value is None else f"{value * factor:.{decimals}f}"


def _number(value: float | None) -> str:
    if value is None:
        return "-"
    if abs(value) >= 1000:
        return f"{value:.0f}"
    return f"{value:.3g}" if abs(value) < 100 else f"{value:.1f}"
