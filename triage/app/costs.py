"""Asks the reasoning which repairs pay, with the probabilities of a session and the prices that it was started with."""

from triage.app.advice import WHO, ranked_now
from triage.knowledge.models import Knowledge
from triage.reasoning.repair_choice import repair_choice
from triage.reasoning.suspects import Vehicle
from triage.record.prices import RepairChoice
from triage.session.commands import AdviseRepair
from triage.session.state import State

NOT_THE_DRIVE = ("not-reproduced", "not-from-drive")
"""Ends after which nothing in the drive is tried."""


def repair_advice(knowledge: Knowledge, state: State, at_ms: int) -> AdviseRepair:
    """Which repairs pay after the findings so far, as a command."""
    return AdviseRepair(at_ms=at_ms, who=WHO, choice=costs_now(knowledge, state))


def costs_now(knowledge: Knowledge, state: State) -> RepairChoice:
    """Which repairs pay after the findings so far, in rounded figures."""
    concluded = frozenset(state.concluded.causes) if state.concluded else frozenset()
    if state.concluded and state.concluded.end in NOT_THE_DRIVE:
        return repair_choice(knowledge, Vehicle(state.symptom, {}, concluded, (), {}), state.prices)
    chances = {one.cause: one.probability for one in ranked_now(knowledge, state)}
    vehicle = Vehicle(state.symptom, chances, concluded, frozenset(state.known), _driven_m(state))
    return repair_choice(knowledge, vehicle, state.prices)


def _driven_m(state: State) -> dict[str, float]:
    """How far each part was driven: as far as the vehicle, unless it was renewed before."""
    odometer = state.facts.get("odometer")
    if not isinstance(odometer, float):
        return {}
    # An odometer that was put right to a lower one later makes no part younger than new.
    return {part: max(odometer - state.renewed_at_m.get(part, 0.0), 0.0) for part in state.prices.lives}
