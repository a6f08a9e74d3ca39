"""What a round may hold, and which of its lines may be closed together: held in the program, whatever a folder says."""

from triage.knowledge.models import Check, Knowledge

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

    Knowledge from before there was such a look has none to wait for; a run without the belt has no belt.
    """
    place = knowledge.states.get(check.state)
    runs = place is not None and (place.engine, place.belt) == ("running", "fitted")
    return runs and TRACKING in knowledge.checks and check.id != TRACKING and not check.at_idle


def closes_together(knowledge: Knowledge, check: Check) -> bool:
    """Whether "nothing else found" may record the normal outcome of a check.

    Never a reading, a test (what sets something up, does something, or takes a load) or a look that lets an engine run.
    """
    measured = check.reading is not None or check.way not in FELT
    lets_run = any(outcome.closes_running for outcome in check.outcomes)
    tests = bool(check.set_up or check.does or check.consumes) or (is_running(knowledge, check) and not check.at_idle)
    return not (measured or lets_run or tests)
