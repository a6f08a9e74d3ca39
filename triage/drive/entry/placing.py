"""The questions about where pulleys stand: gaps with a tape, or pixels of a photo with a scale."""

import math
import re
from collections.abc import Generator, Sequence
from dataclasses import dataclass

from triage.drive.entry.gaps import Gap, Stand, loose_pulleys, stands, turned_to
from triage.drive.entry.showing import drawn, found_out, gap_table, two_ways
from triage.drive.entry.typed_lines import pulley_meant
from triage.drive.layout.assembly import assemble, circles_of
from triage.drive.layout.diameters import pitch_and_spread
from triage.drive.layout.direction import CRANK_TURN
from triage.drive.layout.mending import mended
from triage.drive.mechanics.geometry import BeltRouteError, Point
from triage.drive.mechanics.speeds import EFFECTIVE_LINE_DIFFERENTIAL_M
from triage.errors import QuantityRefused
from triage.record.layout import Layout, Pulley
from triage.units import Quantity, parse_quantity

LEAST_WIDTH_M = 0.002
"""How far a place may be off at least, each way, with a tape; from memory."""
PIXELS_OFF = 3
"""How far a place may be off in a photo, in pixels; from memory."""
_MOST_GAP_M = 2.0
_LOOKS = 2
_HOURS = 12
_OFF_BY_HOURS = 1.0
"""How far each of two looks may be off; a judgement of ours."""
_HOUR_RAD = math.radians(30)
_PAIR = re.compile(r"(\d+)\s*-\s*(\d+)\s+(.+)")


@dataclass(frozen=True)
class Placed:
    """A layout with a place for every pulley."""

    layout: Layout


def placed_by_gaps(layout: Layout) -> Generator[str, str, Placed]:
    """Ask for gaps until they hold every pulley, then for two looks from the crank."""
    parts = [pulley.part for pulley in layout.pulleys]
    radii = tuple(_outer_radius(layout, pulley) for pulley in layout.pulleys)
    gaps: tuple[Gap, ...] = ()
    found: tuple[Stand, ...] = ()
    while True:
        line = yield f"{_gap_question(parts, gaps)}\n{_so_far(layout, gaps, found)}".rstrip()
        if line.lower() == "done":
            stand = _one_stand(layout, gaps, found)
            break
        for one in line.split(";"):
            gaps = _with_gap(gaps, _gap(one, parts))
        found = () if loose_pulleys(len(parts), gaps) else stands(radii, gaps)
    width_m = max(LEAST_WIDTH_M, max(abs(one) for one in stand.residuals_m))
    places = yield from _turned(layout, stand)
    return Placed(_checked(layout, places, width_m))


def placed_by_photo(layout: Layout) -> Generator[str, str, Placed]:
    """Ask for a scale and the centres in pixels.

    Raises:
        QuantityRefused: centres are missing.
    """
    parts = [pulley.part for pulley in layout.pulleys]
    line = yield (
        "Scale: a pulley, and how many pixels its rim measures across? Such as: crank 310. "
        "The photo has to be taken square on, from far away."
    )
    word, _, across = line.rpartition(" ")
    scale_m = 2 * _outer_radius(layout, layout.pulleys[pulley_meant(word.strip(), parts)]) / _pixels(across)
    line = yield (
        "Centres in pixels, x from the left and y from the top, in the order of the list with ; between: "
        f"{', '.join(parts)}. Such as: 512 830; 300 640; …"
    )
    centres = [tuple(map(_pixels, one.split())) for one in line.split(";") if one.strip()]
    if len(centres) != len(parts) or any(len(one) != len(("x", "y")) for one in centres):
        raise QuantityRefused(f"{len(parts)} centres are needed, each as x and y.", "Type them all, with ; between.")
    x0, y0 = centres[0]
    # In a picture y counts from the top.
    places = [((x - x0) * scale_m, (y0 - y) * scale_m) for x, y in centres]
    return Placed(_checked(layout, places, max(LEAST_WIDTH_M, PIXELS_OFF * scale_m)))


def hour_angle(text: str) -> float:
    """Turn an hour on a clock face into a direction.

    Args:
        text: such as `11` or `1:30`.

    Returns:
        direction, counter-clockwise from the right [rad].

    Raises:
        QuantityRefused: it is no hour.

    Source: common-practice
    """
    hour, _, minute = text.strip().removesuffix("h").partition(":")
    if not hour.isdecimal() or not 0 <= int(hour) <= _HOURS or (minute and not minute.isdecimal()):
        raise QuantityRefused(f"“{text}” is no hour on a clock face.", "Such as 11, or 1:30.")
    return math.radians(90 - 30 * (int(hour) + int(minute or 0) / 60))


