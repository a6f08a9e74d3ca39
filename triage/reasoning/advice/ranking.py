"""Which causes are likely to have made the complaint after what was found, and what speaks for and against each.

A factor says what one finding does to the odds that a cause made the complaint, with everything else that was found as
it is. Findings hang together, so the factors of a cause need not multiply to the whole. The complaint itself is no
reason: every figure takes it for granted. Without a complaint, causes are ranked by whether they are there.
"""

import math
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass

from triage.knowledge.models import Knowledge
from triage.knowledge.scales import BASE_RATES
from triage.reasoning.inference.evidence import Found, evidence_of
from triage.reasoning.inference.making import Belief, believed
from triage.reasoning.inference.network import NO_SHIFTS, Shifts, network_of, rates_of
from triage.reasoning.inference.rounding import recorded, recorded_factor
from triage.record.counsel import LikelyCause, Reason

FAINT = 1.1
"""What changes odds by less than this factor, either way, is no reason worth recording. Source: from-memory."""


@dataclass(frozen=True)
class Ranking:
    """Every cause that a vehicle can have, the likeliest first; none where the findings contradict each other.

    Args:
        likely: the causes.
        unlisted: probability that something made the complaint that is not listed; None without a complaint [1].
    """

    likely: tuple[LikelyCause, ...]
    unlisted: float | None


def ranked(
    knowledge: Knowledge, symptom: str, findings: Sequence[Found], pulley: str, shifts: Shifts = NO_SHIFTS
) -> Ranking:
    """Rank every cause that this vehicle can have.

    Args:
        knowledge: causes, signs and checks.
        symptom: the complaint, itself the first evidence.
        findings: what was found; what could not be done counts for nothing.
        pulley: the specified pulley type.
        shifts: what circumstances do to the odds of causes before anything is found.
    """
    evidence = evidence_of(knowledge, symptom, findings, pulley)
    return _ranked(knowledge, believed(network_of(knowledge, pulley, shifts), symptom, evidence))


def explained(
    knowledge: Knowledge,
    symptom: str,
    findings: Sequence[Found],
    pulley: str,
    most: int,
    also: Collection[str] = (),
    shifts: Shifts = NO_SHIFTS,
) -> Ranking:
    """Rank the causes and say for the likeliest what each finding and each circumstance does to them.

    Args:
        knowledge: causes, signs and checks.
        symptom: the complaint.
        findings: what was found.
        pulley: the specified pulley type.
        most: how many causes to explain; the others are left out.
        also: causes to explain wherever they stand.
        shifts: what circumstances do to the odds of causes before anything is found.
    """
    network = network_of(knowledge, pulley, shifts)
    evidence = evidence_of(knowledge, symptom, findings, pulley)
    belief = believed(network, symptom, evidence)
    ranking = _ranked(knowledge, belief)
    top = [one for at, one in enumerate(ranking.likely) if at < most or one.cause in also]
    without: dict[Reason, Mapping[str, float]] = {}
    for found in findings if top else ():
        rest = evidence_of(knowledge, symptom, (other for other in findings if other is not found), pulley)
        without[Reason(check=found.check, factor=1.0)] = believed(network, symptom, rest).deciding
    for circumstance in shifts if top else ():
        others = {other: factors for other, factors in shifts.items() if other != circumstance}
        unshifted = network.with_rates(rates_of(knowledge, network.causes, others))
        without[Reason(check="", factor=1.0, circumstance=circumstance)] = believed(
            unshifted, symptom, evidence
        ).deciding
    return Ranking(tuple(_with_reasons(one, belief.deciding[one.cause], without) for one in top), ranking.unlisted)


def _ranked(knowledge: Knowledge, belief: Belief) -> Ranking:
    likely = [
        LikelyCause(
            cause=cause,
            probability=recorded(probability),
            present=recorded(belief.present[cause]),
            before=BASE_RATES[knowledge.causes[cause].commonness],
        )
        for cause, probability in belief.deciding.items()
    ]
    unlisted = None if belief.unlisted is None else recorded(belief.unlisted)
    return Ranking(tuple(sorted(likely, key=lambda one: -one.probability)), unlisted)


def _with_reasons(
    likely: LikelyCause, probability: float, without: Mapping[Reason, Mapping[str, float]]
) -> LikelyCause:
    reasons = [
        reason.model_copy(update={"factor": recorded_factor(_odds(probability) / _odds(causes[likely.cause]))})
        for reason, causes in without.items()
    ]
    told = [reason for reason in reasons if not 1.0 / FAINT < reason.factor < FAINT]
    return likely.model_copy(update={"reasons": tuple(sorted(told, key=lambda reason: -_strength(reason.factor)))})


def _odds(probability: float) -> float:
    return max(probability, 1e-15) / max(1.0 - probability, 1e-15)


def _strength(factor: float) -> float:
    return abs(math.log(factor)) if factor > 0 else math.inf
