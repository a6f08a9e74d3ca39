"""What the reasoning said of a session, recorded so that a replay reads it and computes nothing."""

from triage.errors import CommandRefused
from triage.knowledge.models import Knowledge
from triage.record import events as e
from triage.session import commands as c
from triage.session.state import State


def advise(knowledge: Knowledge, state: State, command: c.Advise) -> tuple[e.Event, ...]:
    """Record which causes the findings make likely, and why, and which checks are worth their minutes."""
    if state.stage != "finding":
        raise CommandRefused("The search is over.", "Go on with the step on screen.")
    named = {one.cause for one in command.likely} | {one.cause for one in command.unlikely}
    if named - set(knowledge.causes):
        raise CommandRefused("The advice names a cause that is not known.", "Go on with the step on screen.")
    return (command.as_event(e.AdviceGiven),)


def advise_repair(_knowledge: Knowledge, state: State, command: c.AdviseRepair) -> tuple[e.Event, ...]:
    """Record which repairs pay."""
    if state.concluded is None:
        raise CommandRefused("There is no conclusion yet.", "Go on with the step on screen.")
    return (command.as_event(e.CostsWeighed),)


def tell_renewal(knowledge: Knowledge, state: State, command: c.TellRenewal) -> tuple[e.Event, ...]:
    """Write down that a part is younger than the vehicle, or that it is not after all."""
    parts = dict.fromkeys(part.id for remedy in knowledge.remedies.values() for part in remedy.parts)
    if command.part not in parts:
        raise CommandRefused(f'There is no part "{command.part}".', f"Known: {', '.join(parts)}.")
    if command.odometer_m is None and command.part not in state.renewed_at_m:
        raise CommandRefused("No renewal of this part was told.", "Nothing has changed.")
    if command.odometer_m is not None:
        _expect_been_there(state, command.odometer_m)
    return (command.as_event(e.RenewalTold),)


def _expect_been_there(state: State, odometer_m: float) -> None:
    shown_m = state.facts.get("odometer")
    if not isinstance(shown_m, float):
        raise CommandRefused("What the odometer shows now is not known.", 'Without it no age can be told: "vehicle".')
    if not 0.0 <= odometer_m <= shown_m:
        raise CommandRefused(
            "The odometer has not been there yet.", 'Type it again, or put right what it shows: "vehicle".'
        )
