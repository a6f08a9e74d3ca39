"""Confirmations and the engine in words."""

from typing import assert_never

from triage.knowledge.models import Knowledge
from triage.present.said.instants import time_of_day
from triage.present.said.words import Words
from triage.record import events as e


def interlock_words(knowledge: Knowledge, event: e.OfInterlock) -> Words:
    """An event of an interlock."""
    match event:
        case e.ThingConfirmed():
            thing = knowledge.confirmations.get(event.confirmation)
            name = f" ({event.name})" if event.name else ""
            return Words(f"confirmed: {thing.ask if thing else 'what is used up is in hand'}{name}")
        case e.ThingsCarried():
            asked = {one: knowledge.confirmations[one].ask for one in event.since}
            along = (f"carried from {time_of_day(at_ms)}: {asked[one]}" for one, at_ms in event.since.items())
            return Words(" ".join(along), tuple(f"Still holds: {ask}" for ask in asked.values()))
        case e.ThingRefused():
            thing = knowledge.confirmations.get(event.confirmation)
            return Words(f"NOT confirmed: {thing.ask if thing else event.confirmation} ({event.reason})")
        case e.HeldTriedAgain():
            return Words("what was not confirmed is asked again")
        case e.StateEntered():
            words = knowledge.states[event.state].words
            return Words(f"-> {words}", (f"All confirmed. {words}",))
        case e.InterlockLapsed():
            return Words(f"confirmations ended ({event.because})")
    assert_never(event)


def engine_words(knowledge: Knowledge, event: e.OfEngine) -> Words:
    """An event of the engine and its timed runs, or of the clock that they go by."""
    match event:
        case e.SetUpFinished():
            return Words(f"set up by hand: {knowledge.checks[event.check].name}")
        case e.RunStarted():
            return Words("engine started for a timed run")
        case e.RunEnded():
            return Words(f"run over ({event.because})")
        case e.EngineOff():
            return Words("engine off, all still")
        case e.ClockShifted():
            words = _shifted(event)
            ended = " Every confirmation has ended." if abs(event.by_ms) > e.JUMP_MS else ""
            return Words(words, (f"{words[0].upper()}{words[1:]}.{ended}",))
    assert_never(event)


def _shifted(event: e.ClockShifted) -> str:
    """By how much the wall clock moved, and which way."""
    seconds = round(abs(event.by_ms) / 1000)
    hours, minutes = divmod(seconds // 60, 60)
    by = f"{seconds} s" if seconds < 120 else f"{hours} h {minutes} min" if hours else f"{minutes} min"
    return f"the clock of this computer was moved {'back' if event.by_ms < 0 else 'forward'} by {by}"
