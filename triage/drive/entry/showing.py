"""What is shown of a drive while it is entered: list, gaps with residuals, drawing, what was found out."""

import math
from collections.abc import Sequence
from itertools import combinations

from triage.drive.entry.gaps import Gap, Stand
from triage.drive.figures.unsure import moved
from triage.drive.layout.assembly import Drive, assemble
from triage.drive.pages.sketch import sketch
from triage.record.layout import Layout, Pulley

COLUMNS, ROWS = 52, 11
_COVERAGE = 2.0


def listed(pulleys: Sequence[Pulley]) -> str:
    """The pulleys so far, one a line."""
    return "\n".join(
        f"{number} {pulley.part}, {'on the back' if pulley.side == 'back' else 'grooved'}, {pulley.diameter} "
        f"{pulley.diameter_is or 'measured unknown how'}" + (f", {pulley.pulley}" if pulley.pulley else "")
        for number, pulley in enumerate(pulleys, 1)
    )


def gap_table(layout: Layout, gaps: Sequence[Gap], stand: Stand) -> str:
    """Every gap with what it is off, in few rows, the worst named."""
    parts = [pulley.part for pulley in layout.pulleys]
    worst = max(range(len(gaps)), key=lambda at: abs(stand.residuals_m[at]))
    rows = "; ".join(
        f"{gap.first + 1}-{gap.second + 1} {gap.gap_m * 1000:.0f} off {round(off_m * 1000, 1) + 0.0:+.1f}"
        for gap, off_m in zip(gaps, stand.residuals_m, strict=True)
    )
    said = f"Gaps in mm, and what each is off: {rows}."
    if len(gaps) <= 2 * len(parts) - 3:
        return f"{said}\nThere are just enough gaps: none can show that another is wrong."
    named = f"{parts[gaps[worst].first]} to {parts[gaps[worst].second]}"
    off = f"{abs(stand.residuals_m[worst]) * 1000:.1f} mm"
    return f"{said}\nThe worst is {named}, {off}: measure it again if that is more than a few mm."


def two_ways(parts: Sequence[str], stands: Sequence[Stand]) -> str:
    """The pair of pulleys whose gap tells two ways to stand apart best."""
    first, second = stands[0].places, stands[1].places

    def differs(pair: tuple[int, int]) -> float:
        return abs(math.dist(first[pair[0]], first[pair[1]]) - math.dist(second[pair[0]], second[pair[1]]))

    one, other = max(combinations(range(len(parts)), 2), key=differs)
    return f"{parts[one]} and {parts[other]}"


def drawn(layout: Layout) -> str:
    """The drive as it stands, with arrows the way the belt runs."""
    route = assemble(layout).route
    return sketch(route, COLUMNS, ROWS) if route else ""


def found_out(layout: Layout) -> str:
    """Running order, slack span and, where a length is printed, how it goes with the way round."""
    drive = assemble(layout)
    if drive.route is None:
        return ""
    parts = [member.part for member in drive.members]
    said = [f"In running direction: {', '.join(parts)}. Slack span: {parts[0]} to {parts[1]}.", *_length(drive)]
    return "\n".join(said)


def _length(drive: Drive) -> list[str]:
    if drive.belt_m is None or drive.route is None:
        return []
    width_m = _COVERAGE * math.sqrt(sum(((up - down) / 2) ** 2 for up, down in moved(drive, _way_round)))
    off_m = drive.belt_m - drive.route.length_m
    allowed = f"what was measured leaves ± {width_m * 1000:.0f} mm (about 95 %)"
    off = f"The belt is {abs(off_m) * 1000:.0f} mm {'longer' if off_m > 0 else 'shorter'} than the way round as entered"
    if abs(off_m) <= width_m:
        return [f"{off}; {allowed}: they agree."]
    return [f"{off}; {allowed}: they do not agree. Check the tensioner's place, gaps and diameters, or the belt."]


def _way_round(drive: Drive) -> float:
    return drive.route.length_m if drive.route else math.nan
