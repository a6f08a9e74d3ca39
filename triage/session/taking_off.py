"""What stands before a belt comes off: a stretch belt is destroyed by it, and one of which nobody knows counts as one.

Nothing keeps a stretch belt tight but itself, so that it goes on and off only once, with a tool of its own. Everything
that can be seen with the belt on is looked at first, and the new belt is in hand before anything is made safe for it.
"""

from triage.knowledge.models import Knowledge, VehicleState
from triage.session.state import State

NEW_BELT = "new-belt-in-hand"
"""The line that a new belt and the tool to fit it are in hand."""
BY_PICTURE = "tightening-by-picture"
"""The line by which it is seen that something else keeps the belt tight, where that was only told."""
HELD = ("arm", "strut", "screw", "no-stretch")
"""What keeps a belt tight that survives coming off."""


def belt_line(knowledge: Knowledge, state: State, target: VehicleState) -> str:
    """The line to be pressed before the belt may come off for a vehicle state; "" where none is open."""
    if "tightening" not in target.asks or state.condition.belt == "removed" or _is_off(knowledge, state):
        return ""
    line = NEW_BELT
    if state.facts.get("tightening") in HELD:
        line = "" if "tightening" in state.looked_up else BY_PICTURE
    return "" if line in state.standing else line


def destroys_belt(knowledge: Knowledge, state: State) -> bool:
    """Whether taking the belt off would destroy it, as far as it was asked: nobody knows is as good as yes."""
    told = "tightening" in state.facts and state.facts["tightening"] not in HELD
    return told and state.condition.belt == "fitted" and not _is_off(knowledge, state)


def _is_off(knowledge: Knowledge, state: State) -> bool:
    """Whether somebody found the belt off the vehicle, and nobody has put one on since."""
    found = ((knowledge.checks[one.check], one.outcomes) for one in state.known.values() if not one.told_by)
    outcomes = (check.outcome(outcome) for check, told in found for outcome in told)
    return "belt" not in state.opened and any(outcome is not None and outcome.belt_off for outcome in outcomes)
