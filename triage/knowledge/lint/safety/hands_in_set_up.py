"""What hands put on for a running engine is set up while it stands.

**Why.** Clips, tape, scales and chalk marks go into the bay by hand. Only as a set-up does the session ask for the
stopped engine before them, and for everything that running needs after them.

**Passes.** A check with the engine running whose tools say `hands_in: true` and that has a `set_up:` with the engine
stopped and the belt as the check needs it; or whose tools all say `hands_in: false`.

**Fails.** Such a check without a set-up, or with a tool of which nobody says whether hands go in for it. A set-up with
the engine running, with the belt in another place, or of a check that is made with the engine stopped anyway.
"""

from collections.abc import Iterator

from triage.errors import Fault
from triage.knowledge.lint.safety.gate_before_running import engine
from triage.knowledge.models import Check, Knowledge
from triage.knowledge.origins import Origins


def find(knowledge: Knowledge, origins: Origins) -> Iterator[Fault]:
    """Name every check whose hands go in without a set-up, and every set-up in a state that does not suit."""
    for check in knowledge.checks.values():
        if check.state not in knowledge.states and check.state != "anywhere":
            continue
        if engine(knowledge, check) == "running":
            yield from _tools(knowledge, origins, check)
        elif check.set_up:
            message = f"Check {check.id} has a set-up, but no running engine."
            yield Fault(origins.place("checks", check.id, "set_up"), message, "Make it steps of the check.")
        if check.set_up and not _suits(knowledge, check):
            place = origins.place("checks", check.id, "set_up", "state")
            message = f"Check {check.id} cannot be set up in the state '{check.set_up.state}'."
            yield Fault(place, message, "Choose one with the engine stopped and the belt as the check needs it.")


def _tools(knowledge: Knowledge, origins: Origins, check: Check) -> Iterator[Fault]:
    used = dict.fromkeys((*check.tools, *((check.reading.instrument,) if check.reading else ())))
    tools = [knowledge.tools[tool] for tool in used if tool in knowledge.tools]
    for tool in tools:
        if tool.hands_in is None:
            message = f"Check {check.id} runs the engine, but '{tool.id}' does not say whether hands go in for it."
            hint = "Add 'hands_in: true' or 'hands_in: false'."
            yield Fault(origins.place("tools", tool.id), message, hint)
    by_hand = next((tool.id for tool in tools if tool.hands_in), "")
    if by_hand and check.set_up is None:
        message = f"Check {check.id} runs the engine, and hands go in for '{by_hand}', but it has no set-up."
        yield Fault(origins.place("checks", check.id, "state"), message, "Say under 'set_up:' what is done first.")


def _suits(knowledge: Knowledge, check: Check) -> bool:
    there, then = knowledge.states.get(check.set_up.state if check.set_up else ""), knowledge.states.get(check.state)
    if there is None or then is None:
        return True  # what is not there is named by other rules
    return there.engine == "stopped" and there.belt == then.belt
