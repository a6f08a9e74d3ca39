"""What is carried from one vehicle state into the next depends on neither engine, belt nor battery.

**Why.** What is confirmed of engine, belt or battery may be another thing in the next state: who is at the key, whether
all is at rest, where the leads are. Only what counts in every vehicle state alike can outlast a change of it. And no
state may be entered on what was said before: each asks for something anew.

**Passes.** `carries: true` on a confirmation that every vehicle state lists, beside others that are always asked.

**Fails.** `carries: true` on one that some state does not list, or with `names`, `after` or `once`; a vehicle
state that lists it beside nothing that is always asked.
"""

from collections.abc import Iterator

from triage.errors import Fault
from triage.knowledge.models import Confirmation, Knowledge
from triage.knowledge.origins import Origins


def find(knowledge: Knowledge, origins: Origins) -> Iterator[Fault]:
    """Name every confirmation that may not be carried, and every state that carried ones alone would open."""
    carried = {thing.id for thing in knowledge.confirmations.values() if thing.carries}
    for confirmation in sorted(carried):
        why = _bound(knowledge, knowledge.confirmations[confirmation])
        if why:
            message = f"The confirmation {confirmation} cannot be carried: {why}."
            yield Fault(origins.place("confirmations", confirmation, "carries"), message, "Let it be asked each time.")
    for state in knowledge.states.values():
        known = [knowledge.confirmations[one] for one in state.confirmations if one in knowledge.confirmations]
        always = any(not (thing.carries or thing.once or thing.after) for thing in known)
        if not always and carried.intersection(state.confirmations):
            message = f"The vehicle state {state.id} could be entered without asking anything."
            hint = "List something that is asked each time."
            yield Fault(origins.place("states", state.id, "confirmations"), message, hint)


def _bound(knowledge: Knowledge, thing: Confirmation) -> str:
    if thing.names:
        return "its answer is a name"
    if thing.after:
        return "it is asked only of a vehicle that was apart"
    if thing.once:
        return "it is asked only once as it is"
    without = [state.id for state in knowledge.states.values() if thing.id not in state.confirmations]
    return f"it says nothing about the vehicle state {without[0]}" if without else ""
