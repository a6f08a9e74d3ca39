"""A small version of tests/bench/kill_session.py."""

from tests.bench import kill_session


def test_nothing_acknowledged_is_lost_when_a_session_is_killed() -> None:
    outcomes = kill_session.kill_many(3, seed=7)
    assert max(outcome.acknowledged for outcome in outcomes) > 0
    assert all(outcome.kept >= outcome.acknowledged for outcome in outcomes)
