"""What is known of a vehicle besides findings, and how it shifts the odds of causes before anything is found.

Distance driven against the life of each part, what was renewed before, the specified pulley type, answers about the
past, and the parts that the drive has at all. A finding of a fault is evidence and stands elsewhere; an answer counts
here only for causes of which it is no sign.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from triage.knowledge.models import Circumstance, Knowledge
from triage.knowledge.scales import DRIVEN, ODDS
from triage.reasoning.inference.evidence import Found
from triage.reasoning.inference.network import Shifts
from triage.units import parse_quantity


@dataclass(frozen=True)
class VehicleFacts:
    """What is known of a vehicle.

    Args:
        pulley: the specified pulley type.
        driven_m: its odometer; None where it is not known [m].
        renewed_at_m: odometer at which parts were renewed before, by part [m].
        parts: what its drive has; None where nobody said.
        told: its facts that are words, by name.
    """

    pulley: str
    driven_m: float | None = None
    renewed_at_m: Mapping[str, float] = field(default_factory=dict)
    parts: frozenset[str] | None = None
    told: Mapping[str, str] = field(default_factory=dict)


def shifts_of(knowledge: Knowledge, vehicle: VehicleFacts, findings: Sequence[Found]) -> Shifts:
    """What the circumstances of a vehicle do to the odds of causes; those that do nothing are left out.

    Args:
        knowledge: the circumstances.
        vehicle: what is known of it.
        findings: what was found and answered.

    Returns:
        By circumstance, factors on the odds of causes before anything is found [1].
    """
    told = {found.check: found.outcomes for found in findings}
    shifts = {}
    for circumstance in knowledge.circumstances.values():
        share = share_driven(circumstance, vehicle)
        if share is not None:
            factors = dict.fromkeys(circumstance.wears, _by_distance(share))
        elif _holds(circumstance, vehicle, told):
            factors = {cause: ODDS[word] for cause, word in circumstance.odds.items()}
        else:
            continue
        if any(factor != 1.0 for factor in factors.values()):
            shifts[circumstance.id] = factors
    return shifts


def share_driven(circumstance: Circumstance, vehicle: VehicleFacts) -> float | None:
    """How much of its part's life was driven; None where it speaks of no life, or the distance is not known [1]."""
    driven_m = vehicle.driven_m
    if circumstance.life is None or driven_m is None:
        return None
    # A figure that was put right to a lower one later makes no part older than new.
    since_m = max(driven_m - vehicle.renewed_at_m.get(circumstance.part or "", 0.0), 0.0)
    return since_m / parse_quantity(circumstance.life.text, "distance").value


def _by_distance(share: float) -> float:
    return next(factor for most, factor in DRIVEN if share < most)


def _holds(circumstance: Circumstance, vehicle: VehicleFacts, told: Mapping[str, Sequence[str]]) -> bool:
    if circumstance.without:
        return vehicle.parts is not None and not any(_is(part, circumstance.without) for part in vehicle.parts)
    if circumstance.told:
        return any(vehicle.told.get(fact, "") in words for fact, words in circumstance.told.items())
    answered = circumstance.answered.items()
    return vehicle.pulley in circumstance.pulley or any(outcome in told.get(check, ()) for check, outcome in answered)


def _is(part: str, kind: str) -> bool:
    """A drive with two idlers numbers them."""
    return part == kind or part.startswith(f"{kind}-") or part.endswith(f"-{kind}")
