"""The search at one vehicle as a problem of numbers: its possibilities, its tree's checks, and what each end costs.

Only the tree's own checks are used, behind its precautions, and only what its author would take for a ground speaks
for a cause.
"""

from collections import Counter
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from triage.knowledge.grounds import Grounds, grounds
from triage.knowledge.models import Check, Knowledge
from triage.knowledge.precautions import NOT_DONE as UNDONE
from triage.knowledge.precautions import Precautions
from triage.reasoning.bounding import Turn
from triage.reasoning.changeover import Arrived, ChangeOver, Minutes, Standing, minutes_of, standing_after
from triage.reasoning.conclusions import cost_of, ends_of, groups_of
from triage.reasoning.evidence import Alternative, Evidence, Found, leading, together
from triage.reasoning.losses import losses_of
from triage.reasoning.network import Network, Numbers, Shifts, network_of
from triage.reasoning.possibilities import Possibilities, likelihood, possibilities
from triage.reasoning.ranking import pieces_of
from triage.reasoning.sequencing import NOT_DONE, Position, Problem
from triage.record.weights import Weights

ARRIVED = Arrived()
WEIGHTS = Weights()


@dataclass(frozen=True)
class Search:
    """A problem with the names behind its numbers.

    Args:
        problem: the numbers.
        root: where the search stands.
        checks: id of each check.
        outcomes: for each check the ids of its outcomes.
        ends: for each end the causes that are put right one after the other; a conclusion names the first of them.
        faults: which causes are present in each possibility; shape (s, n) [1].
        causes: id of each cause.
        turns: what it takes at least to turn the vehicle, for checks that need it turned.
        kept: share of all probability that the list of possibilities holds [1].
    """

    problem: Problem
    root: Position
    checks: tuple[str, ...]
    outcomes: tuple[tuple[str, ...], ...]
    ends: tuple[tuple[str, ...], ...]
    faults: Numbers
    causes: tuple[str, ...]
    turns: tuple[Turn, ...]
    kept: float


@dataclass(frozen=True)
class Vehicle:
    """What is known of a vehicle before its search is planned.

    Args:
        symptom: the complaint.
        pulley: the specified pulley type.
        findings: what was found, without contradictions.
        standing: how the vehicle stands.
        without: tools that are not at hand; the checks that need them are left out.
        left_out: checks that are not to be made.
        shifts: what circumstances do to the odds of causes.
    """

    symptom: str
    pulley: str
    findings: tuple[Found, ...] = ()
    standing: Standing = ARRIVED
    without: frozenset[str] = frozenset()
    left_out: frozenset[str] = frozenset()
    shifts: Shifts = field(default_factory=dict)


def search_of(
    knowledge: Knowledge, vehicle: Vehicle, weights: Weights = WEIGHTS, reasons: Grounds | None = None
) -> Search:
    """Put a search into numbers.

    Args:
        knowledge: causes, signs, checks and the symptom's tree.
        vehicle: what is known of the vehicle.
        weights: what wrong ends cost, and what checks and turns of the vehicle take.
        reasons: the grounds of the symptom's tree where they are at hand; working them out takes a while.
    """
    tree, pulley = knowledge.trees[vehicle.symptom], vehicle.pulley
    limits = Precautions(knowledge, tree, pulley)
    checks = [knowledge.checks[check] for check in limits.checks]
    checks = [check for check in checks if check.id not in vehicle.left_out and not vehicle.without & set(check.tools)]
    network = network_of(knowledge, pulley, vehicle.shifts)
    listed = _listed(knowledge, vehicle, network, checks)
    ends = tuple(ends_of(knowledge, vehicle.symptom, network, listed))
    told = reasons or grounds(knowledge, tree)
    speaks = [
        [cause in told[check.id][out.id] for check in checks for out in check.outcomes] for cause in network.causes
    ]
    columns = [column for check in checks for column in _columns(knowledge, check, pulley, listed)]
    takes = minutes_of(weights)
    spent, after = _turned(knowledge, vehicle.standing, checks, takes)
    relevant = sorted({cause for end in ends for cause in end})
    losses = losses_of(network, weights)
    problem = Problem(
        weights=listed.weights,
        likelihoods=np.column_stack(columns),
        sizes=tuple(len(check.outcomes) for check in checks),
        minutes=spent,
        after=after,
        ends=np.array([cost_of(listed.faults, end, relevant, losses) for end in ends]),
        names=np.array([[float(at in end) for at in range(len(network.causes))] for end in ends]),
        speaks=np.array(speaks),
        groups=groups_of(listed, relevant),
        opens=_opens(limits, checks),
    )
    names = tuple(tuple(network.causes[at] for at in end) for end in ends)
    outcomes = tuple(tuple(outcome.id for outcome in check.outcomes) for check in checks)
    turns = tuple(_turns(knowledge, vehicle.standing, checks, takes.change_over))
    root = _root(problem, vehicle, [check.id for check in checks], outcomes)
    return Search(
        problem,
        root,
        tuple(check.id for check in checks),
        outcomes,
        names,
        listed.faults,
        network.causes,
        turns,
        listed.kept,
    )


