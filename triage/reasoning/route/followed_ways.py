"""The ways that vehicles with one complaint go by a tree, or any other route, each with its exact probability.

Every branch that many vehicles take is followed. Of the branches at one node that few vehicles take, one is drawn by
chance to stand for all of them; from there on a single way is drawn to its end. So the shares of all ways add up to
one, what was never drawn is exact, and what was drawn is a seeded simulation of the rest alone.

A technician is taken to see every sign as it is and to be able to make every check.
"""

import random
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace

from triage.knowledge.models import Check, Knowledge, Node, Tree
from triage.knowledge.walk import walk
from triage.reasoning.advice.changeover import Arrived, Minutes, Standing, standing_after
from triage.reasoning.inference.evidence import Alternative, Evidence, complaint, leading
from triage.reasoning.inference.evidence_rows import Likelihoods
from triage.reasoning.inference.network import Network
from triage.reasoning.inference.open_sum import OpenSum, Terms, terms_of

Route = Callable[[Mapping[str, tuple[str, ...]]], Node]
"""From the findings so far to the next check, a conclusion or an end."""
SEED = 5
IMPOSSIBLE = 1e-9
"""An outcome that fewer of the vehicles at a node have is left out."""


@dataclass(frozen=True)
class FollowedWay:
    """One way from the complaint to a conclusion or an end.

    Args:
        node: where it ends.
        findings: the outcome of each check in the order they were made.
        minutes: change-over included [min].
        share: of all vehicles, those that it stands for [1].
        drawn: whether chance chose it, to stand for others too.
        known: what the complaint and its findings say.
    """

    node: Node
    findings: Mapping[str, str]
    minutes: float
    share: float
    drawn: bool
    known: Evidence


@dataclass(frozen=True)
class _Answer:
    """An outcome of a check and what it says, worked out once."""

    outcome: str
    signs: Likelihoods
    terms: Terms


@dataclass(frozen=True)
class _Stand:
    """Where a vehicle stands on its way."""

    belief: OpenSum
    findings: Mapping[str, str]
    minutes: float
    standing: Standing
    share: float
    drawn: bool


def route_of(knowledge: Knowledge, tree: Tree, pulley: str) -> Route:
    """The route of a tree on vehicles with one specified pulley type."""
    return lambda findings: walk(knowledge, tree, findings, pulley).node


def ways(
    knowledge: Knowledge, symptom: str, route: Route, network: Network, pulley: str, minutes: Minutes, floor: float
) -> Iterator[FollowedWay]:
    """Follow vehicles of one specified pulley type.

    Args:
        knowledge: causes, signs and checks.
        symptom: the complaint.
        route: where the vehicles go.
        network: the causes of such a vehicle.
        pulley: the specified pulley type.
        minutes: what checks and change-over take.
        floor: share of all vehicles below which a branch is drawn for and not followed by itself; 0 follows all [1].
    """
    chance = random.Random(f"{SEED} {symptom} {pulley}")  # noqa: S311 - seeded on purpose
    known = {sign: likelihood for one in complaint(knowledge, symptom) for sign, likelihood in one.signs.items()}
    waiting = [_Stand(OpenSum(network, known, terms_of(network, known)), {}, 0.0, Arrived(), 1.0, drawn=False)]
    answers: dict[str, list[_Answer]] = {}
    while waiting:
        at = waiting.pop()
        node = route({check: (outcome,) for check, outcome in at.findings.items()})
        if node.check is None:
            yield FollowedWay(
                node, at.findings, at.minutes, at.share, at.drawn, (Alternative(1.0, dict(at.belief.signs)),)
            )
            continue
        check = knowledge.checks[node.check]
        if check.id not in answers:
            answers[check.id] = _answers(knowledge, network, check, pulley)
        spent = at.minutes + minutes.of(knowledge, check, at.standing)
        there = replace(at, minutes=spent, standing=standing_after(knowledge, check, at.standing))
        waiting += _chosen(list(_branches(there, check.id, answers[check.id])), floor, chance)


def _answers(knowledge: Knowledge, network: Network, check: Check, pulley: str) -> list[_Answer]:
    normal = check.normal(pulley)
    told = [outcome.id for outcome in check.outcomes if outcome.id == normal or not outcome.says_nothing]
    signs = {outcome: leading(knowledge, check.id, outcome, pulley) for outcome in told}
    return [_Answer(outcome, signs[outcome], terms_of(network, signs[outcome])) for outcome in told]


def _branches(at: _Stand, check: str, answers: list[_Answer]) -> Iterator[_Stand]:
    beliefs = [(answer.outcome, at.belief.after(answer.signs, answer.terms)) for answer in answers]
    likely = [
        (outcome, belief)
        for outcome, belief in beliefs
        if belief and belief.rough_chance > IMPOSSIBLE * at.belief.rough_chance
    ]
    chances = [belief.chance for _, belief in likely]
    for (outcome, belief), chance in zip(likely, chances, strict=True):
        share = at.share * chance / sum(chances)
        yield replace(at, belief=belief, findings={**at.findings, check: outcome}, share=share)


def _chosen(branches: list[_Stand], floor: float, chance: random.Random) -> Iterator[_Stand]:
    few = [branch for branch in branches if branch.drawn or branch.share < floor]
    yield from (branch for branch in branches if not branch.drawn and branch.share >= floor)
    if few:
        shares = [branch.share for branch in few]
        (one,) = chance.choices(few, shares)
        yield replace(one, share=sum(shares), drawn=one.drawn or len(few) > 1)
