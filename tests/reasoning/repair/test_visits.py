"""One visit for several works: every set, its limits, and what sharing saves."""

import math
from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from triage.reasoning.repair.renewal import RenewalPlan
from triage.reasoning.repair.visits import Visit, Work, cost_now, visits
from triage.record.wear import Weibull

BREAKDOWN, KEPT = 260.0, 150.0
AGES = st.lists(st.floats(0.0, 400.0), min_size=3, max_size=3)


def parts(labour: dict[str, float], access: dict[str, frozenset[str]], ages: list[float]) -> dict[str, float]:
    """What each of three parts is expected to cost sooner than a new one, renewed in visits of its own."""
    ahead = {}
    for part, age, scale in zip("abc", ages, (150.0, 200.0, 300.0), strict=True):
        planned = 40.0 + sum(labour[one] for one in access[part])
        ahead[part] = RenewalPlan(Weibull(shape=4.0, scale=scale), planned, planned + BREAKDOWN).ahead(age, KEPT)
    return ahead


def least(every: list[Visit]) -> Visit:
    return min(every, key=lambda visit: (round(visit.total, 9), len(visit.works)))


def works(access: dict[str, frozenset[str]]) -> list[Work]:
    return [Work(part, access[part], 40.0, frozenset(part)) for part in "abc"]


@given(AGES)
@settings(max_examples=25, deadline=None)
def test_without_shared_labour_each_part_is_judged_by_its_own_age(ages: list[float]) -> None:
    labour = {"x": 30.0, "y": 50.0, "z": 20.0}
    access = {"a": frozenset("x"), "b": frozenset("y"), "c": frozenset("z")}
    ahead = parts(labour, access, ages)
    best = least(list(visits(works(access), labour, ahead, lambda _: 0.0)))
    planned = {"a": 70.0, "b": 90.0, "c": 60.0}
    # In a visit of its own a part can wait as long as that costs no more than renewing it at once.
    assert set(best.works) <= {part for part in "abc" if ahead[part] >= planned[part] - 1e-6}
    assert best.total == pytest.approx(sum(min(ahead[part], planned[part]) for part in "abc"))


@pytest.mark.parametrize("share", [0.5, 0.8, 0.95, 1.05, 1.3])
def test_without_shared_labour_a_part_is_due_at_its_best_age_and_not_before(share: float) -> None:
    alone = RenewalPlan(Weibull(shape=4.0, scale=150.0), 70.0, 70.0 + BREAKDOWN)
    ahead = {"a": alone.ahead(share * alone.best_age(), 4 * 150.0)}
    every = list(visits([Work("a", frozenset("x"), 40.0, frozenset("a"))], {"x": 30.0}, ahead, lambda _: 0.0))
    waiting, renewing = (next(one.total for one in every if one.works == done) for done in ((), ("a",)))
    assert renewing == 70.0
    assert waiting == pytest.approx(renewing) if share >= 1.0 else waiting < renewing - 0.01


@given(AGES)
@settings(max_examples=25, deadline=None)
def test_sharing_labour_never_costs_more_than_not_sharing_it(ages: list[float]) -> None:
    labour = {"x": 50.0}
    access = dict.fromkeys("abc", frozenset("x"))
    ahead = parts(labour, access, ages)
    best = least(list(visits(works(access), labour, ahead, lambda _: 0.0)))
    apart = sum(min(ahead[part], 90.0) for part in "abc")
    assert best.total <= apart + 1e-9


def test_a_worn_part_is_renewed_earlier_where_the_labour_is_paid_already() -> None:
    labour = {"x": 80.0}
    access = dict.fromkeys("abc", frozenset("x"))
    ahead = parts(labour, access, [120.0, 60.0, 10.0])
    every = list(visits(works(access), labour, ahead, lambda cured: 0.0 if "fault" in cured else 1e6))
    assert all(math.isclose(visit.further, 1e6) for visit in every)
    faulty = Work("a", frozenset("x"), 40.0, frozenset("a"), frozenset({"fault"}))
    best = least(list(visits([faulty, *works(access)[1:]], labour, ahead, lambda c: 0.0 if c else 1e6)))
    assert best.works == ("a", "b")
    assert ahead["b"] < 40.0 + 80.0  # by itself it could have waited


@given(st.lists(st.sets(st.sampled_from("xyz")), min_size=4, max_size=4), st.lists(st.floats(0, 99), min_size=8))
@settings(max_examples=40, deadline=None)
def test_the_best_of_every_set_is_found_by_counting_them_all(opened: list[set[str]], costs: list[float]) -> None:
    labour = dict(zip("xyz", costs, strict=False))
    ahead = dict(zip("abcd", costs[3:], strict=False))
    every = [Work(part, frozenset(o), 20.0, frozenset(part)) for part, o in zip("abcd", opened, strict=True)]
    totals = []
    for taken in product((False, True), repeat=4):
        done = [work for work, yes in zip(every, taken, strict=True) if yes]
        now = 20.0 * len(done) + sum(labour[one] for one in {access for work in done for access in work.access})
        left_in = sum(ahead.get(work.id, 0.0) for work, yes in zip(every, taken, strict=True) if not yes)
        totals.append(now + left_in)
    found = list(visits(every, labour, ahead, lambda _: 0.0))
    assert len(found) == 16
    assert sorted(visit.total for visit in found) == pytest.approx(sorted(totals))


def test_an_access_is_paid_once() -> None:
    both = [Work("a", frozenset({"x", "y"}), 1.0, frozenset()), Work("b", frozenset({"x"}), 2.0, frozenset())]
    assert cost_now(both, {"x": 10.0, "y": 100.0}) == 113.0
