"""Which checks may be made now, on whatever route: what the tree's own order keeps safe is never weighed."""

from collections.abc import Iterator
from dataclasses import dataclass

from triage.knowledge.models import Knowledge
from triage.knowledge.precautions import NOT_DONE, Precautions
from triage.knowledge.rounds import is_running
from triage.knowledge.walk import fits
from triage.session import interlocks
from triage.session.proving import is_absent
from triage.session.state import Finding, State
from triage.session.stepping import is_made, unseen


@dataclass(frozen=True)
class Choice:
    """The checks of a session's tree that have no outcome and were not said to be impossible, and that nothing forbids.

    Args:
        now: those that may be made now.
        later: those that the tree has others in front of, that were not made yet.
    """

    now: tuple[str, ...]
    later: tuple[str, ...]


def choice_of(knowledge: Knowledge, state: State) -> Choice:
    """The checks that are left.

    A running engine is forbidden by what closes it, and by a look that could not be made.
    """
    return _choice(knowledge, state, first_outcomes(knowledge, state))


def _choice(knowledge: Knowledge, state: State, made: dict[str, str]) -> Choice:
    precautions = Precautions(knowledge, knowledge.trees[state.symptom], state.vehicle)
    kept_off = bool(interlocks.closing_check(knowledge, state) or unseen(knowledge, state))
    left = [
        check
        for check in precautions.checks
        if check not in made and not _forbidden(knowledge, state, check, kept_off=kept_off)
    ]
    may = precautions.open_after(made)
    return Choice(tuple(check for check in left if check in may), tuple(check for check in left if check not in may))


def first_outcomes(knowledge: Knowledge, state: State) -> dict[str, str]:
    """The outcome of each check that a tree goes by."""
    return {check: _first(knowledge, finding) for check, finding in state.known.items()}


def _first(knowledge: Knowledge, finding: Finding) -> str:
    """The outcome that a tree goes by; of several the first in the order of the check."""
    order = (outcome.id for outcome in knowledge.checks[finding.check].outcomes if outcome.id in finding.outcomes)
    return next(order, NOT_DONE)


def _forbidden(knowledge: Knowledge, state: State, check: str, *, kept_off: bool) -> bool:
    if knowledge.checks[check].needs_complaint and is_absent(knowledge, state):
        return True
    target = knowledge.states.get(knowledge.checks[check].state)
    if target is None or target.engine != "running":
        return False
    spent = target.runs is not None and state.runs >= target.runs
    return kept_off or spent or check in state.put_right


def _only_told(knowledge: Knowledge, state: State) -> Iterator[str]:
    known = first_outcomes(knowledge, state)
    for told in (check for check, found in state.known.items() if found.told_by):
        others = {check: outcome for check, outcome in known.items() if check != told}
        yield from (one for one in _choice(knowledge, state, others).now if one == told)


def may_be_asked(knowledge: Knowledge, state: State) -> tuple[str, ...]:
    """Every check that may be asked for: those of the tree that nothing forbids, then others at the standing drive.

    What the author of the tree keeps before a check stays before it; make-safe stands before all of them anyway. What
    was only told may be made here.
    """
    mine = (*choice_of(knowledge, state).now, *_only_told(knowledge, state))
    of_tree = Precautions(knowledge, knowledge.trees[state.symptom], state.vehicle).checks
    others = (
        check.id
        for check in knowledge.checks.values()
        if check.id not in of_tree
        and not is_made(state, check.id)
        and fits(knowledge, check.id, state.vehicle)
        and not is_running(knowledge, check)
    )
    return (*mine, *others)
