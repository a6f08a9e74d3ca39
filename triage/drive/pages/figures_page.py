"""A drive's figures as a page of plain text, for terminals and for the trace of a session."""

import textwrap
from collections.abc import Sequence
from typing import TYPE_CHECKING

from triage.drive.figures.derived import Derived
from triage.drive.mechanics.rates import RateMatch
from triage.drive.pages.sketch import sketch
from triage.drive.pages.unsure_words import shares_of_ratios, what_is_open
from triage.knowledge.models import PULLEY_TYPES

if TYPE_CHECKING:
    # A page needs no matrices: whoever writes one for a saved session need not load them.
    from triage.drive.figures.all_figures import DriveFigures
    from triage.drive.figures.dynamics import Isolation
    from triage.drive.layout.assembly import Drive

NOTICE = "These figures explain. The vehicle maker's procedure decides."
WIDTH = 80
_UNKNOWN = "unknown"
_NO_FIGURE = "-"
"""What stands in a table where a figure is unknown."""


def account(drive: "Drive", figures: "DriveFigures", columns: int = WIDTH) -> str:
    """Write a page about a drive: drawing, table, margins, frequencies, and what is unknown.

    Args:
        drive: drive with n pulleys.
        figures: what was worked out for it.
        columns: characters to a line at most [1].

    Returns:
        lines of text of at most that many characters where names are short; what a table has no room for beside its
        parts follows under it.

    Source: common-practice
    """
    head = [*_folded(drive.about, columns, ""), ""] if drive.about else []
    drawing = [sketch(drive.route, min(columns, WIDTH) - 4), ""] if drive.route else []
    sentences = (_belt(figures), _ringing(figures))
    belt, ringing = ([line for said in block for line in _folded(said, columns, "")] for block in sentences)
    blocks = (_turning(figures, columns), belt, _slip(figures, columns), ringing, _open_ends(figures, columns))
    lines = [line for block in blocks for line in [*block, ""]]
    return "\n".join([*head, *drawing, *lines, *_folded(NOTICE, columns, ""), ""])


def account_of_match(match: RateMatch) -> str:
    """Say what a counted repeat fits; the last sentence names what is unknown and was not compared."""
    if not match.unknown:
        return f"{_fitting(match)}\n"
    verb = "is" if len(match.unknown) == 1 else "are"
    were = "was" if len(match.unknown) == 1 else "were"
    names = " and ".join(match.unknown).capitalize()
    return f"{_fitting(match)} {names} {verb} unknown here and {were} not compared.\n"


def _fitting(match: RateMatch) -> str:
    if not match.fits:
        return f"Nothing in this drive comes round like that; nearest is {match.nearest}."
    if len(match.fits) == 1:
        return f"It fits {match.fits[0]} and nothing else here."
    said = f"It fits {', '.join(match.fits[:-1])} and {match.fits[-1]}; this reading cannot tell them apart."
    if match.apart_hz is None:
        return f"{said} As far as the layout is sure they turn alike, so no count will."
    return f"{said} A standard uncertainty of {_number(match.apart_hz)} Hz would part the closest two."


def _turning(figures: "DriveFigures", columns: int) -> list[str]:
    shares = shares_of_ratios(figures)
    head = [f"{'ratio':>8}", *([f"{'u %':>6}"] if shares else [])]
    rows = [[*head, f"{'turns/s':>10}", f"{'wrap °':>9}", f"{'span mm':>10}", f"{'span Hz':>10}"]]
    for position in range(len(figures.parts)):
        turns, wrap = _at(figures.turns_per_s, position), _at(figures.wraps_deg, position)
        rows.append(
            [
                f"{_fixed(_at(figures.ratios, position), 3):>8}",
                *([f"{_fixed(shares[position], 1, 100):>6}"] if shares else []),
                f"{_fixed(turns, 1):>10}",
                f"{_fixed(wrap, 1):>9}",
                f"{_fixed(_at(figures.spans_m, position), 1, 1000):>10}",
                f"{_fixed(_at(figures.span_hz, position), 1):>10}",
            ]
        )
    lines = _table(figures.parts, rows, columns)
    unsure = "u %: standard uncertainty of ratio and turns, from the diameters alone."
    return [*lines, *_folded(unsure, columns, "")] if shares else lines


def _table(parts: Sequence[str], rows: list[list[str]], columns: int) -> list[str]:
    """Rows of cells with their parts before them; cells that find no room stand in a further block below."""
    keys = [f"{'no':>3}  {'part':<16}", *(f"{number:>3}  {part:<16}" for number, part in enumerate(parts, 1))]
    lines, begin = [], 0
    while begin < len(rows[0]):
        end = begin + 1
        while end < len(rows[0]) and len(keys[0] + "".join(rows[0][begin : end + 1])) <= columns:
            end += 1
        lines += [key + "".join(row[begin:end]) for key, row in zip(keys, rows, strict=True)]
        begin = end
    return lines


