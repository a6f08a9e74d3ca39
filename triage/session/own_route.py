"""Where a session stands on its own route, off its tree."""

from triage.record.payloads import OwnStep
from triage.session.state import State


def own_step(state: State) -> OwnStep | None:
    """The check of the session's own choice that was not made yet, or None."""
    last = state.own[-1] if state.own else None
    return last if last and last.check not in state.known else None
