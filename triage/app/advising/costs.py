"""Asks the reasoning which repairs pay, with what a session found and the prices that it was started with."""

from collections.abc import Callable
from functools import cache

from triage.app.advising.known import known_in, weigher_in
from triage.knowledge.models import Knowledge
from triage.reasoning.inference.rounding import even
from triage.reasoning.repair.choice import repair_choice
from triage.reasoning.repair.suspects import SuspectVehicle
from triage.record.counsel import REASONING
from triage.record.prices import RepairChoice
from triage.session.commands import AdviseRepair
from triage.session.state import State

NOT_THE_DRIVE = ("nothing-wrong", "not-reproduced", "not-from-drive")
"""Ends after which nothing in the drive is tried."""


def repair_advice(knowledge: Knowledge, state: State, at_ms: int) -> AdviseRepair:
    """Which repairs pay after the findings so far, as a command."""
    return AdviseRepair(at_ms=at_ms, who=REASONING, choice=costs_now(knowledge, state))


def costs_now(knowledge: Knowledge, state: State) -> RepairChoice:
    """Which repairs pay after the findings so far, in rounded figures."""
    concluded = frozenset(state.concluded.causes) if state.concluded else frozenset()
    if state.concluded and state.concluded.end in NOT_THE_DRIVE:
        return repair_choice(knowledge, SuspectVehicle(state.symptom, (), _never, concluded, (), {}), state.prices)
    causes, gone = _gone(knowledge, state)
    vehicle = SuspectVehicle(state.symptom, causes, gone, concluded, frozenset(state.known), _driven_m(state))
    return repair_choice(knowledge, vehicle, state.prices)


def _never(_causes: frozenset[str]) -> float:
    return 0.0


def _gone(knowledge: Knowledge, state: State) -> tuple[tuple[str, ...], Callable[[frozenset[str]], float]]:
    """The causes that the vehicle can have, and how probably the complaint is gone without some of them."""
    stakes, known = weigher_in(knowledge, state).stakes, known_in(knowledge, state)
    places = {cause: at for at, cause in enumerate(stakes.network.causes)}

    @cache
    def gone(causes: frozenset[str]) -> float:
        return even(stakes.gone(known, tuple(sorted(places[cause] for cause in causes))))

    return stakes.network.causes, gone


def _driven_m(state: State) -> dict[str, float]:
    """How far each part was driven: as far as the vehicle, unless it was renewed before."""
    odometer = state.facts.get("odometer")
    if not isinstance(odometer, float):
        return {}
    # An odometer that was put right to a lower one later makes no part younger than new.
    return {part: max(odometer - state.renewed_at_m.get(part, 0.0), 0.0) for part in state.prices.lives}
