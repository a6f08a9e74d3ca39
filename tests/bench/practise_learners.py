"""Simulated learners: the reference itself, who follows the tree, who goes down a list, who guesses."""

import random
from collections.abc import Callable

from triage.practice.allowed import refusal
from triage.practice.exercise import Exercise
from triage.practice.score import reference_at

Learner = Callable[[Exercise, random.Random], None]
MOST_GOES = 60


def reference(exercise: Exercise, chance: random.Random) -> None:
    """Does what the reference does, sees all as it is, repairs what it names and proves it."""
    del chance
    policy = reference_at(exercise)
    for _ in range(MOST_GOES):
        seen = policy.seen(exercise.made, exercise.stands.how)
        if seen is None or seen.offer is None:
            break
        judged(exercise, seen.offer.checks)
    concluded(exercise, tuple(policy.weigher({}).stakes.network.causes[at] for at in seen.outlook.end) if seen else ())


def tree_follower(exercise: Exercise, chance: random.Random) -> None:
    """Goes along the tree and concludes what it does."""
    del chance
    for _ in range(MOST_GOES):
        checks = exercise.of_tree()
        if not checks:
            break
        refused = refusal(exercise, checks)
        if refused is None:
            judged(exercise, checks)
        else:
            for check in refused.not_done or checks:
                exercise.judge(check, ())
    concluded(exercise, exercise.place().node.conclude)


def fixed_order(exercise: Exercise, chance: random.Random) -> None:
    """Makes one check after the other in the order of the list until one is not normal, and names a cause of that."""
    del chance
    for check in exercise.checks:
        if check in exercise.made or refusal(exercise, (check,)):
            continue
        judged(exercise, (check,))
        cause = _spoken_for(exercise, check)
        if cause:
            concluded(exercise, (cause,))
            return
    concluded(exercise, ())


def guesser(exercise: Exercise, chance: random.Random) -> None:
    """Makes a few checks at random and names a cause at random."""
    for _ in range(chance.randrange(1, 8)):
        check = chance.choice(exercise.checks)
        if check not in exercise.made and refusal(exercise, (check,)) is None:
            judged(exercise, (check,))
    concluded(exercise, (chance.choice(exercise.nameable()),))


def judged(exercise: Exercise, checks: tuple[str, ...]) -> None:
    """Make checks and take all that shows for what it is."""
    for shown in exercise.go(checks).shown:
        exercise.judge(shown.check, shown.outcomes)


def concluded(exercise: Exercise, causes: tuple[str, ...]) -> None:
    """Conclude, repair what goes with it, and prove it."""
    remedies = tuple(dict.fromkeys(exercise.knowledge.causes[one].remedy for one in causes))
    exercise.repaired(causes, remedies)
    if remedies:
        exercise.prove()


def _spoken_for(exercise: Exercise, check_id: str) -> str:
    """The first cause that what was seen speaks for; "" where it is normal."""
    check = exercise.knowledge.checks[check_id]
    normal = check.normal(exercise.vehicle.pulley)
    for outcome in map(check.outcome, exercise.made[check_id]):
        sign = exercise.knowledge.signs.get((outcome.sign if outcome else None) or check.sign or "")
        if outcome and outcome.id != normal and sign and check.way != "ask":
            return next((one for one in sign.produced_by if one in exercise.nameable()), "")
    return ""
