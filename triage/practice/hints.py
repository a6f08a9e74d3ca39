"""Hints in three steps, each with its price: what is still open, what tells it apart, what the reference would do."""

from dataclasses import dataclass
from typing import Final

from triage.practice.exercise import Exercise
from triage.practice.score import reference_at

PRICES_MIN: Final = (2.0, 5.0, 10.0)
"""What each step costs in the score [min]. Source: from-memory, so that a hint is dearer than a question."""
MOST_NAMED: Final = 3


@dataclass(frozen=True)
class Hint:
    """One hint.

    Args:
        causes: what is still open, the likeliest first.
        checks: what tells it apart, or what comes next.
        ends: whether the reference would end here.
    """

    causes: tuple[str, ...] = ()
    checks: tuple[str, ...] = ()
    ends: bool = False


def hint(exercise: Exercise, step: int) -> Hint:
    """A hint for where an exercise stands.

    Args:
        exercise: the exercise.
        step: 0 what is open, 1 what tells it apart, 2 what the reference would do.
    """
    reference = reference_at(exercise)
    if step == 0:
        likely = reference.belief(exercise.made).deciding
        order = sorted(likely, key=lambda one: -likely[one])
        return Hint(causes=tuple(order[:MOST_NAMED]))
    seen = reference.seen(exercise.made, exercise.stands.how)
    if seen is None:
        return Hint(ends=True)
    if step == 1:
        telling = sorted((one for one in seen.outlook.checks if one.gain_bits), key=lambda one: -one.gain_bits)
        return Hint(checks=tuple(one.checks[0] for one in telling[:MOST_NAMED]))
    return Hint(checks=seen.offer.checks) if seen.offer else Hint(ends=True)
