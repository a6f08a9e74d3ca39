"""What a session knows, as the reasoning takes it: its findings, and what the vehicle itself makes likelier."""

from typing import TYPE_CHECKING

from triage.knowledge.models import Knowledge
from triage.session.state import State

if TYPE_CHECKING:
    from triage.reasoning.inference.evidence import Found
    from triage.reasoning.inference.network import Shifts


def found_in(state: State) -> "list[Found]":
    """The findings made before any repair."""
    from triage.reasoning.inference.evidence import Found

    return [
        Found(finding.check, finding.outcomes, finding.verdict.probabilities if finding.verdict else ())
        for finding in state.findings.values()
    ]


def shifts_in(knowledge: Knowledge, state: State) -> "Shifts":
    """What odometer, renewals, pulley type, answers about the past and the layout do to the odds of causes."""
    from triage.reasoning.inference.circumstances import VehicleFacts, shifts_of

    odometer = state.facts.get("odometer")
    parts = frozenset(pulley.part for pulley in state.layout.layout.pulleys) if state.layout else None
    driven_m = odometer if isinstance(odometer, float) else None
    # That a type is not known is something to be told, too.
    pulley = state.pulley if "pulley" in state.facts else ""
    return shifts_of(knowledge, VehicleFacts(pulley, driven_m, state.renewed_at_m, parts), found_in(state))