def seen_from(pulley: Pulley, arm: Quantity, heading_rad: float) -> tuple[str, str]:
    """Say where a pivot is that is seen from a pulley's centre.

    Args:
        pulley: with a place.
        arm: length to the pivot.
        heading_rad: direction to it, counter-clockwise from the right [rad].

    Returns:
        its place, as a layout writes it.

    Raises:
        QuantityRefused: the pulley has no place.

    Source: common-practice
    """
    if pulley.at is None:
        raise QuantityRefused(f"{pulley.part} has no place.", "Say where the pulleys stand first.")
    x_m, y_m = (parse_quantity(text, "position").value for text in pulley.at)
    # An hour is read to about a quarter of one: seven degrees of the arm.
    width_m = arm.value * math.radians(7)
    return _written((x_m + arm.value * math.cos(heading_rad), y_m + arm.value * math.sin(heading_rad)), width_m)


def _gap_question(parts: Sequence[str], gaps: Sequence[Gap]) -> str:
    loose = loose_pulleys(len(parts), gaps)
    if not gaps:
        return (
            "Gaps between rims, along the line of centres, by number or name, several with ; between. Such as: "
            "1-3 212; 2-3 81 mm. Any pairs that the tape reaches; each pulley needs two, more are better. "
            f"{_numbered(parts)}"
        )
    if loose:
        return f"Another gap? Not held yet: {', '.join(parts[at] for at in loose)}."
    return "Another gap (it makes the others surer), a better one in place of one, or done?"


def _numbered(parts: Sequence[str]) -> str:
    return ", ".join(f"{number} {part}" for number, part in enumerate(parts, 1))


def _so_far(layout: Layout, gaps: Sequence[Gap], found: Sequence[Stand]) -> str:
    if not found:
        return f"{len(gaps)} gap{'' if len(gaps) == 1 else 's'} so far." if gaps else ""
    lines = [gap_table(layout, gaps, found[0])]
    running = _running(layout, found)
    if running:
        lines.append("So far, not upright yet and perhaps mirrored:")
        lines.append(drawn(_with_places(layout, running[0].places, LEAST_WIDTH_M)))
    return "\n".join(lines)


def _gap(text: str, parts: Sequence[str]) -> Gap:
    by_number = _PAIR.fullmatch(text.strip())
    words = by_number.groups() if by_number else tuple(text.strip().split(maxsplit=2))
    if len(words) != len(("first", "second", "gap")):
        raise QuantityRefused(f"“{text.strip()}” is no gap.", "Two pulleys and a length, such as 1-3 212 mm.")
    first, second = sorted(pulley_meant(word, parts) for word in words[:2])
    if first == second:
        raise QuantityRefused("A gap lies between two pulleys.", "Name two, such as 1-3 212 mm.")
    gap = parse_quantity(words[2], "length")
    if gap.value > _MOST_GAP_M:
        raise QuantityRefused(f"A gap of {words[2]} is longer than any drive.", "Check the unit.")
    return Gap(first, second, gap.value)


def _with_gap(gaps: tuple[Gap, ...], gap: Gap) -> tuple[Gap, ...]:
    """A pair that is measured again takes the place of what it was."""
    return (*(one for one in gaps if (one.first, one.second) != (gap.first, gap.second)), gap)


def _one_stand(layout: Layout, gaps: Sequence[Gap], found: Sequence[Stand]) -> Stand:
    parts = [pulley.part for pulley in layout.pulleys]
    loose = loose_pulleys(len(parts), gaps)
    if loose:
        raise QuantityRefused(f"Not held yet: {', '.join(parts[at] for at in loose)}.", "Type one more gap of it.")
    running = _running(layout, found)
    if not running:
        names = [f"'{part}'" for part in parts]
        said = mended(circles_of(_with_places(layout, found[0].places, LEAST_WIDTH_M)), names, None)
        hint = " ".join(("Check the largest residual, each side, and the order of the list.", *said))
        raise QuantityRefused("No belt runs over pulleys that stand so, in this order.", hint)
    if len(running) > 1:
        between = two_ways(parts, running)
        raise QuantityRefused("The gaps leave two ways to stand.", f"Type the gap between {between} as well.")
    return running[0]


