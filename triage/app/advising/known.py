"""What a session knows, as the reasoning takes it: its findings, and what the vehicle itself makes likelier."""

from typing import TYPE_CHECKING

from triage.knowledge.models import Knowledge
from triage.reasoning.inference.evidence import Evidence, Found, evidence_of
from triage.session.state import State

if TYPE_CHECKING:
    from triage.reasoning.advice.worth import Weigher
    from triage.reasoning.inference.network import Shifts


def found_in(state: State) -> list[Found]:
    """The findings made before any repair."""
    return [
        Found(finding.check, finding.outcomes, finding.verdict.probabilities if finding.verdict else ())
        for finding in state.findings.values()
    ]


def known_in(knowledge: Knowledge, state: State) -> Evidence:
    """What the complaint and those findings say at once."""
    return evidence_of(knowledge, state.symptom, found_in(state), state.pulley)


def weigher_in(knowledge: Knowledge, state: State) -> "Weigher":
    """What weighs checks and repairs at its vehicle, by the shop's figures."""
    from triage.reasoning.route.routing import weigher_of

    return weigher_of(knowledge, state.symptom, state.pulley, state.weights, shifts_in(knowledge, state))


def shifts_in(knowledge: Knowledge, state: State) -> "Shifts":
    """What odometer, renewals, pulley type, answers about the past and the layout do to the odds of causes."""
    from triage.reasoning.inference.circumstances import VehicleFacts, shifts_of

    odometer = state.facts.get("odometer")
    parts = frozenset(pulley.part for pulley in state.layout.layout.pulleys) if state.layout else state.vehicle.parts()
    driven_m = odometer if isinstance(odometer, float) else None
    # That a type is not known is something to be told, too.
    pulley = state.pulley if "pulley" in state.facts else ""
    return shifts_of(
        knowledge, VehicleFacts(pulley, driven_m, state.renewed_at_m, parts, state.vehicle.told), found_in(state)
    )
