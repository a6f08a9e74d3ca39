"""Which causes are likely after the findings of a session, and which findings speak for and against each.

A factor says what one finding does to the odds of a cause, with everything else that was found as it is. Findings hang
together, so the factors of a cause need not multiply to the whole.
"""

import math
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, replace

from triage.knowledge.models import Knowledge
from triage.knowledge.scales import BASE_RATES
from triage.reasoning.evidence import Evidence, Found, complaint, meaning, together
from triage.reasoning.network import NO_SHIFTS, Shifts, network_of, rates_of
from triage.reasoning.posterior import posterior
from triage.reasoning.rounding import recorded, recorded_factor

FAINT = 1.1
"""What changes odds by less than this factor, either way, is no reason worth recording. Source: from-memory."""
COMPLAINT = ""
"""Stands for the complaint itself among the checks."""


@dataclass(frozen=True)
class Reason:
    """What one finding, or a circumstance of the vehicle, does to a cause.

    Args:
        check: the check, or `COMPLAINT`.
        factor: odds of the cause with the finding over its odds without; 0 where the finding rules it out [1].
        circumstance: what holds of the vehicle, in place of a check; "" for a finding.
    """

    check: str
    factor: float
    circumstance: str = ""


@dataclass(frozen=True)
class Likely:
    """One cause in a ranking.

    Args:
        cause: its id.
        probability: after everything that was found [1].
        before: its base rate, before anything was known [1].
        reasons: what each finding does, the strongest first, faint ones left out; empty where it was not asked for.
    """

    cause: str
    probability: float
    before: float
    reasons: tuple[Reason, ...] = ()


def pieces_of(knowledge: Knowledge, symptom: str, findings: Sequence[Found], pulley: str) -> dict[str, Evidence]:
    """What the complaint and each finding say, by check."""
    told = {found.check: meaning(knowledge, found, pulley) for found in findings}
    return {COMPLAINT: complaint(knowledge, symptom), **told}


def ranked(
    knowledge: Knowledge, symptom: str, findings: Sequence[Found], pulley: str, shifts: Shifts = NO_SHIFTS
) -> tuple[Likely, ...]:
    """Rank every cause that this vehicle can have, the likeliest first.

    Args:
        knowledge: causes, signs and checks.
        symptom: the complaint, itself the first evidence.
        findings: what was found; what could not be done counts for nothing.
        pulley: the specified pulley type.
        shifts: what circumstances do to the odds of causes before anything is found.

    Returns:
        The causes; none where the findings contradict each other.
    """
    evidence = together(pieces_of(knowledge, symptom, findings, pulley).values())
    return _ranked(knowledge, posterior(network_of(knowledge, pulley, shifts), evidence).causes)


def explained(
    knowledge: Knowledge,
    symptom: str,
    findings: Sequence[Found],
    pulley: str,
    most: int,
    also: Collection[str] = (),
    shifts: Shifts = NO_SHIFTS,
) -> tuple[Likely, ...]:
    """Rank the causes and say for the likeliest what each finding and each circumstance does to them.

    Args:
        knowledge: causes, signs and checks.
        symptom: the complaint.
        findings: what was found.
        pulley: the specified pulley type.
        most: how many causes to explain.
        also: causes to explain wherever they stand.
        shifts: what circumstances do to the odds of causes before anything is found.
    """
    network = network_of(knowledge, pulley, shifts)
    pieces = pieces_of(knowledge, symptom, findings, pulley)
    evidence = together(pieces.values())
    found = posterior(network, evidence).causes
    likely = _ranked(knowledge, found)
    top = [one for at, one in enumerate(likely) if at < most or one.cause in also]
    without = {
        Reason(check, 1.0): posterior(
            network, together(piece for other, piece in pieces.items() if other != check)
        ).causes
        for check in (pieces if top else ())
    }
    for circumstance in shifts if top else ():
        others = {other: factors for other, factors in shifts.items() if other != circumstance}
        unshifted = replace(network, base_rates=rates_of(knowledge, network.causes, others))
        causes = posterior(unshifted, evidence).causes
        without[Reason(COMPLAINT, 1.0, circumstance)] = causes
    return tuple(_with_reasons(one, found[one.cause], without) for one in top)


def _ranked(knowledge: Knowledge, found: Mapping[str, float]) -> tuple[Likely, ...]:
    likely = [
        Likely(cause, recorded(probability), BASE_RATES[knowledge.causes[cause].commonness])
        for cause, probability in found.items()
    ]
    return tuple(sorted(likely, key=lambda one: -one.probability))


def _with_reasons(likely: Likely, probability: float, without: Mapping[Reason, Mapping[str, float]]) -> Likely:
    reasons = [
        replace(reason, factor=recorded_factor(_odds(probability) / _odds(causes[likely.cause])))
        for reason, causes in without.items()
    ]
    told = [reason for reason in reasons if not 1.0 / FAINT < reason.factor < FAINT]
    return replace(likely, reasons=tuple(sorted(told, key=lambda reason: -_strength(reason.factor))))


def _odds(probability: float) -> float:
    return max(probability, 1e-15) / max(1.0 - probability, 1e-15)


def _strength(factor: float) -> float:
    return abs(math.log(factor)) if factor > 0 else math.inf
