"""What a folder that is laid over another one may not do: take protection away.

A shop may add checks, trees and cautions of its own, and make what is there stricter. What keeps an engine from
running, what is set up first, what can hurt, who has to be there, and how safe the vehicle stands meanwhile is left as
it was or becomes more.
"""

from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING, Final

from triage.errors import Fault

if TYPE_CHECKING:
    from triage.knowledge.models import Check, Confirmation, Knowledge, Remedy, VehicleState
    from triage.knowledge.origins import Origins

HINT: Final = "What is laid over other knowledge may add and tighten. Leave it as it was, or give it an id of its own."
_STAYS: Final = ("engine", "belt", "battery", "near", "longest", "run_limit", "runs", "cold_after")
_EASED: Final = {
    "from_seat": "lets somebody alone make it",
    "at_idle": "lets it be made before the belt was seen to run true",
    "untouched": "lets the start wait for it",
    "takes_voltage": "keeps the battery connected for it",
}
Loss = tuple[str, str]
"""The key where it shows, and what is taken."""


def loosened(under: "Knowledge", laid: "Knowledge", origins: "Origins") -> Iterator[Fault]:
    """Find what was taken away where one thing stands in place of another.

    Args:
        under: the knowledge as it was without what is laid over it.
        laid: the same with it.
        origins: where each thing stands now.
    """
    for check_id, check in under.checks.items():
        yield from _faults(origins, "checks", check_id, _of_check(under, laid, check, laid.checks[check_id]))
    for state_id, state in under.states.items():
        yield from _faults(origins, "states", state_id, _of_state(state, laid.states[state_id]))
    for line_id, line in under.confirmations.items():
        yield from _faults(origins, "confirmations", line_id, _of_line(line, laid.confirmations[line_id]))
    for remedy_id, remedy in under.remedies.items():
        yield from _faults(origins, "remedies", remedy_id, _of_remedy(under, laid, remedy, laid.remedies[remedy_id]))
    for tool_id, tool in under.tools.items():
        if tool.hands_in and not laid.tools[tool_id].hands_in:
            yield from _faults(origins, "tools", tool_id, [("hands_in", "that hands go in for it")])


def _of_check(under: "Knowledge", laid: "Knowledge", was: "Check", now: "Check") -> Iterator[Loss]:
    for outcome in was.outcomes:
        own = now.outcome(outcome.id)
        if outcome.closes_running and not (own and own.closes_running):
            yield "outcomes", f"that '{outcome.id}' keeps the engine from running"
        if outcome.fuel and not (own and own.fuel):
            yield "outcomes", f"that '{outcome.id}' is fuel"
        if own and own.belt_off and not outcome.belt_off:
            yield "outcomes", f"that the belt is still on after '{outcome.id}'"
    if was.set_up and (now.set_up is None or set(was.set_up.hazards) - set(now.set_up.hazards)):
        yield "set_up", "its set-up, or a hazard of it"
    if was.people > now.people:
        yield "people", "its second person"
    yield from _fewer("hazards", was.hazards, now.hazards)
    yield from _fewer("consumes", was.consumes, now.consumes)
    yield from _fewer("does", was.does, now.does)
    yield from _less_safe(under, laid, was.state, now.state)
    yield from ((key, f"safety: it {says}") for key, says in _EASED.items() if getattr(now, key) > getattr(was, key))


def _of_state(was: "VehicleState", now: "VehicleState") -> Iterator[Loss]:
    yield from _fewer("confirmations", was.confirmations, now.confirmations)
    yield from _fewer("shown", was.shown, now.shown)
    yield from _fewer("asks", was.asks, now.asks)
    yield from ((key, f"what its {key} was") for key in _STAYS if getattr(was, key) != getattr(now, key))


def _of_line(was: "Confirmation", now: "Confirmation") -> Iterator[Loss]:
    yield from _fewer("things", was.things, now.things)
    yield from _fewer("ended_by", was.ended_by, now.ended_by)
    stays = ("group", "hazard", "proof", "instead_of", "after", "arrives_so", "once", "carries")
    yield from ((key, f"what its {key} was") for key in stays if getattr(was, key) != getattr(now, key))


def _of_remedy(under: "Knowledge", laid: "Knowledge", was: "Remedy", now: "Remedy") -> Iterator[Loss]:
    yield from _fewer("cautions", was.cautions, now.cautions)
    yield from _fewer("does", was.does, now.does)
    yield from _fewer("repeat", was.repeat, now.repeat)
    yield from _fewer("torques", (one.id for one in was.torques), (one.id for one in now.torques))
    yield from _less_safe(under, laid, was.state, now.state)


def _fewer(key: str, was: Iterable[str], now: Iterable[str]) -> Iterator[Loss]:
    left = set(now)
    yield from ((key, f"'{one}'") for one in was if one not in left)


def _less_safe(under: "Knowledge", laid: "Knowledge", was: str, now: str) -> Iterator[Loss]:
    """What another vehicle state takes away: none is asked, the engine runs, or the battery is connected."""
    before, after = under.states.get(was), laid.states.get(now)
    if was == now or before is None:
        return
    if after is None:
        yield "state", "its vehicle state"
    elif (after.engine, before.engine) == ("running", "stopped"):
        yield "state", "the standing engine"
    elif (after.battery, before.battery) == ("connected", "isolated"):
        yield "state", "the isolated battery"
    elif after.engine == "running" and (after.belt, before.belt) == ("removed", "fitted"):
        yield "state", "the belt that is on while the engine runs"


def _faults(origins: "Origins", section: str, item: str, losses: Iterable[Loss]) -> Iterator[Fault]:
    for key, what in losses:
        yield Fault(origins.place(section, item, key), f"It takes {what} away from '{item}'.", HINT)
