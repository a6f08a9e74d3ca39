"""Looks at the stopped drive that can forbid a running engine, for all who keep it off: session and rules for trees."""

from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    from triage.knowledge.models import Check, Knowledge

WILL_NOT_TURN: Final = "will-not-turn"
"""The outcome of each check that spins something by hand."""


def is_gate(knowledge: "Knowledge", check: "Check") -> bool:
    """Whether a check is a look at the stopped drive, belt on, after which the engine may have to stay off."""
    state = knowledge.states.get(check.state)
    if check.way not in ("look", "feel") or state is None:
        return False
    return (state.engine, state.belt) == ("stopped", "fitted") and any(o.closes_running for o in check.outcomes)


def lets_run(check: "Check") -> bool:
    """Whether a check is a look after which the engine may run or has to stay off.

    What a hand spins and what will not turn is no matter of looking well: nobody takes it for smooth.
    """
    return any(outcome.closes_running and outcome.id != WILL_NOT_TURN for outcome in check.outcomes)
