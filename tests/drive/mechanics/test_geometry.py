"""Belt paths against closed forms and published examples, and properties over random layouts."""

import math

import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from triage.drive.mechanics.geometry import BeltPath, BeltRouteError, Circle, route_belt, trace_belt

INCH_M = 0.0254


@st.composite
def layouts(draw: st.DrawFn) -> tuple[Circle, ...]:
    """Ribbed pulleys on a rough ring, counter-clockwise, with some on the back of the belt pushing it inwards."""
    count = draw(st.integers(3, 7))
    backs = draw(st.lists(st.booleans(), min_size=count, max_size=count))
    circles = []
    for position, on_back in enumerate(backs):
        angle = 2 * math.pi * (position + draw(st.floats(-0.2, 0.2))) / count
        away = draw(st.floats(0.12, 0.25) if on_back else st.floats(0.25, 0.4))
        radius = draw(st.floats(0.025, 0.06))
        circles.append(Circle(away * math.cos(angle), away * math.sin(angle), radius, on_back))
    return tuple(circles)


@st.composite
def routes(draw: st.DrawFn) -> BeltPath:
    circles = draw(layouts())
    try:
        return trace_belt(circles, 1)
    except BeltRouteError:
        assume(False)
        raise


many = settings(
    max_examples=60, deadline=None, suppress_health_check=[HealthCheck.filter_too_much, HealthCheck.too_slow]
)


@given(routes())
@many
def test_the_belt_turns_through_exactly_one_full_turn(route: BeltPath) -> None:
    turning = sum(turn * wrap for turn, wrap in zip(route.turns, route.wraps_rad, strict=True))
    assert turning == pytest.approx(2 * math.pi, abs=1e-9)


@given(routes())
@many
def test_every_span_touches_both_its_pulleys_at_a_right_angle(route: BeltPath) -> None:
    for i, span in enumerate(route.spans):
        heading = (span.end[0] - span.start[0], span.end[1] - span.start[1])
        assert math.hypot(*heading) == pytest.approx(span.length_m, abs=1e-12)
        for circle, point in (
            (route.circles[i], span.start),
            (route.circles[(i + 1) % len(route.circles)], span.end),
        ):
            radial = (point[0] - circle.x_m, point[1] - circle.y_m)
            assert math.hypot(*radial) == pytest.approx(circle.radius_m, abs=1e-12)
            assert radial[0] * heading[0] + radial[1] * heading[1] == pytest.approx(0, abs=1e-12)


@given(routes(), st.integers(1, 6))
@many
def test_lengths_do_not_depend_on_where_the_list_starts(route: BeltPath, shift: int) -> None:
    cut = shift % len(route.circles)
    turned = trace_belt(route.circles[cut:] + route.circles[:cut], 1)
    assert turned.length_m == pytest.approx(route.length_m, abs=1e-12)
    expected = route.spans[cut:] + route.spans[:cut]
    assert [span.length_m for span in turned.spans] == pytest.approx([span.length_m for span in expected], abs=1e-12)


@given(routes())
@many
def test_lengths_do_not_depend_on_mirroring(route: BeltPath) -> None:
    mirrored = [Circle(-c.x_m, c.y_m, c.radius_m, c.on_back) for c in route.circles]
    seen = trace_belt(mirrored, -1)
    assert [span.length_m for span in seen.spans] == pytest.approx([s.length_m for s in route.spans], abs=1e-12)
    assert list(seen.wraps_rad) == pytest.approx(list(route.wraps_rad), abs=1e-9)


@given(routes())
@many
def test_lengths_do_not_depend_on_direction(route: BeltPath) -> None:
    back = trace_belt(route.circles[::-1], -1)
    assert back.length_m == pytest.approx(route.length_m, abs=1e-12)
    assert list(back.wraps_rad[::-1]) == pytest.approx(list(route.wraps_rad), abs=1e-9)


@given(routes())
@many
def test_the_belt_is_at_least_as_long_as_the_way_round_its_ribbed_pulleys_centres(route: BeltPath) -> None:
    arcs = sum(c.radius_m * wrap for c, wrap in zip(route.circles, route.wraps_rad, strict=True))
    assert route.length_m == pytest.approx(sum(s.length_m for s in route.spans) + arcs, abs=1e-12)
    first, farthest = route.circles[0], max(route.circles, key=lambda c: math.hypot(c.x_m, c.y_m))
    assert route.length_m >= 2 * math.hypot(farthest.x_m - first.x_m, farthest.y_m - first.y_m) - 1e-12


