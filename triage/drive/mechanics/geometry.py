"""The path of a belt over its pulleys: straight spans, wrapped arcs, and which way round the belt can run.

Pulleys come in belt order as circles at pitch radius, x right and y up as seen from the pulley end. A pulley on the
ribbed side turns with the belt's sense of travel, a pulley on the back turns against it. Angles in radians.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations

TOUCH_TOLERANCE_M = 1e-9
FULL_TURN_RAD = 2 * math.pi

Point = tuple[float, float]


class BeltRouteError(ValueError):
    """No belt runs over these circles in this order.

    Args:
        sentence: what is in the way, with {0}, {1} where the pulleys are named.
        pulleys: their positions in belt order, the one at fault first.
    """

    def __init__(self, sentence: str, *pulleys: int) -> None:
        """Keep sentence and positions apart, so that a layout can put in its own names."""
        self.sentence = sentence
        self.pulleys = pulleys
        super().__init__(sentence.format(*(f"pulley {position + 1}" for position in pulleys)))


@dataclass(frozen=True)
class Circle:
    """One pulley in the plane of the belt, at pitch radius."""

    x_m: float
    y_m: float
    radius_m: float
    on_back: bool = False


@dataclass(frozen=True)
class Span:
    """A straight run of belt from one pulley to the next."""

    start: Point
    end: Point
    length_m: float
    heading_rad: float


@dataclass(frozen=True)
class BeltPath:
    """A belt's whole path; span i leaves circle i, wrap i lies on circle i, turn i is +1 for counter-clockwise."""

    circles: tuple[Circle, ...]
    spans: tuple[Span, ...]
    wraps_rad: tuple[float, ...]
    turns: tuple[int, ...]
    length_m: float


def route_belt(circles: Sequence[Circle]) -> BeltPath:
    """Find the one way in which a belt runs over the circles in their order without crossing anything.

    Over two pulleys with the belt open both senses of travel give the same curve, and counter-clockwise is taken.

    Args:
        circles: n ≥ 2 pulleys in belt order, lengths inside them in [m].

    Returns:
        spans, wraps and length of the belt, lengths in [m], angles in [rad].

    Raises:
        BeltRouteError: both senses cross something, or both run and differ.

    Source: shigley
    """
    likely, other = (_attempt(circles, sense) for sense in _senses(circles))
    if isinstance(likely, BeltRouteError):
        if isinstance(other, BeltRouteError):
            raise likely
        return other
    if isinstance(other, BeltRouteError) or len(circles) == 2:
        return likely
    raise BeltRouteError("The belt could run either way round from {0}, so its path is not certain.", 0)


def run_belt(circles: Sequence[Circle], crank_turn: int) -> tuple[BeltPath, bool]:
    """Find the belt's path in its running direction, from which way the first pulley turns.

    Args:
        circles: n ≥ 2 pulleys in belt order, one way or the other, the crank first, lengths inside them in [m].
        crank_turn: +1 where the crank turns counter-clockwise, −1 clockwise [1].

    Returns:
        the path, pulleys in running direction, and whether the list had to be read backwards for it.

    Raises:
        BeltRouteError: no belt runs over them in this order.

    Source: shigley
    """
    circles = tuple(circles)
    sense = -crank_turn if circles[0].on_back else crank_turn
    as_listed = _attempt(circles, sense)
    if not isinstance(as_listed, BeltRouteError):
        return as_listed, False
    backwards = _attempt((circles[0], *circles[:0:-1]), sense)
    if not isinstance(backwards, BeltRouteError):
        return backwards, True
    # Both fail: the obstacle worth naming is the one of the likelier sense.
    return route_belt(circles), False


def trace_belt(circles: Sequence[Circle], sense: int) -> BeltPath:
    """Follow the belt with ribbed pulleys turning one given way.

    Args:
        circles: n ≥ 2 pulleys in belt order, lengths inside them in [m].
        sense: +1 where ribbed pulleys turn counter-clockwise, −1 clockwise [1].

    Returns:
        spans, wraps and length of the belt, lengths in [m], angles in [rad].

    Raises:
        BeltRouteError: pulleys overlap, a span crosses a pulley or a span, or the belt would be inside out.

    Source: shigley
    """
    path = follow_belt(circles, sense)
    _refuse_crossing(path.circles, path.spans)
    # Once round in the belt's sense and no more, arcs on the back against it; else the belt is inside out or knotted.
    turning = sum(turn * wrap for turn, wrap in zip(path.turns, path.wraps_rad, strict=True))
    if abs(turning - sense * FULL_TURN_RAD) > math.radians(1):
        raise BeltRouteError("The belt cannot go round in this order from {0} with its ribs inside.", 0)
    return path


