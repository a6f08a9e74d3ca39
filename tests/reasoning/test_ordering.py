"""The order of elimination."""

import random

from triage.reasoning.ordering import Turn, turns


def numbers(order: list[Turn]) -> int:
    """What all tables hold, each as often as it is pushed or added."""
    total, size = 0, 1
    for turn in order:
        size <<= len(turn.enter)
        total += size * (len(turn.push) + 1)
        size >>= len(turn.leave)
    return total


def test_a_sign_is_in_from_its_first_cause_to_its_last() -> None:
    chance = random.Random(1)
    producers = {f"s{at}": frozenset(chance.sample(range(12), chance.randint(2, 6))) for at in range(9)}
    for pieces in (1, 10**9):
        order = turns(producers, pieces)
        assert sorted(turn.cause for turn in order) == sorted(frozenset.union(*producers.values()))
        inside: set[str] = set()
        for turn in order:
            inside |= set(turn.enter)
            assert set(turn.push) == {sign for sign, causes in producers.items() if turn.cause in causes}
            assert set(turn.push) <= inside
            inside -= set(turn.leave)
        assert not inside


def test_trying_every_first_cause_never_ends_larger() -> None:
    chance = random.Random(2)
    better = 0
    for _ in range(30):
        producers = {f"s{at}": frozenset(chance.sample(range(20), chance.randint(2, 5))) for at in range(14)}
        quick, searched = (numbers(turns(producers, pieces)) for pieces in (1, 10**9))
        assert searched <= quick
        better += searched < quick
    assert better > 10
