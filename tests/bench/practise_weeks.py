"""Simulated weeks of practice: is a learner seen who errs half as often, and do chosen vehicles train more?

    python tests/bench/practise_weeks.py [--learners 200] [--seed 1]

No exercise is played: a learner is a chance of error for each thing to learn, and a vehicle what it teaches, drawn as
`triage practice` draws it. A thing that was met and debriefed is got wrong less often afterwards. How much less is an
assumption and nothing that anybody measured.
"""

import argparse
import random
import sys
from collections.abc import Sequence
from datetime import date, timedelta
from functools import cache
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from triage.knowledge.loading import load_knowledge
from triage.knowledge.models import Knowledge
from triage.knowledge.shipped import trees_folder
from triage.practice.vehicle import drawn
from triage.practice.weeks.progress import trend_of
from triage.practice.weeks.training import CANDIDATES, boxes, worth_training
from triage.practice.weeks.went import Went

JUDGED = 25
"""Things judged in an exercise: about what the tree asks of a vehicle."""
FIRST = date(2026, 1, 5)
POOL, LEVEL = 400, 1
LEARNED = 0.6
"""What is left of a chance of error after a debrief. Assumed."""
A_DAY = 2
Taught = tuple[str, ...]
"""The faults of a vehicle."""


@cache
def shipped() -> Knowledge:
    """The shipped knowledge."""
    return load_knowledge(trees_folder())


@cache
def pool(size: int) -> tuple[Taught, ...]:
    """The faults of so many vehicles."""
    return tuple(drawn(shipped(), "", LEVEL, seed).made for seed in range(size))


def judged_weeks(rng: random.Random, rates: Sequence[float]) -> list[Went]:
    """Exercises of which each has its own chance of a wrong judgement."""
    return [
        Went(
            "one",
            FIRST + timedelta(days=number // A_DAY),
            "belt-chirp",
            LEVEL,
            {"check": 0.0},
            judged=JUDGED,
            misread=tuple("belt-condition" for _ in range(JUDGED) if rng.random() < rate),
        )
        for number, rate in enumerate(rates)
    ]


def seen_better(learners: int, seed: int, before: float, after: float) -> float:
    """The share of learners who are said to be better ten exercises after their chance of error changed [1]."""
    rng = random.Random(seed)
    trends = [trend_of(judged_weeks(rng, [before] * 20 + [after] * 10)) for _ in range(learners)]
    return trends.count("better") / learners


def left_to_learn(rng: random.Random, vehicles: Sequence[Taught], exercises: int, *, chosen: bool) -> float:
    """The mean chance of error over what customers bring, after so many exercises [1]."""
    errs = {fault: rng.uniform(0.1, 0.9) for fault in sorted({fault for faults in vehicles for fault in faults})}
    went: list[Went] = []
    for number in range(exercises):
        today, lying = FIRST + timedelta(days=number // A_DAY), boxes(went)
        few = rng.sample(vehicles, CANDIDATES if chosen else 1)
        faults = max(few, key=lambda one: worth_training(shipped(), lying, one, today))
        right = tuple(fault for fault in faults if rng.random() > errs[fault])
        went.append(Went("one", today, "belt-chirp", LEVEL, {"check": 0.0}, faults=faults, concluded=right))
        for fault in faults:
            errs[fault] *= LEARNED
    met = [fault for faults in vehicles for fault in faults]
    return sum(errs[fault] for fault in met) / len(met)


def beats_random(learners: int, seed: int, exercises: int = 40, size: int = POOL) -> tuple[float, float, int]:
    """What is left to learn in the mean with chosen and with any vehicles, and for how many chosen ones leave less."""
    vehicles = pool(size)
    left = [
        [left_to_learn(random.Random(f"{seed} {one}"), vehicles, exercises, chosen=chosen) for one in range(learners)]
        for chosen in (True, False)
    ]
    less = sum(chosen < by_chance for chosen, by_chance in zip(*left, strict=True))
    return sum(left[0]) / learners, sum(left[1]) / learners, less


def main() -> int:
    """Print what was found."""
    parser = argparse.ArgumentParser(description="Simulate weeks of practice.")
    parser.add_argument("--learners", type=int, default=200)
    parser.add_argument("--seed", type=int, default=1)
    options = parser.parse_args()
    for before, after in ((0.2, 0.1), (0.1, 0.05), (0.2, 0.2), (0.1, 0.1)):
        share = seen_better(options.learners, options.seed, before, after)
        print(f"errs {before:.0%}, then {after:.0%}: said to be better {share:.1%}")
    chosen, by_chance, better = beats_random(options.learners, options.seed)
    print(f"left to learn: {chosen:.4f} with chosen vehicles, {by_chance:.4f} with any")
    print(f"less with chosen ones: {better} of {options.learners} learners")
    return 0


if __name__ == "__main__":
    sys.exit(main())
