"""Places from gaps, on a drive whose places are known."""

import math
from itertools import combinations

import pytest

from triage.drive.entry.gaps import Gap, loose_pulleys, stands, turned_to

PLACES = ((0.0, 0.0), (-0.165, 0.125), (-0.2, 0.27), (-0.02, 0.32), (0.17, 0.26), (0.21, 0.02))
RADII = (0.078, 0.038, 0.027, 0.054, 0.063, 0.056)


def gaps_between(*pairs: tuple[int, int], wrong: float = 0.0) -> tuple[Gap, ...]:
    return tuple(Gap(i, j, math.dist(PLACES[i], PLACES[j]) - RADII[i] - RADII[j] + wrong) for i, j in pairs)


ALL = tuple(combinations(range(6), 2))


def test_all_gaps_give_the_places_back_once_two_are_seen_from_the_crank() -> None:
    (found,) = stands(RADII, gaps_between(*ALL))
    assert max(map(abs, found.residuals_m)) < 1e-9
    looks = [(at, math.atan2(PLACES[at][1], PLACES[at][0])) for at in (2, 5)]
    for place, expected in zip(turned_to(found.places, looks), PLACES, strict=True):
        assert place == pytest.approx(expected, abs=1e-6)


def test_a_rough_look_is_enough_to_turn_and_mirror_a_drive() -> None:
    (found,) = stands(RADII, gaps_between(*ALL))
    looks = [(at, math.atan2(PLACES[at][1], PLACES[at][0]) + 0.2) for at in (2, 5)]
    turned = turned_to(found.places, looks)
    assert math.atan2(turned[3][1], turned[3][0]) == pytest.approx(math.atan2(0.32, -0.02) + 0.2, abs=0.01)


def test_a_wrong_gap_has_the_largest_residual_where_others_overrule_it() -> None:
    gaps = list(gaps_between(*ALL))
    gaps[4] = Gap(gaps[4].first, gaps[4].second, gaps[4].gap_m + 0.02)
    found = stands(RADII, tuple(gaps))[0]
    worst = max(range(len(gaps)), key=lambda at: abs(found.residuals_m[at]))
    assert worst == 4
    assert found.residuals_m[4] > 0.005


def test_nine_gaps_hold_six_pulleys_or_leave_two_ways_to_stand() -> None:
    enough = gaps_between((0, 1), (0, 5), (0, 2), (1, 2), (2, 3), (3, 4), (4, 5), (1, 3), (3, 5))
    assert loose_pulleys(6, enough) == ()
    found = stands(RADII, enough)
    assert all(stand.rms_m < 1e-6 for stand in found)
    pairs = [abs(math.dist(found[0].places[i], found[0].places[j]) - math.dist(PLACES[i], PLACES[j])) for i, j in ALL]
    others = [
        max(abs(math.dist(one.places[i], one.places[j]) - math.dist(PLACES[i], PLACES[j])) for i, j in ALL)
        for one in found
    ]
    assert min(others) < 1e-4
    assert len(pairs) == 15


def test_a_pulley_that_hangs_on_two_gaps_may_stand_on_either_side() -> None:
    gaps = gaps_between(*(pair for pair in ALL if 3 not in pair), (2, 3), (3, 4))
    assert len(stands(RADII, gaps)) == 2


def test_pulleys_with_too_few_gaps_are_named() -> None:
    assert loose_pulleys(6, gaps_between((0, 1), (0, 2), (1, 2))) == (3, 4, 5)
    ring = gaps_between((0, 1), (1, 2), (2, 3), (3, 4), (4, 5), (5, 0))
    assert loose_pulleys(6, ring) == (0, 1, 2, 3, 4, 5)
    assert loose_pulleys(2, gaps_between((0, 1))) == ()
