"""What is told of a vehicle and decides what is asked at it: the facts and their words."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType
from typing import Final, Literal

Fact = Literal["pulley", "odometer", "cylinders", "tightening", "drives", "belts", "managed_charging", "system_voltage"]
Told = str | float | None
"""A fact as it is kept: a word, several with blanks between them, or a number in SI; None where it is not known."""

FIRST_FACTS: Final[tuple[Fact, ...]] = ("pulley", "odometer", "cylinders")
"""Asked before everything."""
LATER_FACTS: Final[tuple[Fact, ...]] = ("tightening", "drives", "belts", "managed_charging", "system_voltage")
"""Asked once, where they first matter."""
FACTS: Final = (*FIRST_FACTS, *LATER_FACTS)
WORDS: Final[Mapping[str, Mapping[str, str]]] = MappingProxyType(
    {
        "tightening": {
            "arm": "a sprung tensioner arm",
            "strut": "an arm with a strut beside it",
            "screw": "a screw: the belt is set by hand",
            "stretch": "nothing: a stretch belt keeps itself tight",
            "no-stretch": "one of the first three: it is no stretch belt",
        },
        "drives": {
            "alternator": "alternator",
            "water-pump": "coolant pump",
            "steering-pump": "steering pump",
            "compressor": "compressor of the air conditioning",
            "fan": "cooling fan",
        },
        "managed_charging": {"yes": "charging is managed by the engine computer", "no": "a regulator of its own"},
        "system_voltage": {"12": "12 V", "24": "24 V", "other": "another voltage"},
    }
)
"""The words that a fact may have, each as it is said; drives may be several."""
SEVERAL: Final = ("drives",)
STRETCH: Final = "stretch"


@dataclass(frozen=True)
class Vehicle:
    """What is told of a vehicle.

    Args:
        pulley: the specified pulley type, or unknown.
        told: its other facts that are known and are words, by name.
    """

    pulley: str = "unknown"
    told: Mapping[str, str] = field(default_factory=dict)

    def is_one_of(self, fact: str, values: tuple[str, ...]) -> bool:
        """Whether a fact may be one of these: what nobody knows may be."""
        told = self.told.get(fact)
        return told is None or any(one in values for one in told.split())

    def parts(self) -> frozenset[str] | None:
        """What its belt runs over; None where nobody said. Idlers drive nothing: nobody says whether there are any."""
        told = self.told.get("drives")
        return None if told is None else frozenset((*told.split(), "idler"))


def vehicle_of(facts: Mapping[str, Told]) -> Vehicle:
    """A vehicle by its facts as they are kept."""
    told = {fact: value for fact, value in facts.items() if fact in WORDS and isinstance(value, str)}
    pulley = facts.get("pulley")
    return Vehicle(pulley if isinstance(pulley, str) else "unknown", told)


def leaves_pump_out(vehicle: Vehicle) -> bool:
    """Whether it is told that this belt does not drive the coolant pump."""
    return not vehicle.is_one_of("drives", ("water-pump",))


def is_word_of(fact: str, value: str) -> bool:
    """Whether a value is a word of a fact, or several where it may have several."""
    words = value.split()
    few = bool(words) and (fact in SEVERAL or len(words) == 1)
    return few and all(one in WORDS.get(fact, {}) for one in words) and len(set(words)) == len(words)