def follow_belt(circles: Sequence[Circle], sense: int) -> BeltPath:
    """Follow the belt without asking whether it runs through anything, for what moves a path that is known to run.

    Args:
        circles: n ≥ 2 pulleys in belt order, lengths inside them in [m].
        sense: +1 where ribbed pulleys turn counter-clockwise, −1 clockwise [1].

    Returns:
        spans, wraps and length of the belt, lengths in [m], angles in [rad].

    Raises:
        BeltRouteError: pulleys overlap.

    Source: shigley
    """
    circles = tuple(circles)
    _refuse_overlap(circles)
    turns = tuple(-sense if circle.on_back else sense for circle in circles)
    count = len(circles)
    spans = tuple(
        _tangent(circles[i], turns[i], circles[(i + 1) % count], turns[(i + 1) % count]) for i in range(count)
    )
    # A belt turns on a pulley from the heading of the span before it to that of the span after, in the pulley's sense.
    wraps = tuple(
        (turn * (spans[i].heading_rad - spans[i - 1].heading_rad)) % FULL_TURN_RAD for i, turn in enumerate(turns)
    )
    arcs = sum(circle.radius_m * wrap for circle, wrap in zip(circles, wraps, strict=True))
    return BeltPath(circles, spans, wraps, turns, sum(span.length_m for span in spans) + arcs)


def _senses(circles: Sequence[Circle]) -> tuple[int, int]:
    # The sense in which the centres go round is the likely one, and its obstacle the one worth naming.
    area = sum(a.x_m * b.y_m - b.x_m * a.y_m for a, b in zip(circles, (*circles[1:], circles[0]), strict=True))
    return (1, -1) if area >= 0 else (-1, 1)


def _attempt(circles: Sequence[Circle], sense: int) -> BeltPath | BeltRouteError:
    try:
        return trace_belt(circles, sense)
    except BeltRouteError as obstacle:
        return obstacle


def _tangent(first: Circle, first_turn: int, second: Circle, second_turn: int) -> Span:
    # A belt that moves along u leaves a pulley turning with sign o at centre − o·r·n, where n is u turned left by 90°.
    dx, dy = second.x_m - first.x_m, second.y_m - first.y_m
    distance = math.hypot(dx, dy)
    sideways = second_turn * second.radius_m - first_turn * first.radius_m
    # The span leans off the line of centres by what the radii differ on the same side, or add up to on opposite sides.
    heading = math.atan2(dy, dx) - math.asin(sideways / distance)
    left = (-math.sin(heading), math.cos(heading))
    start = _touch(first, first_turn, left)
    end = _touch(second, second_turn, left)
    return Span(start, end, math.sqrt(distance**2 - sideways**2), heading)


def _touch(circle: Circle, turn: int, left: Point) -> Point:
    return (circle.x_m - turn * circle.radius_m * left[0], circle.y_m - turn * circle.radius_m * left[1])


def _refuse_overlap(circles: tuple[Circle, ...]) -> None:
    for (i, first), (j, second) in combinations(enumerate(circles), 2):
        gap = math.hypot(second.x_m - first.x_m, second.y_m - first.y_m) - first.radius_m - second.radius_m
        if gap <= TOUCH_TOLERANCE_M:
            raise BeltRouteError(f"{{0}} overlaps {{1}} by {-gap * 1000:.1f} mm.", j, i)


def _refuse_crossing(circles: tuple[Circle, ...], spans: tuple[Span, ...]) -> None:
    count = len(circles)
    for i, span in enumerate(spans):
        following = (i + 1) % count
        for j, circle in enumerate(circles):
            if j not in (i, following) and _distance(circle, span) < circle.radius_m - TOUCH_TOLERANCE_M:
                raise BeltRouteError("The belt would run through {0} on its way from {1} to {2}.", j, i, following)
    for (i, first), (j, second) in combinations(enumerate(spans), 2):
        if _cross(first, second):
            raise BeltRouteError("The belt after {0} would cross the belt after {1}.", j, i)


def _distance(circle: Circle, span: Span) -> float:
    ux, uy = math.cos(span.heading_rad), math.sin(span.heading_rad)
    along = (circle.x_m - span.start[0]) * ux + (circle.y_m - span.start[1]) * uy
    # Nearest point of the span, not of the line that it lies on.
    along = min(max(along, 0.0), span.length_m)
    return math.hypot(circle.x_m - span.start[0] - along * ux, circle.y_m - span.start[1] - along * uy)


def _cross(first: Span, second: Span) -> bool:
    return _parts(first, second) and _parts(second, first)


def _parts(wall: Span, other: Span) -> bool:
    ux, uy = math.cos(wall.heading_rad), math.sin(wall.heading_rad)
    # On which side of the wall's line each end lies; a touch is no crossing.
    sides = [ux * (y - wall.start[1]) - uy * (x - wall.start[0]) for x, y in (other.start, other.end)]
    return sides[0] * sides[1] < 0
