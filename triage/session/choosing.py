"""Which checks may be made now, on whatever route: what the tree's own order keeps safe is never weighed."""

from triage.knowledge.models import Knowledge
from triage.knowledge.precautions import NOT_DONE, Precautions
from triage.session import interlocks
from triage.session.state import Finding, State


def open_checks(knowledge: Knowledge, state: State) -> tuple[str, ...]:
    """The checks of the session's tree that are left and that nothing forbids.

    A check is left where it has neither an outcome nor was said to be impossible. A running engine is forbidden by what
    closes it, and by every look that the tree has in front of it and that was not made.
    """
    precautions = Precautions(knowledge, knowledge.trees[state.symptom], state.pulley)
    made = {check: _first(knowledge, finding) for check, finding in state.known.items()}
    may = precautions.open_after(made)
    shut = bool(interlocks.closing_check(knowledge, state))
    return tuple(
        check
        for check in precautions.checks
        if check in may and check not in made and not _forbidden(knowledge, state, check, shut=shut)
    )


def _first(knowledge: Knowledge, finding: Finding) -> str:
    """The outcome that a tree goes by; of several the first in the order of the check."""
    order = (outcome.id for outcome in knowledge.checks[finding.check].outcomes if outcome.id in finding.outcomes)
    return next(order, NOT_DONE)


def _forbidden(knowledge: Knowledge, state: State, check: str, *, shut: bool) -> bool:
    target = knowledge.states.get(knowledge.checks[check].state)
    if target is None or target.engine != "running":
        return False
    spent = target.runs is not None and state.runs >= target.runs
    return shut or spent or check in state.put_right
