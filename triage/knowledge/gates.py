"""Looks at the stopped drive that can forbid a running engine, for all who keep it off: session and rules for trees."""

from triage.knowledge.models import Check, Knowledge


def is_gate(knowledge: Knowledge, check: Check) -> bool:
    """Whether a check is a look at the stopped drive, belt on, after which the engine may have to stay off."""
    state = knowledge.states.get(check.state)
    if check.way not in ("look", "feel") or state is None:
        return False
    return (state.engine, state.belt) == ("stopped", "fitted") and any(o.closes_running for o in check.outcomes)
