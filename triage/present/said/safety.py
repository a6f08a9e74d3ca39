"""Confirmations and the engine in words."""

from collections.abc import Mapping
from types import MappingProxyType
from typing import assert_never

from triage.knowledge.models import Knowledge
from triage.present.said.instants import time_of_day
from triage.present.said.words import Words
from triage.record import events as e

CHANGED: Mapping[str, str] = MappingProxyType(
    {
        "driven": "the vehicle was driven, pushed or moved",
        "lifted": "it was raised or lowered, a wheel or something heavy came off",
        "brake-touched": "lever, brake or a chock was touched",
        "another-bay": "another bay, the hose off, or the extinguisher used",
        "joined": "somebody joined, or came back",
        "engine-ran": "the engine ran",
        "turned": "the engine was turned by bar or starter",
        "ignition-on": "the ignition was on",
        "fan-started": "a fan or pump started by itself",
        "key-left": "the key left its holder",
        "key-found": "another key turned up",
        "lead-on": "a battery lead, charger or supply was connected",
        "lead-off": "a battery lead came off",
        "belt-moved": "belt, tensioner, pulley, accessory or bracket was moved or loosened",
        "hands-in": "hands, a tool or an instrument went in",
        "stepped-in": "somebody stepped in",
        "left-seat": "the one at the key left the seat or took a call",
        "stop": "the engine stopped",
        "run-over": "the engine has run for long enough",
        "refused": "it is not so",
        "long-silent": "nothing was said for half an hour",
        "long-hands-in": "hands were in for an hour",
        "no-answer": "nobody answered",
        "paused": "the vehicle was left",
        "handed-over": "the session was handed over",
        "not-saved": "nothing can be saved",
        "clock-jumped": "the clock jumped",
        "taken-back": "the answer was taken back",
    }
)
"""What ends confirmations, in words."""
ALARMED = ("Switch off. Nobody goes in until all is still.",)


def interlock_words(knowledge: Knowledge, event: e.OfInterlock) -> Words:
    """An event of an interlock."""
    match event:
        case e.ThingConfirmed():
            thing = knowledge.confirmations.get(event.confirmation)
            ask = thing.ask if thing else "what is used up is in hand"
            return Words(f"confirmed: {ask}{_proved(event)}", (f"Confirmed: {ask.partition(';')[0]}",))
        case e.ThingsCarried():
            asked = {one: knowledge.confirmations[one].ask for one in event.since}
            along = (f"carried from {time_of_day(at_ms)}: {asked[one]}" for one, at_ms in event.since.items())
            return Words(" ".join(along), tuple(f"Still holds: {ask}" for ask in asked.values()))
        case e.ThingRefused():
            thing = knowledge.confirmations.get(event.confirmation)
            reason = f" ({event.reason})" if event.reason else ""
            return Words(f"NOT confirmed: {thing.ask if thing else event.confirmation}{reason}")
        case e.RefusalExplained():
            return Words(f"why it is not so: {event.reason}")
        case e.HeldTriedAgain():
            return Words("what was not confirmed is asked again")
        case e.StateEntered():
            words = knowledge.states[event.state].words
            return Words(f"-> {words}", (f"All confirmed. {words}",))
        case e.InterlockLapsed():
            return Words(f"confirmations ended ({event.because})")
        case _:
            return _happening_words(knowledge, event)


def _happening_words(
    knowledge: Knowledge, event: e.VehicleTurned | e.SomethingChanged | e.AloneSaid | e.ThingsEnded | e.LooksEnded
) -> Words:
    match event:
        case e.VehicleTurned():
            return Words(f"-> belt {event.belt}, battery {event.battery}")
        case e.SomethingChanged():
            return Words(f"changed: {CHANGED[event.what]}", ("Written down. What it ends is asked again.",))
        case e.AloneSaid():
            return Words("alone" if event.alone else "no more alone", ("Written down.",))
        case e.ThingsEnded():
            return Words(_no_more(knowledge, event))
        case e.LooksEnded():
            names = ", ".join(knowledge.checks[one].name for one in event.checks)
            return Words(f"to be looked at again before the next start: {names}")
    assert_never(event)


def _no_more(knowledge: Knowledge, event: e.ThingsEnded) -> str:
    """What stands no more; nothing to say where nothing stood."""
    asks = (knowledge.confirmations[one].ask for one in event.things if one in knowledge.confirmations)
    ended = " ".join(asks)
    return f"stands no more ({CHANGED.get(event.because, event.because)}): {ended}" if ended else ""


def _proved(event: e.ThingConfirmed) -> str:
    """Who, what was called back, what was read; and that nobody can have read the line."""
    who = f"{event.name}, alone" if event.alone else event.name
    told = ", ".join((*((who,) if who else ()), *event.proof))
    return f"{f' ({told})' if told else ''}{' [answered faster than anybody reads it]' if event.quick else ''}"


def engine_words(knowledge: Knowledge, event: e.OfEngine) -> Words:
    """An event of the engine and its timed runs, or of the clock that they go by."""
    match event:
        case e.SetUpFinished():
            return Words(f"set up by hand: {knowledge.checks[event.check].name}")
        case e.RunStarted():
            return Words("engine started for a timed run")
        case e.RunEnded():
            return Words(f"run over ({event.because})")
        case e.AlarmRaised():
            return Words("ALARM beside the running engine: thrown, smoke, spray, a knock or a warning lamp", ALARMED)
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
