"""A drive's figures as a page of plain text, for terminals and for the trace of a session."""

import math
import textwrap
from collections.abc import Sequence
from typing import TYPE_CHECKING

from triage.drive.figures.derived import NO_TENSIONER, Derived, each
from triage.drive.mechanics.arm import ARM_FRICTION_NM
from triage.drive.mechanics.rates import COVERAGE, RateMatch
from triage.drive.pages.sketch import sketch
from triage.drive.pages.unsure_words import LEAST, shares_of_ratios, what_is_open
from triage.knowledge.models import PULLEY_TYPES

if TYPE_CHECKING:
    # A page needs no matrices: whoever writes one for a saved session need not load them.
    from triage.drive.figures.drive_figures import DriveFigures
    from triage.drive.figures.dynamics import Isolation
    from triage.drive.figures.tensioning import Tensioning
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
    sentences = (_direction(figures), _belt(figures), _ringing(figures))
    direction, belt, ringing = ([line for said in block for line in _folded(said, columns, "")] for block in sentences)
    blocks = (
        direction,
        _turning(figures, columns),
        belt,
        _slip(figures, columns),
        ringing,
        _open_ends(figures, columns),
    )
    lines = [line for block in blocks if block for line in [*block, ""]]
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
    head = [
        f"{'ratio':>7}",
        *([f"{'u %':>6}"] if shares else []),
        f"{'turns/s':>9}",
        f"{'wrap °':>8}",
        f"{'span mm':>9}",
    ]
    rows = [[*head, f"{'still Hz':>10}", f"{'run Hz':>8}", f"{'run N':>7}"]]
    for position in range(len(figures.parts)):
        turns, wrap = _at(figures.turns_per_s, position), _at(figures.wraps_deg, position)
        rows.append(
            [
                f"{_fixed(_at(figures.ratios, position), 3):>7}",
                *([f"{_fixed(shares[position], 1, 100):>6}"] if shares else []),
                f"{_fixed(turns, 1):>9}",
                f"{_fixed(wrap, 1):>8}",
                f"{_fixed(_at(figures.spans_m, position), 1, 1000):>9}",
                f"{_fixed(_at(figures.span_standing_hz, position), 1):>10}",
                f"{_fixed(_at(figures.span_hz, position), 1):>8}",
                f"{_fixed(_at(figures.span_tension_n, position), 0):>7}",
            ]
        )
    lines = _table(figures.parts, rows, columns)
    told = "Span: the one that leaves the pulley; still: its note at rest; run: its note and tension at this speed."
    lines += _folded(told, columns, "") if figures.spans_m.value else []
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


def _direction(figures: "DriveFigures") -> list[str]:
    if figures.turns.value is None or figures.slack_span.value is None:
        return list(figures.warnings)
    start, end = figures.slack_span.value
    said = f"The crank turns {figures.turns.value}, seen from the pulley end; slack span: {start} to {end}."
    return [said, *_tensioner(figures.tensioner.value), *figures.warnings]


def _tensioner(tensioner: "Tensioning | None") -> list[str]:
    if tensioner is None:
        return []
    said = (
        f"Tensioner: its arm holds {_number(tensioner.arm_torque_nm)} N·m at rest, wound {tensioner.windup_deg:.0f}°; "
        f"it takes up {math.radians(tensioner.take_up_m_rad * 1000):.2f} mm of belt a degree, "
        f"{tensioner.authority * 100:.0f} % of what an arm of its length can"
    )
    if tensioner.running_turn_deg is not None:
        said += f"; under load it stands {_turned(tensioner.running_turn_deg)}"
    if tensioner.fitting_turn_deg is not None:
        said += f"; the belt's own length fits {_turned(tensioner.fitting_turn_deg)}"
    return [f"{said}."]


def _turned(turn_deg: float) -> str:
    way = "further out" if turn_deg > 0 else "further in"
    return f"{abs(turn_deg):.1f}° {way} than drawn"


