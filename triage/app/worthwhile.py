"""Asks the reasoning which checks are worth their minutes, with the shop's losses and minutes of the session."""

from collections.abc import Sequence

from triage.app.known import found_in, shifts_in
from triage.knowledge.models import Knowledge, VehicleState
from triage.knowledge.walk import fits
from triage.reasoning.changeover import Standing, minutes_of
from triage.session.choosing import choice_of
from triage.session.counsel import CheckWorth
from triage.session.state import State

LEAST_MIN = 0.1
"""A check is taken to last at least this long when checks are put in order."""
MINUTE_PLACES = 1


def worth_now(knowledge: Knowledge, state: State) -> tuple[tuple[CheckWorth, ...], bool]:
    """The checks that may be made now with what they are worth, best for its minutes first; and whether a check pays.

    Checks that tell nothing of causes are left out. One that may only be made after others counts for the latter, so
    that nobody stops in front of what pays.
    """
    choice = choice_of(knowledge, state)
    worths = _weighed(knowledge, state, (*choice.now, *choice.later), state.condition)
    telling = [one for one in worths[: len(choice.now)] if one.saves_min or one.gain_bits]
    return _best_first(telling), any(one.saves_min > one.minutes for one in worths)


def meanwhile_now(knowledge: Knowledge, state: State) -> tuple[CheckWorth, ...]:
    """The checks that pay while the belt is off for the remedy of the conclusion, best first.

    Only what is looked at with the engine stopped and the belt off, and nothing used up. Where the battery is isolated
    for the work, that forbids none of it.
    """
    causes = state.concluded.causes if state.concluded else ()
    works = (knowledge.states[knowledge.remedies[knowledge.causes[cause].remedy].state] for cause in causes)
    apart = next((work for work in works if work.belt == "removed"), None)
    if apart is None:
        return ()
    checks = [
        check.id
        for check in knowledge.checks.values()
        if check.id not in state.known and not check.consumes and fits(knowledge, check.id, state.pulley)
        if _there(knowledge.states.get(check.state), apart)
    ]
    return _best_first([one for one in _weighed(knowledge, state, checks, None) if one.saves_min > one.minutes])


def _there(needed: VehicleState | None, apart: VehicleState) -> bool:
    if needed is None or (needed.engine, needed.belt) != ("stopped", "removed"):
        return False
    return needed.battery in ("connected", apart.battery)


def _best_first(worths: Sequence[CheckWorth]) -> tuple[CheckWorth, ...]:
    return tuple(sorted(worths, key=lambda one: (-one.saves_min / max(one.minutes, LEAST_MIN), -one.gain_bits)))


def _weighed(knowledge: Knowledge, state: State, checks: Sequence[str], standing: Standing | None) -> list[CheckWorth]:
    """What checks are worth, from how the vehicle stands; None where that is what each of them needs."""
    from triage.reasoning.evidence import together
    from triage.reasoning.losses import losses_of
    from triage.reasoning.network import network_of
    from triage.reasoning.ranking import pieces_of
    from triage.reasoning.rounding import recorded
    from triage.reasoning.worth import answers_of, saving

    weights = state.weights
    network = network_of(knowledge, state.pulley, shifts_in(knowledge, state))
    complaint = knowledge.signs.get(state.symptom)
    able = complaint.produced_by if complaint else network.causes
    # Nobody came for a fault that cannot make the complaint: no check for it is asked for here.
    losses = losses_of(network, weights, able)
    known = together(pieces_of(knowledge, state.symptom, found_in(state), state.pulley).values())
    found = saving(network, known, answers_of(knowledge, checks, state.pulley), losses)
    minutes = minutes_of(weights)
    return [
        CheckWorth(
            check=check,
            saves_min=recorded(saves, MINUTE_PLACES),
            minutes=recorded(minutes.of(knowledge, one, standing or knowledge.states[one.state]), MINUTE_PLACES),
            gain_bits=recorded(gain),
        )
        for check, saves, gain in zip(checks, found.saves_min.tolist(), found.gain_bits.tolist(), strict=True)
        for one in (knowledge.checks[check],)
    ]
