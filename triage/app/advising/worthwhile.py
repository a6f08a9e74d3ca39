"""Asks the reasoning which checks are worth their minutes, and how the search goes on by the same figures."""

from typing import TYPE_CHECKING

from triage.app.advising.known import found_in, known_in, weigher_in
from triage.knowledge.models import Knowledge, VehicleState
from triage.knowledge.precautions import Precautions
from triage.knowledge.walk import fits
from triage.record.counsel import CheckWorth
from triage.session.choosing import choice_of, first_outcomes
from triage.session.state import State

if TYPE_CHECKING:
    from triage.reasoning.advice.worth import NextChecks, Offer


def worth_now(knowledge: Knowledge, state: State) -> tuple[tuple[CheckWorth, ...], bool]:
    """The checks that may be made now with what they are worth, best for its minutes first; and whether one pays.

    Checks that tell nothing of causes are left out. A check that begins a round which is worth more for its minutes
    than it is alone stands for that round.
    """
    outlook, following, now = looked_out(knowledge, state)
    if outlook is None:
        return (), False
    offers = {one.checks[0]: one for one in outlook.checks if one.checks[0] in now and (one.saves_min or one.gain_bits)}
    for one in outlook.rounds:
        alone = offers.get(one.checks[0])
        if alone and (one.pays, one.order[0] < alone.order[0]) > (alone.pays, False):
            offers[one.checks[0]] = one
    return _worths(sorted(offers.values(), key=lambda one: one.order)), following is not None


def looked_out(knowledge: Knowledge, state: State) -> "tuple[NextChecks | None, str | None, tuple[str, ...]]":
    """What the checks that are left are worth, the one that comes next, None where none pays, and what may be made."""
    from triage.reasoning.advice.worth import Standpoint
    from triage.reasoning.route.routing import next_of, openers

    choice, weigher = choice_of(knowledge, state), weigher_in(knowledge, state)
    told = [
        weigher.grounds.get(one.check, {}).get(outcome, frozenset())
        for one in found_in(state)
        for outcome in one.outcomes
    ]
    at = Standpoint(known_in(knowledge, state), frozenset[str]().union(*told), state.condition)
    outlook = weigher.outlook(at, (*choice.now, *choice.later))
    if outlook is None:
        return None, None, choice.now
    made = first_outcomes(knowledge, state)
    precautions = Precautions(knowledge, knowledge.trees[state.symptom], state.vehicle)
    following = next_of(outlook, choice.now, lambda: openers(precautions, made, choice.now))
    return outlook, following, choice.now


def meanwhile_now(knowledge: Knowledge, state: State) -> tuple[CheckWorth, ...]:
    """The checks that pay while the belt is off for the remedy of the conclusion, best first.

    Only what is looked at with the engine stopped and the belt off, and nothing used up. Where the battery is isolated
    for the work, that forbids none of it.
    """
    from triage.reasoning.advice.worth import Standpoint

    causes = state.concluded.causes if state.concluded else ()
    works = (knowledge.states[knowledge.remedies[knowledge.causes[cause].remedy].state] for cause in causes)
    apart = next((work for work in works if work.belt == "removed"), None)
    if apart is None:
        return ()
    checks = [
        check.id
        for check in knowledge.checks.values()
        if check.id not in state.known and not check.consumes and fits(knowledge, check.id, state.vehicle)
        if _there(knowledge.states.get(check.state), apart)
    ]
    at = Standpoint(known_in(knowledge, state), None, None)
    outlook = weigher_in(knowledge, state).outlook(at, checks)
    paying = [one for one in outlook.checks if one.pays] if outlook else []
    return _worths(sorted(paying, key=lambda one: one.order))


def _there(needed: VehicleState | None, apart: VehicleState) -> bool:
    if needed is None or (needed.engine, needed.belt) != ("stopped", "removed"):
        return False
    return needed.battery in ("connected", apart.battery)


def _worths(offers: "list[Offer]") -> tuple[CheckWorth, ...]:
    return tuple(
        CheckWorth(
            check=one.checks[0],
            saves_min=one.saves_min,
            minutes=one.minutes,
            gain_bits=one.gain_bits,
            with_checks=one.checks[1:],
        )
        for one in offers
    )
