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
from triage.knowledge.rounds import go_of, goes_on
from triage.knowledge.walk import walk
from triage.reasoning.advice.changeover import Arrived, Minutes, Standing, standing_after
from triage.reasoning.inference.evidence import Alternative, Evidence, Likelihoods, both, complaint, leading
from triage.reasoning.inference.evidence_rows import side_by_side
from triage.reasoning.inference.network import Network
from triage.reasoning.inference.posterior import joint

NextNode = Callable[[Mapping[str, tuple[str, ...]]], Node]
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
class _Stand:
    """Where a vehicle stands on its way."""

    known: Likelihoods
    findings: Mapping[str, str]
    minutes: float
    standing: Standing
    share: float
    drawn: bool
    go: tuple[str, ...] = ()
    """What is left of a round, in the order of doing."""


def route_of(knowledge: Knowledge, tree: Tree, pulley: str) -> NextNode:
    """The route of a tree on vehicles with one specified pulley type."""
    return lambda findings: walk(knowledge, tree, findings, pulley).node


def ways(
    knowledge: Knowledge, symptom: str, route: NextNode, network: Network, pulley: str, minutes: Minutes, floor: float
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
    waiting = [_Stand(known, {}, 0.0, Arrived(), 1.0, drawn=False)]
    told: dict[str, Mapping[str, Likelihoods]] = {}
    while waiting:
        at = waiting.pop()
        node = route({check: (outcome,) for check, outcome in at.findings.items()})
        if not at.go and node.check is None:
            yield FollowedWay(node, at.findings, at.minutes, at.share, at.drawn, (Alternative(1.0, dict(at.known)),))
            continue
        there = at if at.go else _begun(knowledge, at, go_of(knowledge, node, at.findings, pulley), minutes)
        check = knowledge.checks[there.go[0]]
        if check.id not in told:
            told[check.id] = _told(knowledge, check, pulley)
        branches = _branches(network, there, check.id, told[check.id])
        on = [replace(one, go=one.go if goes_on(knowledge, check, one.findings[check.id]) else ()) for one in branches]
        waiting += _chosen(on, floor, chance)


def _begun(knowledge: Knowledge, at: "_Stand", go: tuple[str, ...], minutes: Minutes) -> "_Stand":
    """Where a vehicle stands for a go of checks, with the minutes of all of it."""
    checks = [knowledge.checks[one] for one in go]
    spent = at.minutes + minutes.of_go(knowledge, checks, at.standing)
    return replace(at, go=go, minutes=spent, standing=standing_after(knowledge, checks[0], at.standing))


def _told(knowledge: Knowledge, check: Check, pulley: str) -> Mapping[str, Likelihoods]:
    """What each outcome of a check says."""
    normal = check.normal(pulley)
    outcomes = (outcome.id for outcome in check.outcomes if outcome.id == normal or not outcome.says_nothing)
    return {outcome: leading(knowledge, check.id, outcome, pulley) for outcome in outcomes}


def _branches(network: Network, at: _Stand, check: str, told: Mapping[str, Likelihoods]) -> Iterator[_Stand]:
    """Where vehicles go on from a check: the outcomes that can be, each with its share."""
    chances, _ = joint(network, side_by_side(network, at.known, tuple(told.values())))
    likely = {
        outcome: chance
        for outcome, chance in zip(told, chances.tolist(), strict=True)
        if chance > IMPOSSIBLE * float(chances.sum())
    }
    for outcome, chance in likely.items():
        share = at.share * chance / sum(likely.values())
        found = {**at.findings, check: outcome}
        yield replace(at, known=both(at.known, told[outcome]), findings=found, share=share, go=at.go[1:])


def _chosen(branches: list[_Stand], floor: float, chance: random.Random) -> Iterator[_Stand]:
    few = [branch for branch in branches if branch.drawn or branch.share < floor]
    yield from (branch for branch in branches if not branch.drawn and branch.share >= floor)
    if few:
        shares = [branch.share for branch in few]
        (one,) = chance.choices(few, shares)
        yield replace(one, share=sum(shares), drawn=one.drawn or len(few) > 1)
