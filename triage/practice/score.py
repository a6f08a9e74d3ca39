"""How an exercise went, step by step, against the reference policy: in minutes, and in expectation.

A step is charged what it is expected to cost from there on, less the same of what the reference would have done
from the very same place: its minutes, and after each answer the best that is offered then. So luck does not count, and
a better choice than the reference's counts below 0. What was
judged wrongly, concluded beyond what the findings carried, put right otherwise, or left unproved is charged at the end.
The steps add up to the total. Safety errors and parts renewed for nothing are no part of it.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

from triage.knowledge.models import Knowledge
from triage.knowledge.rounds import is_running
from triage.practice.answers import Shown
from triage.practice.exercise import Exercise
from triage.practice.going import Course, Part, ScoredStep
from triage.practice.policy import Findings, Reference
from triage.reasoning.advice.changeover import ARRIVED, Standing, minutes_of

PARTS: tuple[Part, ...] = ("check", "judgement", "conclusion", "repair", "proof", "hints")
RULED_OUT = 0.01
"""Below it a cause counts as ruled out [1]. Source: from-memory, as where `likely` says so."""


@dataclass(frozen=True)
class Score:
    """How it went.

    Args:
        steps: every step; they add up to the total.
        brier: of each belief in turn, over the causes that could be named; 0 is best.
        lost_at: the go after which what is hidden counted as ruled out by what was judged; None where it never did.
    """

    steps: tuple[ScoredStep, ...]
    brier: tuple[float, ...] = ()
    lost_at: int | None = None

    @property
    def total_min(self) -> float:
        """What was lost in all [min]."""
        return sum(one.regret_min for one in self.steps)

    def of(self, part: Part) -> float:
        """What was lost in one part [min]."""
        return sum(one.regret_min for one in self.steps if one.part == part)

    @property
    def worst(self) -> ScoredStep | None:
        """The step that lost most; None where none lost anything."""
        lossy = [one for one in self.steps if one.regret_min > 0.0 and one.part != "hints"]
        return max(lossy, key=lambda one: one.regret_min, default=None)


class Scorer:
    """Scores an exercise that has ended.

    Attributes:
        exercise: the exercise.
    """

    def __init__(self, exercise: Exercise) -> None:
        """Take an exercise."""
        self.exercise = exercise

    @cached_property
    def course(self) -> Course:
        """Its course beside the reference."""
        exercise = self.exercise
        return Course(reference_at(exercise), tuple(exercise.course), dict(exercise.made), exercise.stands.how)

    @property
    def reference(self) -> Reference:
        """The reference at the same vehicle."""
        return self.course.reference

    def score(self) -> Score:
        """All of it."""
        steps = [*self.course.steps(), *self._of_end()]
        if self.exercise.hint_min:
            steps.append(ScoredStep("hints", len(self.exercise.course), (), self.exercise.hint_min))
        return Score(tuple(steps), self.briers(), self._lost_at())

    def _of_end(self) -> list[ScoredStep]:
        ended, last = self.exercise.ended, len(self.exercise.course)
        if ended is None:
            return []
        early = None if self._tree_ends() else self.course.early()
        shown, named = self.shown(), ended.causes
        by_judged, by_shown = self.course.end(self.exercise.made), self.course.end(shown)
        costs = {one: self.course.end_cost(shown, one) for one in {named, by_judged, by_shown}}
        mine = tuple(dict.fromkeys(self.exercise.knowledge.causes[one].remedy for one in named))
        repair = self._cost_of(shown, ended.remedies) - self._cost_of(shown, mine)
        conclusion = 0.0 if self._tree_ends() else costs[named] - costs[by_judged]
        judgement = 0.0 if self._tree_ends() else costs[by_judged] - costs[by_shown]
        return [
            *([early] if early else []),
            ScoredStep("judgement", last, (), judgement),
            ScoredStep("conclusion", last, named, conclusion),
            ScoredStep("repair", last, ended.remedies, repair),
            ScoredStep("proof", last, (), 0.0 if ended.proved else self._unproved(shown)),
        ]

    def _tree_ends(self) -> bool:
        """Whether nothing is concluded and the tree itself ends so: the complaint was not met, or is no fault."""
        node = self.exercise.place().node
        nothing = self.exercise.ended is not None and not self.exercise.ended.causes
        return nothing and node.end in ("nothing-wrong", "not-reproduced")

    def shown(self) -> Findings:
        """What was to be seen, in place of what it was taken for."""
        true = {one.check: one.outcomes for gone in self.exercise.course for one in gone.shown}
        return {check: true.get(check, outcomes) for check, outcomes in self.exercise.made.items()}

    def _cost_of(self, findings: Findings, remedies: Sequence[str]) -> float:
        """What it costs to make remedies, each for nothing where none of its causes made the complaint [min]."""
        stakes, known = self.reference.weigher(findings).stakes, self.reference.at(findings, None).known
        sums, weights = stakes.summed(known), self.exercise.setting.weights
        if sums.chance[0] <= 0.0:
            return 0.0
        each = [self._places(stakes.network.causes, [one]) for one in remedies]
        idle = sum(1.0 - stakes.any_made(known, places, sums) for places in each)
        gone = stakes.gone(known, self._places(stakes.network.causes, remedies))
        return float(weights.for_nothing_min * idle + weights.left_in_min * (1.0 - gone))

    def _places(self, causes: Sequence[str], remedies: Sequence[str]) -> tuple[int, ...]:
        cured = self.exercise.cured_by(remedies)
        return tuple(at for at, one in enumerate(causes) if one in cured)

    def _unproved(self, findings: Findings) -> float:
        """What a repair without proof risks: a comeback that the proof would have shown, less its minutes [min]."""
        ended = self.exercise.ended
        if ended is None or not ended.remedies:
            return 0.0
        stakes, known = self.reference.weigher(findings).stakes, self.reference.at(findings, None).known
        if stakes.summed(known).chance[0] <= 0.0:
            return 0.0
        stays = 1.0 - stakes.gone(known, self._places(stakes.network.causes, ended.remedies))
        weights, knowledge = self.exercise.setting.weights, self.exercise.knowledge
        check = knowledge.checks[knowledge.trees[self.exercise.vehicle.symptom].repeat]
        minutes = minutes_of(weights).of(knowledge, check, self.exercise.stands.how)
        return max(0.0, float(stays) * weights.left_in_min - minutes)

    def briers(self) -> tuple[float, ...]:
        """The mean squared error of each belief over the causes that could be named."""
        names, made = self.exercise.nameable(), set(self.exercise.vehicle.made)
        return tuple(
            sum((shares.get(one, 0.0) - (one in made)) ** 2 for one in names) / max(len(names), 1)
            for _, shares in self.exercise.beliefs
        )

    def _lost_at(self) -> int | None:
        made = self.exercise.vehicle.made
        for number in range(len(self.exercise.course)):
            after = self._after(number)
            deciding = self.reference.belief(after).deciding
            if made and all(deciding.get(one, 0.0) < RULED_OUT for one in made):
                return number
        return None

    def _after(self, number: int) -> Findings:
        gone = self.exercise.course[number]
        return {**gone.before, **gone.judged}


def reference_at(exercise: Exercise) -> Reference:
    """The reference at the vehicle of an exercise, knowing what the learner could know."""
    vehicle = exercise.vehicle
    weights = exercise.setting.weights
    knowledge = exercise.knowledge
    return Reference(knowledge, vehicle.symptom, vehicle.pulley, vehicle.driven_m, weights, vehicle.lacking)


@dataclass(frozen=True)
class ReferenceWay:
    """The way that the reference takes at a vehicle.

    Args:
        goes: the checks of each go.
        minutes: what they take [min].
        causes: what it names in the end.
    """

    goes: tuple[tuple[str, ...], ...]
    minutes: float
    causes: tuple[str, ...]


def reference_way(exercise: Exercise, most: int = 40) -> ReferenceWay:
    """What the reference does at a vehicle, seeing everything as it is."""
    reference, findings, goes, minutes = (
        reference_at(exercise),
        dict[str, tuple[str, ...]](),
        list[tuple[str, ...]](),
        0.0,
    )
    how: Standing = ARRIVED
    for _ in range(most):
        seen = reference.seen(findings, how)
        if seen is None or seen.offer is None:
            break
        made = _made(exercise, findings, seen.offer.checks)
        knowledge = exercise.knowledge
        minutes += minutes_of(reference.weights).of_go(knowledge, [knowledge.checks[one] for one in made], how)
        how = reference.standing_after(how, made)
        goes.append(made)
    return ReferenceWay(tuple(goes), minutes, Course(reference, (), findings, how).end(findings))


def _made(exercise: Exercise, findings: dict[str, tuple[str, ...]], checks: Sequence[str]) -> tuple[str, ...]:
    """The checks of a go that are made, their outcomes put among the findings."""
    made: list[str] = []
    for check in checks:
        shown = exercise.answers.shown(check, tuple(findings))
        findings[check] = shown.outcomes
        made.append(check)
        if is_running(exercise.knowledge, exercise.knowledge.checks[check]) and _closes(exercise.knowledge, shown):
            break
    return tuple(made)


def _closes(knowledge: Knowledge, shown: Shown) -> bool:
    outcomes = map(knowledge.checks[shown.check].outcome, shown.outcomes)
    return any(one is not None and one.closes_running for one in outcomes)