def _belt(figures: "DriveFigures") -> list[str]:
    length = f"Belt along the cord: {_said(_fixed(figures.belt_length_m.value, 0, 1000), 'mm')}."
    if figures.rib_tension_n.value is not None:
        length += f" At rest {figures.rib_tension_n.value:.0f} N a rib; typical is 65 to 130 N (common practice)."
    if figures.rpm is None:
        return [length, "No engine speed is given, so nothing is said about rates."]
    laps, firing = ("laps", figures.lap_per_s, "Hz"), ("firing", figures.firing_hz, "Hz")
    rates = (("belt", figures.belt_speed_m_s, "m/s"), laps, firing)
    said = ", ".join(f"{name} {_said(_number(figure.value), unit)}" for name, figure, unit in rates)
    return [length, f"At {figures.rpm:.0f} r/min: {said}."]


def _said(figure: str, unit: str) -> str:
    return _UNKNOWN if figure == _NO_FIGURE else f"{figure} {unit}"


def _slip(figures: "DriveFigures", columns: int) -> list[str]:
    steady = figures.slip_margin["steady"]["solid"]
    slowing = [figures.slip_margin["slowing"][pulley] for pulley in PULLEY_TYPES]
    if steady.value is None:
        return [f"Margin against slip: {_UNKNOWN}."]
    said = (
        "Margin against slip, below 1 the belt slips. Steady it is the same for all pulley types; then while the crank "
        f"loses {figures.slowing_rpm_per_s:.0f} r/min each second, by type:"
    )
    rows = [[f"{'steady':>8}", *(f"{pulley:>{len(pulley) + 3}}" for pulley in PULLEY_TYPES)]]
    for position in range(len(figures.parts)):
        typed = zip(PULLEY_TYPES, slowing, strict=True)
        by_type = (f"{_number(_at(margins, position)):>{len(pulley) + 3}}" for pulley, margins in typed)
        rows.append([f"{_number(_at(steady, position)):>8}", *by_type])
    return [*_folded(said, columns, ""), *_table(figures.parts, rows, columns)]


def _ringing(figures: "DriveFigures") -> list[str]:
    return [
        f"Natural frequencies, crank free: {_listed(figures.natural_hz.value)}",
        f"Natural frequencies, crank held: {_listed(figures.natural_crank_held_hz.value)}",
        f"Alternator's torque reverses when the crank slows by: {_reversal(figures.reversal_rpm_per_s.value)}.",
        f"Spring of the alternator's pulley at idle: {_isolated(figures.isolation.value)}.",
    ]


def _reversal(rpm_per_s: float | None) -> str:
    return _UNKNOWN if rpm_per_s is None else f"{rpm_per_s:.0f} r/min each second"


def _isolated(isolation: "Isolation | None") -> str:
    if isolation is None:
        return _UNKNOWN
    verdict = "it isolates" if isolation.isolates else "it does not isolate"
    rotor, firing = _number(isolation.spring_hz), _number(isolation.firing_hz)
    return f"rotor {rotor} Hz, firing {firing} Hz, {verdict}"


def _open_ends(figures: "DriveFigures", columns: int) -> list[str]:
    reasons = [line for reason in dict.fromkeys(figures.reasons.values()) for line in _folded(reason, columns)]
    lines = ["What is unknown, and why:", *reasons] if reasons else []
    if figures.assumed:
        assumed = (line for sentence in figures.assumed for line in _folded(sentence, columns))
        lines += ["Taken for granted:", *assumed]
    if figures.uncertainty:
        lines += _folded(what_is_open(figures), columns, "")
    return lines or ["Nothing is unknown."]


def _folded(sentence: str, columns: int, indent: str = "  ") -> list[str]:
    return textwrap.wrap(sentence, columns, initial_indent=indent, subsequent_indent=indent * 2)


def _at(figure: Derived[tuple[float, ...]], position: int) -> float | None:
    return None if figure.value is None else figure.value[position]


def _listed(values: Sequence[float] | None) -> str:
    return _UNKNOWN if values is None else ", ".join(_number(value) for value in values) + " Hz"


def _fixed(value: float | None, decimals: int, factor: float = 1.0) -> str:
    return _NO_FIGURE if value is None else f"{value * factor:.{decimals}f}"


def _number(value: float | None) -> str:
    if value is None:
        return _NO_FIGURE
    if abs(value) >= 1000:
        return f"{value:.0f}"
    return f"{value:.3g}" if abs(value) < 100 else f"{value:.1f}"
