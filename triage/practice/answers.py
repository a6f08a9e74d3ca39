"""What a vehicle shows to a check: which outcomes there are, or a value that every reading scatters around.

The outcome follows from the levels of the signs by the order of precedence, as evidence does the other way round. So
the same check shows the same each time, and two checks of one sign agree. A complaint that is not there shows in no
check that needs it, until a test has brought it on.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

from triage.knowledge.models import Check, Knowledge, Outcome, Reading
from triage.practice.chance import between, picked
from triage.practice.vehicle import Vehicle, level_of
from triage.reasoning.inference.network import Network, network_of
from triage.record.readings import AccuracyUsed
from triage.units import parse_quantity, say_quantity

WIDEST = 2.0
"""How many times its highest limit a reading comes to at most. Source: from-memory."""
NARROWEST = 0.1
"""What share of its lowest limit a reading comes to at least. Source: from-memory."""


@dataclass(frozen=True)
class Shown:
    """What a check shows.

    Args:
        check: its id.
        outcomes: what it comes to; none where it says nothing because the complaint is not there.
        value: what is measured, in SI; None where nothing is.
    """

    check: str
    outcomes: tuple[str, ...]
    value: float | None = None


@dataclass(frozen=True)
class Answers:
    """A vehicle that answers.

    Args:
        knowledge: checks and signs.
        vehicle: what is hidden.
        accuracies: of the instruments, by tool.
        under: conditions under which the complaint may have been met, as outcomes of the check that asks for it.
    """

    knowledge: Knowledge
    vehicle: Vehicle
    accuracies: Mapping[str, AccuracyUsed]
    under: tuple[str, ...] = ()

    @cached_property
    def _network(self) -> Network:
        return network_of(self.knowledge, self.vehicle.pulley)

    def shown(self, check_id: str, made: tuple[str, ...] = ()) -> Shown:
        """What a check shows.

        Args:
            check_id: the check.
            made: the checks made before: one of them may have brought the complaint on.
        """
        check = self.knowledge.checks[check_id]
        if check.needs_complaint and not self.is_there(made):
            return Shown(check_id, ())
        outcomes = self.vehicle.fixed.get(check_id) or self._outcomes(check, made)
        return Shown(check_id, outcomes, self._value(check, outcomes))

    def is_there(self, made: tuple[str, ...]) -> bool:
        """Whether the complaint is there, after these checks."""
        vehicle = self.vehicle
        brings = any(self._brings_on(self.knowledge.checks[one]) for one in made)
        return vehicle.there or (vehicle.provoked and brings)

    def reading(self, shown: Shown, number: int) -> float:
        """One reading of what a check measures: its true value and what the instrument is off by [SI].

        Args:
            shown: what the check shows.
            number: the how manieth reading it is.
        """
        check, value = self.knowledge.checks[shown.check], shown.value or 0.0
        accuracy = self.accuracies.get(check.reading.instrument if check.reading else "")
        if accuracy is None or check.reading is None:
            return value
        # A deviation in another quantity is one of a part, not of what the formula makes of it.
        tool = self.knowledge.tools[check.reading.instrument]
        absolute = accuracy.absolute if tool.measures == check.reading.kind else 0.0
        width = accuracy.relative * abs(value) + absolute
        lowest = 0.0 if value >= 0.0 else value - width
        return max(lowest, between(value - width, value + width, self.vehicle.key, "reading", check.id, number))

    def said(self, shown: Shown, number: int) -> str:
        """A reading in words, in the unit in which the limits of its check stand."""
        check = self.knowledge.checks[shown.check]
        assert check.reading is not None  # noqa: S101 - asked for readings alone
        limit = next(zone.below.text for zone in check.reading.zones if zone.below)
        kind = check.reading.kind
        return say_quantity(self.reading(shown, number), kind, parse_quantity(limit, kind).unit)

    def _outcomes(self, check: Check, made: tuple[str, ...]) -> tuple[str, ...]:
        told = self._of_complaint(check, made)
        if told:
            return (told,)
        normal = check.normal(self.vehicle.pulley)
        if self.vehicle.recorded:
            return (normal,)
        if check.sign:
            sign = self.knowledge.signs[check.sign]
            return (sign.levels[level_of(self._network, self.vehicle, sign)],)
        seen = tuple(one.id for one in check.outcomes if one.id != normal and self._is_seen(one))
        return (seen if check.several else seen[:1]) or (normal,)

    def _is_seen(self, outcome: Outcome) -> bool:
        if not outcome.sign or outcome.says_nothing:
            return False
        return level_of(self._network, self.vehicle, self.knowledge.signs[outcome.sign]) > 0

    def _of_complaint(self, check: Check, made: tuple[str, ...]) -> str:
        """What a check says that asks whether the complaint is there; "" where it asks something else."""
        asked = self.knowledge.trees[self.vehicle.symptom].complaint
        if asked and check.id == asked.under:
            some = [one.id for one in check.outcomes if one.id in self.under] or [one.id for one in check.outcomes]
            return picked(some, self.vehicle.key, "under")
        if not any(one.complaint for one in check.outcomes) and not (asked and check.id == asked.met):
            return ""
        there = self.is_there((*made, check.id) if self._brings_on(check) else made)
        wanted = "there" if there else "absent"
        said = (one.id for one in check.outcomes if one.complaint == wanted)
        # Where nothing says that it is absent, what says nothing of it does.
        silent = (one.id for one in check.outcomes if one.says_nothing and not one.complaint)
        return next(said, next(silent, ""))

    def _brings_on(self, check: Check) -> bool:
        """Whether a check tries to bring the complaint on: it can find it there, and is not the plain question."""
        asked = self.knowledge.trees[self.vehicle.symptom].complaint
        plain = (asked.met, asked.under, asked.now) if asked else ()
        return check.id not in plain and any(one.complaint == "there" for one in check.outcomes)

    def _value(self, check: Check, outcomes: tuple[str, ...]) -> float | None:
        if check.id in self.vehicle.values:
            return self.vehicle.values[check.id]
        if check.reading is None or not outcomes:
            return None
        bounds = zone_bounds(check.reading, outcomes[0])
        return between(*bounds, self.vehicle.key, "value", check.id) if bounds else None


def zone_bounds(reading: Reading, outcome: str) -> tuple[float, float] | None:
    """From where to where a reading of an outcome lies [SI]; None where no zone is its own."""
    limits = [parse_quantity(zone.below.text, reading.kind).value for zone in reading.zones if zone.below]
    place = next((at for at, zone in enumerate(reading.zones) if zone.outcome == outcome), None)
    if place is None or not limits:
        return None
    plain = reading.parts[0] if reading.formula is None else None
    least = parse_quantity(plain.least.text, plain.kind).value if plain and plain.least else limits[0] * NARROWEST
    most = parse_quantity(plain.most.text, plain.kind).value if plain and plain.most else limits[-1] * WIDEST
    low = limits[place - 1] if place else min(least, limits[0])
    high = limits[place] if place < len(limits) else max(min(most, limits[-1] * WIDEST), limits[-1])
    return low, high
