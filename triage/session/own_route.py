"""Where a session stands on its own route, off its tree."""

from triage.record.counsel import CheckWorth
from triage.record.payloads import OwnStep
from triage.session.state import State


def own_step(state: State) -> OwnStep | None:
    """The check of the session's own choice that was not made yet, or None."""
    last = state.own[-1] if state.own else None
    return last if last and last.check not in state.known else None


def one_more(state: State) -> CheckWorth | None:
    """The check that pays best at a conclusion of the tree's, as recorded with it; it was free to be made then."""
    if state.counsel is None or not state.counsel.likely or state.concluded is None or state.concluded.own:
        return None
    return next((one for one in state.counsel.checks if one.pays), None)