def _running(layout: Layout, found: Sequence[Stand]) -> list[Stand]:
    """Ways to stand over which a belt runs, either way round: which one is mirrored is not known yet."""
    return [stand for stand in found if _runs(layout, stand.places)]


def _runs(layout: Layout, places: Sequence[Point]) -> bool:
    free = layout.engine.model_copy(update={"turns": None})
    try:
        assemble(_with_places(layout.model_copy(update={"engine": free}), places, LEAST_WIDTH_M))
    except BeltRouteError:
        return False
    return True


def _turned(layout: Layout, stand: Stand) -> Generator[str, str, list[Point]]:
    parts = [pulley.part for pulley in layout.pulleys]
    far = sorted(range(1, len(parts)), key=lambda at: -math.hypot(*stand.places[at]))
    # The two that are seen furthest apart tell best which way round it stands.
    first = far[0]
    second = max(far[1:] or far, key=lambda at: _aside(stand.places, first, at))
    line = yield (
        f"Looking from the crank's centre as on a clock face, 12 being up: at which hours do {parts[first]} and "
        f"{parts[second]} stand? Such as: 11 2:30."
    )
    hours = line.replace(",", " ").split()
    if len(hours) != _LOOKS:
        raise QuantityRefused("Two hours are needed.", f"Such as: 11 2:30, for {parts[first]} and {parts[second]}.")
    looks = [(at, hour_angle(hour)) for at, hour in zip((first, second), hours, strict=True)]
    places = list(turned_to(stand.places, looks))
    between = abs(math.remainder(looks[1][1] - looks[0][1], math.tau))
    for at, heading in looks:
        off = abs(math.remainder(math.atan2(places[at][1], places[at][0]) - heading, math.tau))
        # Seen at nearly one hour, or opposite each other, two pulleys do not tell which way round they stand.
        if off > _HOUR_RAD * _OFF_BY_HOURS or not _HOUR_RAD <= between <= math.pi - _HOUR_RAD:
            raise QuantityRefused("These hours do not go with the gaps.", "Look again, from the pulley end.")
    return places


def _aside(places: Sequence[Point], first: int, at: int) -> float:
    one, other = places[first], places[at]
    return abs(one[0] * other[1] - one[1] * other[0]) / max(math.hypot(*one) * math.hypot(*other), 1e-9)


def _checked(layout: Layout, places: Sequence[Point], width_m: float) -> Layout:
    placed = _with_places(layout, places, width_m)
    turns = layout.engine.turns
    try:
        assemble(placed)
    except BeltRouteError as error:
        names = [f"'{pulley.part}'" for pulley in placed.pulleys]
        message = error.sentence.format(*(names[at] for at in error.pulleys))
        said = mended(circles_of(placed), names, None if turns is None else CRANK_TURN[turns])
        hint = " ".join(("Check each place, each side and the order; back takes the last line back.", *said))
        raise QuantityRefused(message, hint) from error
    found_out(placed)
    return placed


def _with_places(layout: Layout, places: Sequence[Point], width_m: float) -> Layout:
    # The crank is where the others are measured from.
    pulleys = tuple(
        pulley.model_copy(update={"at": _written(place, width_m) if at else ("0 mm", "0 mm")})
        for at, (pulley, place) in enumerate(zip(layout.pulleys, places, strict=True))
    )
    return layout.model_copy(update={"pulleys": pulleys})


def _written(place: Point, width_m: float) -> tuple[str, str]:
    x, y = (f"{one * 1000:.1f} ± {width_m * 1000:.1f} mm" for one in place)
    return x, y


def _outer_radius(layout: Layout, pulley: Pulley) -> float:
    """Radius of the rim, where a tape touches it."""
    typed = parse_quantity(pulley.diameter, "length").value
    if pulley.diameter_is != "pitch":
        return typed / 2
    if pulley.side == "ribs":
        return typed / 2 - EFFECTIVE_LINE_DIFFERENTIAL_M
    smooth = pulley.model_copy(update={"diameter_is": "outside"})
    return typed / 2 - (pitch_and_spread(layout, smooth)[0] - typed) / 2


def _pixels(text: str) -> float:
    try:
        value = float(text)
    except ValueError:
        raise QuantityRefused(f"“{text.strip()}” is no number of pixels.", "Such as 512.") from None
    if not 0 < value < 1e5:
        raise QuantityRefused(f"“{text.strip()}” is no number of pixels.", "Such as 512.")
    return value
