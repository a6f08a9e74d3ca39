"""What was told of the vehicle and its drive, in words."""

from typing import assert_never

from triage.drive.pages.figures_page import NOTICE
from triage.knowledge.models import Knowledge
from triage.knowledge.vehicle import WORDS
from triage.present.said.words import Words
from triage.present.steps.costs_line import part_names
from triage.present.steps.drive_facts import match_words
from triage.present.steps.other_pulleys import alike_lines
from triage.present.steps.views import GATE_CHOICES, PULLEY_CHOICES
from triage.record import events as e
from triage.units import say_quantity

NAMES = {
    "pulley": "Specified alternator pulley",
    "odometer": "Odometer",
    "cylinders": "Cylinders",
    "tightening": "What keeps the belt tight",
    "drives": "What the belt drives",
    "belts": "Belts in front of the engine",
    "managed_charging": "Charging",
    "system_voltage": "System voltage",
}
REPAIRING = (
    "The conclusion and the repair that was begun stand as they were. Where they do not fit this vehicle, leave what "
    "is not done yet, and say at the end that it is not cured."
)
Told = str | float | None


def vehicle_words(knowledge: Knowledge, event: e.OfVehicle) -> Words:
    """An event about the vehicle."""
    match event:
        case e.SessionStarted():
            return Words()
        case e.GateAnswered():
            return Words(f"electric machines of the drive: {dict(GATE_CHOICES).get(event.answer, event.answer)}")
        case e.FactTold():
            return Words(f"{NAMES.get(event.fact, event.fact)}: {fact_words(event.fact, event.value)}")
        case e.FactCorrected():
            said = corrected_words(event)
            return Words(said, (f"{said}.", *([REPAIRING] if event.repairing else [])))
        case e.RenewalTold():
            name = part_names(knowledge).get(event.part, event.part)
            return Words(f"part {event.part}: {_since(event)}", (f"{name}: {_since(event)}.",))
        case e.LayoutUsed():
            return Words(f"layout {event.name}, {len(event.layout.pulleys)} pulleys", _layout(event))
        case e.RateMatched():
            return Words(f"rate {match_words(event.match)}", (match_words(event.match), NOTICE))
        case e.DriveCompared():
            return Words("worked out what other pulleys would do", (*alike_lines(event.predictions), NOTICE))
    assert_never(event)


def fact_words(fact: str, told: Told) -> str:
    """A fact as it was told."""
    if told is None:
        return "not known"
    if isinstance(told, str):
        words = WORDS.get(fact, dict(PULLEY_CHOICES))
        return ", ".join(words.get(one, one) for one in told.split())
    return say_quantity(told, "distance") if fact == "odometer" else f"{told:g}"


def corrected_words(event: e.FactCorrected) -> str:
    """What was put right, said back."""
    name = NAMES.get(event.fact, event.fact)
    return f"{name} put right: {fact_words(event.fact, event.value)}; before, {fact_words(event.fact, event.before)}"


def _since(event: e.RenewalTold) -> str:
    if event.odometer_m is None:
        return "not renewed before, after all"
    return f"renewed before, at {say_quantity(event.odometer_m, 'distance')}"


def _layout(event: e.LayoutUsed) -> tuple[str, ...]:
    against = [event.known.against] if event.known.against else []
    assumed = [f"Taken for granted: {sentence}" for sentence in event.known.assumed]
    return (f'Layout {event.name} is used from here on. Type "drive" to see what it comes to.', *against, *assumed)
