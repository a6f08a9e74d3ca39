"""The order of least expected cost, against published values and against every order there is."""

from collections.abc import Callable
from itertools import permutations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from triage.reasoning.repair.repair_order import Repair, Tries


def alone(**chances: float) -> Callable[[frozenset[str]], float]:
    """How probably the complaint is gone where one cause alone made it."""
    return lambda causes: sum(chances.get(cause, 0.0) for cause in sorted(causes))


# Heckerman, Breese & Rommelse 1995: chances, cost of looking, cost of repairing; from memory, recomputed.
LOOKED = Tries(
    [
        Repair(name, look, mend, frozenset(name))
        for name, look, mend in zip("1234", (10, 5, 2, 1), (40, 30, 20, 10), strict=True)
    ],
    alone(**dict(zip("1234", (0.50, 0.30, 0.15, 0.05), strict=True))),
)
# One repair covers several causes, unit costs; the small example of dependent repairs, from memory, recomputed.
DEPENDENT = Tries(
    [Repair("A1", 1, 0, frozenset("12")), Repair("A2", 1, 0, frozenset("23")), Repair("A3", 1, 0, frozenset("34"))],
    alone(**{"1": 0.20, "2": 0.25, "3": 0.40, "4": 0.15}),
)


def ids(order: tuple[Repair, ...]) -> list[str]:
    return [one.id for one in order]


def test_the_published_order_with_looks_costs_44_30_and_by_likelihood_alone_45_45() -> None:
    best = LOOKED.best()
    assert ids(best) in (["3", "2", "1", "4"], ["3", "2", "4", "1"])
    assert LOOKED.cost(best) == pytest.approx(44.30)
    assert LOOKED.further(frozenset()) == pytest.approx(44.30)
    assert min(map(LOOKED.cost, permutations(LOOKED.repairs))) == pytest.approx(44.30)
    assert ids(LOOKED.by_likelihood()) == ["1", "2", "3", "4"]
    assert LOOKED.cost(LOOKED.by_likelihood()) == pytest.approx(45.45)


def test_repairs_that_cover_several_causes_cost_1_45_and_greedily_1_50() -> None:
    assert set(ids(DEPENDENT.best())) == {"A1", "A3"}
    assert DEPENDENT.cost(DEPENDENT.best()) == pytest.approx(1.45)
    assert ids(DEPENDENT.by_likelihood())[0] == "A2"
    assert DEPENDENT.cost(DEPENDENT.by_likelihood()) == pytest.approx(1.50)


def test_what_is_out_of_the_way_costs_nothing_more() -> None:
    assert DEPENDENT.further(frozenset("1234")) == 0.0
    assert DEPENDENT.further(frozenset("34")) == pytest.approx(0.45)


def test_a_fault_that_no_repair_cures_lets_every_repair_be_tried_in_vain() -> None:
    tries = Tries([Repair("one", 2.0, 3.0, frozenset("a"))], alone(a=0.5))
    assert tries.cost(tries.best()) == pytest.approx(2.0 + 0.5 * 3.0)


repair = st.builds(
    lambda trial, mend, cures: (trial, mend, frozenset(cures)),
    st.floats(0.1, 9.0),
    st.floats(0.0, 9.0),
    st.sets(st.sampled_from("abcde"), min_size=1, max_size=3),
)


@given(st.lists(repair, min_size=1, max_size=5), st.lists(st.floats(0.01, 1.0), min_size=5, max_size=5))
@settings(max_examples=60, deadline=None)
def test_no_order_costs_less_than_the_best(
    repairs: list[tuple[float, float, frozenset[str]]], weights: list[float]
) -> None:
    chances = {cause: weight / sum(weights) for cause, weight in zip("abcde", weights, strict=True)}
    tries = Tries([Repair(str(place), *one) for place, one in enumerate(repairs)], alone(**chances))
    cured = frozenset[str]().union(*(one.cures for one in tries.repairs))

    def stops(order: tuple[Repair, ...]) -> tuple[Repair, ...]:
        """Nobody goes on once nothing is left that could be cured."""
        out: frozenset[str] = frozenset()
        kept = []
        for one in order:
            if one.cures - out:
                kept.append(one)
            out |= one.cures
        return tuple(kept)

    every = [tries.cost(stops(order)) for order in permutations(tries.repairs)]
    assert tries.cost(tries.best()) == pytest.approx(min(every))
    assert tries.further(frozenset()) == pytest.approx(min(every))
    assert frozenset[str]().union(*(one.cures for one in tries.best())) == cured
