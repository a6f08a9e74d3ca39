"""What a round may hold, and which of its lines may be closed together: held in the program, whatever a folder says."""

from collections.abc import Collection

from triage.knowledge.gates import lets_run
from triage.knowledge.models import Check, Knowledge, Node
from triage.knowledge.walk import fits

TRACKING = "belt-tracking"
"""The look at a belt that runs: no load, blip or raised speed comes before it in any run."""
RUNS_TRUE = "runs-true"
FELT = ("look", "listen", "feel")


def is_running(knowledge: Knowledge, check: Check) -> bool:
    """Whether a check is made with the engine running."""
    place = knowledge.states.get(check.state)
    return place is not None and place.engine == "running"


def waits_for_tracking(knowledge: Knowledge, check: Check) -> bool:
    """Whether a check is made only once the belt was seen to run true in that run.

    Knowledge from before there was such a look has none to wait for; a run without the belt has no belt. A test of the
    complaint waits too: whether that is there now is asked first, and may take the load or speed that brings it on.
    """
    place = knowledge.states.get(check.state)
    runs = place is not None and (place.engine, place.belt) == ("running", "fitted")
    quiet = check.at_idle and not check.needs_complaint
    return runs and TRACKING in knowledge.checks and check.id != TRACKING and not quiet


def go_of(knowledge: Knowledge, node: Node, made: Collection[str], pulley: str) -> tuple[str, ...]:
    """The checks that a person who can make them all makes at a node in one go: its own, or all open ones of its round.

    What only asks whether the complaint is there finds nothing out, and is left to the session.

    Args:
        knowledge: rounds and checks.
        node: with a check.
        made: the checks that have a finding.
        pulley: the specified pulley type.
    """
    round_ = knowledge.rounds.get(node.round or "")
    if round_ is None or node.check is None:
        return (node.check,) if node.check else ()
    telling = (one for one in round_.checks if any(not each.says_nothing for each in knowledge.checks[one].outcomes))
    return tuple(one for one in telling if one not in made and fits(knowledge, one, pulley))


def goes_on(knowledge: Knowledge, check: Check, outcome: str) -> bool:
    """Whether a round goes on after a finding: beside a running engine not after one that closes running."""
    found = check.outcome(outcome)
    return not (is_running(knowledge, check) and found is not None and found.closes_running)


def closes_together(knowledge: Knowledge, check: Check) -> bool:
    """Whether "nothing else found" may record the normal outcome of a check.

    Never a reading, a test (what sets something up, does something, or takes a load) or a look that lets an engine run.
    """
    measured = check.reading is not None or check.way not in FELT
    tests = bool(check.set_up or check.does or check.consumes) or (is_running(knowledge, check) and not check.at_idle)
    return not (measured or lets_run(check) or tests)
