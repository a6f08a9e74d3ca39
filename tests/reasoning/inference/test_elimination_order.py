"""The order of elimination."""

import random
import time

import pytest

from triage.errors import TooManyAtOnceError
from triage.reasoning.inference.elimination_order import CauseTurn, turns


def numbers(order: list[CauseTurn]) -> int:
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


def test_more_than_can_be_weighed_in_a_moment_is_said_and_not_begun() -> None:
    every = frozenset(range(25))
    began = time.process_time()
    with pytest.raises(TooManyAtOnceError, match="40 abnormal results hang together"):
        turns({f"sign-{number}": every for number in range(40)}, 1)
    assert time.process_time() - began < 5.0  # a sum of 2^40 numbers would never end
    assert turns({f"sign-{number}": every for number in range(12)}, 1)