def _root(problem: Problem, vehicle: Vehicle, checks: list[str], outcomes: tuple[tuple[str, ...], ...]) -> Position:
    """Where the search stands: what was found has weighed the possibilities already."""
    made: dict[int, int] = {}
    spoken = np.zeros(problem.names.shape[1], dtype=np.bool_)
    for found in vehicle.findings:
        if found.check in checks:
            at = checks.index(found.check)
            told = [outcomes[at].index(outcome) for outcome in found.outcomes]
            made[at] = min(told, default=NOT_DONE)
            for outcome in told:
                spoken |= problem.speaks[:, problem.starts[at] + outcome]
    return Position(problem.weights, spoken, made=made)


def _listed(knowledge: Knowledge, vehicle: Vehicle, network: Network, checks: list[Check]) -> Possibilities:
    told = [
        {
            sign
            for outcome in check.outcomes
            for one in _evidence(knowledge, check, outcome.id, vehicle.pulley)
            for sign in one.signs
        }
        for check in checks
    ]
    seen = Counter(sign for some in told for sign in some)
    pieces = pieces_of(knowledge, vehicle.symptom, vehicle.findings, vehicle.pulley)
    return possibilities(network, together(pieces.values()), list(seen), [sign for sign in seen if seen[sign] > 1])


def _columns(knowledge: Knowledge, check: Check, pulley: str, listed: Possibilities) -> list[Numbers]:
    """Chance of each outcome in each possibility; how often those come that show no sign is not known."""
    size = len(listed.weights)
    if not check.sign and not any(outcome.sign for outcome in check.outcomes):
        return [np.full(size, 1.0 / len(check.outcomes)) for _ in check.outcomes]
    told = (_evidence(knowledge, check, outcome.id, pulley) for outcome in check.outcomes)
    return [likelihood(one, listed.levels, size) for one in told]


def _evidence(knowledge: Knowledge, check: Check, outcome: str, pulley: str) -> Evidence:
    """What an outcome shows; the normal one shows that nothing else does, even where it says nothing as an answer."""
    told = check.outcome(outcome)
    silent = told is None or (told.says_nothing and told.id != check.normal(pulley))
    return () if silent else (Alternative(1.0, leading(knowledge, check.id, outcome, pulley)),)


def _turned(
    knowledge: Knowledge, arrived: Standing, checks: list[Check], minutes: Minutes
) -> tuple[Numbers, NDArray[np.int64]]:
    """How a vehicle may stand, the way it does now first, and for each of these the minutes and what comes after."""
    states = sorted({check.state for check in checks} & set(knowledge.states))
    standings = [arrived, *(knowledge.states[state] for state in states)]
    spent = np.array([[minutes.of(knowledge, check, one) for check in checks] for one in standings])
    after = [[standings.index(standing_after(knowledge, check, one)) for check in checks] for one in standings]
    return spent, np.array(after)


def _turns(knowledge: Knowledge, arrived: Standing, checks: list[Check], over: ChangeOver) -> Iterator[Turn]:
    """What checks need that the vehicle does not come with: the engine running, the belt off, the battery isolated."""
    needs = {
        "engine": ("running", over.engine_start),
        "belt": ("removed", over.belt_off),
        "battery": ("isolated", over.battery_isolate),
    }
    for part, (turned, minutes) in needs.items():
        wanting = [
            at for at, check in enumerate(checks) if getattr(knowledge.states.get(check.state), part, "") == turned
        ]
        if wanting and getattr(arrived, part) != turned:
            yield Turn(minutes, tuple(wanting))


def _opens(limits: Precautions, checks: list[Check]) -> Callable[[Mapping[int, int]], frozenset[int]]:
    at = {check.id: index for index, check in enumerate(checks)}
    guards = [index for index, check in enumerate(checks) if check.id in limits.guards]
    lacking = [guard for guard in limits.guards if guard not in at]  # its tool is not at hand
    found: dict[tuple[int | None, ...], frozenset[int]] = {}

    def opens(made: Mapping[int, int]) -> frozenset[int]:
        key = tuple(made.get(guard) for guard in guards)
        if key not in found:
            told = {
                checks[one].id: _told(checks[one], out) for one, out in zip(guards, key, strict=True) if out is not None
            }
            told |= dict.fromkeys(lacking, UNDONE)
            found[key] = frozenset(at[check] for check in limits.open_after(told) if check in at)
        return found[key]

    return opens


def _told(check: Check, outcome: int) -> str:
    return UNDONE if outcome == NOT_DONE else check.outcomes[outcome].id
