"""Which lines of a round are open, and what comes first in each run: the belt seen to run true, the complaint there."""

from triage.knowledge.models import Check, Knowledge
from triage.knowledge.rounds import RUNS_TRUE, TRACKING, closes_together, waits_for_tracking
from triage.knowledge.walk import fits
from triage.session import interlocks
from triage.session.proving import is_absent
from triage.session.state import State


def open_lines(knowledge: Knowledge, state: State, round_id: str) -> tuple[str, ...]:
    """The lines of a round that are open, in the order of doing: made in one place, all from outside or all by hand.

    Beside a running engine only those that are set up: nobody goes in for another.
    """
    known = knowledge.rounds.get(round_id)
    checks = [knowledge.checks[one] for one in known.checks if _is_open(knowledge, state, one)] if known else []
    if not any(one.needs_complaint for one in checks):
        checks = [one for one in checks if one.id != complaint_now(knowledge, state)]
    if state.condition.engine == "running":
        checks = [one for one in checks if interlocks.is_set_up(knowledge, state, one)] or checks
    return in_order(knowledge, state, tuple(one.id for one in checks if _alike(knowledge, state, one, checks[0])))


def in_order(knowledge: Knowledge, state: State, lines: tuple[str, ...]) -> tuple[str, ...]:
    """Lines in the order in which they are looked at: at the standing drive first what the answers point at."""
    first = pointed_at(knowledge, state) if state.condition.engine == "stopped" else {}
    places = (interlocks.place_for(knowledge, state, knowledge.checks[one]) for one in lines)
    standing = all(place.engine == "stopped" for place in places)
    return tuple(sorted(lines, key=lambda one: one not in first)) if standing else lines


def pointed_at(knowledge: Knowledge, state: State) -> dict[str, str]:
    """The checks that answers so far put first, each with the words of the answer."""
    found = ((knowledge.checks[one.check], one.outcomes) for one in state.known.values())
    answers = (outcome for check, told in found for one in told if (outcome := check.outcome(one)))
    return {check: answer.words for answer in answers for check in answer.first}


def _is_open(knowledge: Knowledge, state: State, check_id: str) -> bool:
    made = state.in_run if check_id == complaint_now(knowledge, state) else state.known
    if check_id in made or check_id in state.left or not fits(knowledge, check_id, state.vehicle):
        return False
    check = knowledge.checks[check_id]
    if check.needs_complaint and is_absent(knowledge, state):
        return False
    return not state.alone or check.from_seat or interlocks.place_for(knowledge, state, check).engine == "stopped"


def _alike(knowledge: Knowledge, state: State, one: Check, other: Check) -> bool:
    """Whether the same that was made safe serves both."""
    places = (interlocks.place_for(knowledge, state, check).id for check in (one, other))
    return one.untouched == other.untouched and next(places) == next(places)


def closing(knowledge: Knowledge, lines: tuple[str, ...]) -> tuple[str, ...]:
    """Of some lines those that "nothing else found" may record."""
    return tuple(one for one in lines if closes_together(knowledge, knowledge.checks[one]))


def complaint_now(knowledge: Knowledge, state: State) -> str:
    """The check that asks whether the complaint is there now; "" where the tree has none."""
    complaint = knowledge.trees[state.symptom].complaint
    return complaint.now if complaint else ""


def is_it_there(knowledge: Knowledge, state: State, check: Check) -> str:
    """What is asked in each run before a test of the complaint; "" where it needs no asking or was asked."""
    now = complaint_now(knowledge, state)
    return now if check.needs_complaint and now not in state.in_run and check.id != now else ""


def tracking_due(knowledge: Knowledge, state: State, check: Check) -> bool:
    """Whether the belt has to be seen to run true in this run before a check is made."""
    # What was found in a run that is over says nothing of the next.
    seen = state.in_run.get(TRACKING, ()) if state.condition.engine == "running" else ()
    return waits_for_tracking(knowledge, check) and RUNS_TRUE not in seen


def tracking_failed(state: State) -> bool:
    """Whether somebody looked at the running belt, and did not see it run true."""
    seen = state.known.get(TRACKING)
    return seen is not None and RUNS_TRUE not in seen.outcomes