@given(st.floats(0.02, 0.2), st.floats(0.02, 0.2), st.floats(0.45, 2))
@settings(deadline=None)
def test_two_pulleys_agree_with_the_closed_form(large_m: float, small_m: float, centres_m: float) -> None:
    if large_m < small_m:
        large_m, small_m = small_m, large_m
    route = route_belt([Circle(0, 0, large_m), Circle(centres_m, 0, small_m)])
    lean = math.asin((large_m - small_m) / centres_m)
    straight = math.sqrt(centres_m**2 - (large_m - small_m) ** 2)
    assert route.wraps_rad == pytest.approx((math.pi + 2 * lean, math.pi - 2 * lean), abs=1e-9)
    assert route.spans[0].length_m == pytest.approx(straight, abs=1e-9)
    arcs = large_m * (math.pi + 2 * lean) + small_m * (math.pi - 2 * lean)
    assert route.length_m == pytest.approx(2 * straight + arcs, abs=1e-9)


def test_two_pulleys_agree_with_the_machine_design_handbook() -> None:
    # Shigley (Budynas & Nisbett), eq. 17-1 and 17-2, solutions, seen: d 6 in, D 18 in, C 96 in.
    route = route_belt([Circle(0, 0, 3 * INCH_M), Circle(96 * INCH_M, 0, 9 * INCH_M)])
    assert route.wraps_rad == pytest.approx((3.016511, 3.266674), abs=5e-7)
    assert route.length_m / INCH_M == pytest.approx(230.074, abs=5e-4)


def test_two_unequal_pulleys_wrap_as_in_the_machine_theory_example() -> None:
    # Khurmi & Gupta, Theory of Machines, ex. 11.11, seen: diameters 1.2 and 0.5 m, centres 4 m, 169.960° on the small.
    route = route_belt([Circle(0, 0, 0.6), Circle(4, 0, 0.25)])
    assert math.degrees(route.wraps_rad[1]) == pytest.approx(169.960, abs=5e-4)


def test_the_reference_drive_has_its_published_spans() -> None:
    # Beikmann, Perkins & Ulsoy 1996, data from memory, cross-checked: spans 0.1548, 0.3449, 0.5518 m.
    route = route_belt(
        [Circle(0.5525, 0.0556, 0.0889), Circle(0.3477, 0.05715, 0.0452, on_back=True), Circle(0, 0, 0.02697)]
    )
    assert [span.length_m for span in route.spans] == pytest.approx([0.1548, 0.3449, 0.5518], abs=5e-5)
    assert route.turns == (1, -1, 1)


@pytest.mark.parametrize("sense", [1, -1])
def test_a_pulley_named_in_the_wrong_place_makes_the_belt_cross(sense: int) -> None:
    corners = [Circle(0, 0, 0.05), Circle(0.5, 0.5, 0.05), Circle(0.5, 0, 0.05), Circle(0, 0.5, 0.05)]
    with pytest.raises(BeltRouteError, match=r"would cross|ribs inside"):
        trace_belt(corners, sense)
    with pytest.raises(BeltRouteError):
        route_belt(corners)


def test_overlapping_pulleys_are_refused_by_how_much() -> None:
    with pytest.raises(BeltRouteError, match=r"pulley 2 overlaps pulley 1 by 20\.0 mm"):
        route_belt([Circle(0, 0, 0.1), Circle(0.13, 0, 0.05)])


def test_a_belt_through_a_pulley_is_refused() -> None:
    in_the_way = [Circle(0, 0, 0.05), Circle(0.5, 0, 0.05), Circle(0.25, 0.06, 0.05, on_back=True)]
    ribbed_inside = [Circle(0, 0, 0.1), Circle(0.5, 0, 0.1), Circle(0.25, 0, 0.02), Circle(0.25, 0.3, 0.05)]
    assert route_belt(in_the_way).turns == (1, 1, -1)
    with pytest.raises(BeltRouteError):
        route_belt(ribbed_inside)


def test_a_crossed_belt_is_refused() -> None:
    with pytest.raises(BeltRouteError):
        route_belt([Circle(0, 0, 0.1), Circle(0.5, 0, 0.1, on_back=True)])


def test_a_path_that_could_run_either_way_is_refused() -> None:
    with pytest.raises(BeltRouteError, match="either way"):
        route_belt([Circle(0, 0, 0.05), Circle(0.25, 0.0, 0.02, on_back=True), Circle(0.5, 0, 0.05)])


def test_the_sense_of_travel_is_found_for_both_ways_of_listing() -> None:
    corners = [Circle(0, 0, 0.05), Circle(0.5, 0, 0.05), Circle(0.5, 0.5, 0.05), Circle(0, 0.5, 0.05)]
    assert route_belt(corners).turns == (1, 1, 1, 1)
    assert route_belt(corners[::-1]).turns == (-1, -1, -1, -1)