def _slip(figures: "DriveFigures", columns: int) -> list[str]:
    steady = figures.grip_used["steady"]["solid"]
    states = [(state, by_type) for state, by_type in figures.grip_used.items() if state != "steady"]
    if steady.value is None:
        return [f"Share of grip used: {_UNKNOWN}."]
    changing = f"loses {figures.slowing_rpm_per_s:.0f} r/min each second"
    said = (
        "Share of grip used, at 100 % the belt slips, and the friction below which it slips. Steady it is the same for "
        f"all pulley types; then while the crank {changing}, by type. "
        "Mean torques only: what single firings add is not in it."
    )
    needed = figures.slips_below_friction["steady"]["solid"]
    lines = _folded(said, columns, "")
    for state, by_type in states:
        rows = [[f"{'steady %':>9}", f"{'below µ':>8}", *(f"{pulley:>{_room(pulley)}}" for pulley in PULLEY_TYPES)]]
        for position in range(len(figures.parts)):
            typed = (f"{_share(by_type[pulley], position):>{_room(pulley)}}" for pulley in PULLEY_TYPES)
            own = f"{_share(steady, position):>9}", f"{_fixed(_at(needed, position), 2):>8}"
            rows.append([*own, *typed])
        if state == "speeding":
            lines += _folded("While the crank gains speed as asked, by type:", columns, "")
        lines += _table(figures.parts, rows, columns)
    return [*lines, *_folded(_sticking(figures), columns, "")]


def _sticking(figures: "DriveFigures") -> str:
    held, pressed = (_at(one, 0) for one in (figures.grip_used_arm_held, figures.grip_used_arm_pressed))
    if held is None or pressed is None:
        return ""
    return (
        f"With {ARM_FRICTION_NM:.0f} N·m of dry friction at the tensioner's arm (from memory) {figures.parts[0]} uses "
        f"between {pressed * 100:.0f} and {held * 100:.0f} % of its grip, by where the arm sticks."
    )


def _room(pulley: str) -> int:
    return max(len(pulley) + 1, len(" 100±100"))


def _share(shares: Derived[tuple[float, ...]], position: int) -> str:
    """A share of grip in percent, with about 95 % of its range where it has one."""
    share = _at(shares, position)
    if share is None:
        return _NO_FIGURE
    if math.isinf(share):
        return "slack"
    width = each(shares.uncertainty)[position] if shares.uncertainty else 0.0
    if math.isinf(width):
        return f"{share * 100:.0f}±any"
    return f"{share * 100:.0f}±{COVERAGE * width * 100:.0f}" if width > LEAST else f"{share * 100:.0f}"


def _ringing(figures: "DriveFigures") -> list[str]:
    held = _met(figures.natural_fitted_crank_held_hz, figures.firing_meets_crank_held_rpm)
    loaded, off = (_reversal(one.value) for one in (figures.reversal_rpm_per_s, figures.unloaded_reversal_rpm_per_s))
    return [
        f"Natural frequencies, all pulleys solid, crank free: {_listed(figures.natural_hz.value)}",
        f"The same with the crank held: {_listed(figures.natural_crank_held_hz.value)}",
        f"With the pulley that the alternator has, crank free: {_listed(figures.natural_fitted_hz.value)}",
        f"Crank held, as a heavy engine nearly holds it, with the speed at which the firing meets each: {held}",
        f"Alternator's torque reverses when the crank slows by: {loaded}; ignition off, field gone, by {off}.",
        f"Spring of the alternator's pulley at idle: {_isolated(figures.isolation.value)}.",
    ]


def _met(modes: Derived[tuple[float, ...]], speeds: Derived[tuple[float, ...]]) -> str:
    if modes.value is None or speeds.value is None:
        return _listed(modes.value)
    ringing = [mode_hz for mode_hz in modes.value if mode_hz > 0]
    pairs = zip(ringing, speeds.value, strict=True)
    return f"{', '.join(f'{_number(mode_hz)} Hz at {rpm:.0f} r/min' for mode_hz, rpm in pairs)}."


def _reversal(rpm_per_s: float | None) -> str:
    return _UNKNOWN if rpm_per_s is None else f"{rpm_per_s:.0f} r/min each second"


def _isolated(isolation: "Isolation | None") -> str:
    if isolation is None:
        return _UNKNOWN
    verdict = "it isolates" if isolation.isolates else "it does not isolate"
    rotor, firing = _number(isolation.spring_hz), _number(isolation.firing_hz)
    return f"rotor {rotor} Hz, firing {firing} Hz, {verdict}"


def _open_ends(figures: "DriveFigures", columns: int) -> list[str]:
    reasons = [
        line
        for reason in dict.fromkeys(reason for reason in figures.reasons.values() if reason != NO_TENSIONER)
        for line in _folded(reason, columns)
    ]
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
