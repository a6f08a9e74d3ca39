"""Sessions to audit: random ones on two clocks, and what is left of a trace when somebody has edited it."""

import random
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from typing import Any

import pytest

from triage.errors import CommandRefused
from triage.knowledge.models import Figure, Knowledge
from triage.record.events import Event, SessionStarted
from triage.session import commands as c
from triage.session.audit import objections
from triage.session.deciding import decide, under_rules
from triage.session.evolving import fold
from triage.session.state import State

TODAY_MS = 1_767_225_600_000
"""The clocks of scripts begin near zero, which is a year that no trace can have."""
LOST_LINES = (0, 0, 1, 2, 3)
TAKEN_UP = 0.01
"""How often a session is taken up again from disk."""


def dated(events: Iterable[Event]) -> list[Event]:
    """The same events in the year 2026."""
    return [event.model_copy(update={"at_ms": event.at_ms + TODAY_MS}) for event in events]


def reasons(events: Iterable[Event]) -> list[str]:
    return [objection.reason for objection in objections(list(events))]


@dataclass
class Edited:
    """A trace under somebody's hands; every verb returns another one."""

    events: list[Event] = field(default_factory=list)

    def at(self, kind: str, nth: int = 0, **fields: Any) -> int:
        """Where an event of this kind stands, whose fields are so; a step's by their own names."""
        found = [place for place, event in enumerate(self.events) if event.kind == kind and _fits(event, fields)]
        return found[nth]

    def cut(self, place: int) -> "Edited":
        return Edited(self.events[: place + 1])

    def without(self, place: int) -> "Edited":
        return Edited([*self.events[:place], *self.events[place + 1 :]])

    def twice(self, place: int) -> "Edited":
        return Edited([*self.events[: place + 1], *self.events[place:]])

    def changed(self, place: int, **fields: Any) -> "Edited":
        events = [*self.events]
        events[place] = events[place].model_copy(update=fields)
        return Edited(events)

    def inserted(self, place: int, kind: type[Event], **fields: Any) -> "Edited":
        """A new event in front of one, at its time and by the same person."""
        there = self.events[place]
        stamp = {name: getattr(there, name) for name in ("at_ms", "who", "clock_ms", "boot")}
        return Edited([*self.events[:place], kind(**{**stamp, **fields}), *self.events[place:]])

    @property
    def all(self) -> str:
        """Every objection."""
        return "\n".join(reasons(self.events))

    @property
    def first(self) -> str:
        """The first objection."""
        return next(iter(reasons(self.events)), "")


def _fits(event: Event, fields: dict[str, Any]) -> bool:
    step = getattr(event, "step", event)
    return all(getattr(event, name, getattr(step, name, None)) == value for name, value in fields.items())


@pytest.fixture
def edited() -> Callable[[Iterable[Event]], Edited]:
    return lambda events: Edited(dated(events))


@pytest.fixture(scope="session")
def objected() -> Callable[[Iterable[Event]], list[str]]:
    """Every objection against events that a script made."""
    return lambda events: reasons(dated(events))


class Wandering:
    """A session under random commands, on two clocks: one leaps, the other goes forward.

    Now and then the program is killed, perhaps between two lines of one answer, and the trace taken up again.
    """

    def __init__(self, walking: Any, knowledge: Knowledge, rng: random.Random) -> None:
        self._walking, self._rng, self.knowledge = walking, rng, knowledge
        self.state = State()
        self.events: list[Event] = []
        self.at_ms = self.clock_ms = 36_000_000
        self.boot = 1
        symptom = rng.choice(list(knowledge.trees))
        self.give(c.Start(**self._stamp("Ann"), knowledge=knowledge, symptom=symptom, job="J-1"))

    def walk(self, commands: int) -> "Wandering":
        likely = self._rng.choice((0.99, 0.95, 0.6))
        for _ in range(commands):
            if self.state.closed:
                break
            self._wait()
            base = self._stamp(self._rng.choice(self._walking.WHO))
            make = self._walking.sensible if self._rng.random() < likely else self._walking.wild
            self.give(make(self._rng, self.knowledge, self.state, base))
        return self

    def give(self, command: c.Command) -> None:
        try:
            happened = decide(self.knowledge, self.state, command)
        except CommandRefused:
            return
        self.events += happened
        self.state = fold(happened, self.state)
        self.knowledge = under_rules(self.knowledge, happened)

    def _wait(self) -> None:
        if self._rng.random() < TAKEN_UP:
            self._take_up()
        leap_ms = 1000 if self._rng.random() < 0.95 else self._rng.choice(self._walking.LEAPS_MS)
        self.at_ms += leap_ms
        self.clock_ms += abs(leap_ms)
        self.give(c.Tick(**self._stamp("clock"), lost=self._rng.random() < 0.01))

    def _take_up(self) -> None:
        self.events = self.events[: max(2, len(self.events) - self._rng.choice(LOST_LINES))]
        self.state = fold(self.events)
        started = self.events[0]
        assert isinstance(started, SessionStarted)
        self.knowledge = under_rules(started.knowledge, self.events)
        self.boot = self.state.boot + 1
        self.at_ms += self._rng.choice((0, 500, -3_600_000, 86_400_000))
        self.clock_ms = self._rng.choice((5000, self.clock_ms))
        self.give(c.Pause(**self._stamp("Ann")))
        if self._rng.random() < 0.5:
            shorter = Figure(text=self._rng.choice(("2 min", "9 min")), source="made-up")
            places = self.knowledge.interlocks.states
            states = {one: place.model_copy(update={"longest": shorter}) for one, place in places.items()}
            under = self.knowledge.interlocks.model_copy(update={"states": states})
            self.give(c.Resume(**self._stamp("Bo"), under=under))

    def _stamp(self, who: str) -> dict[str, Any]:
        return {"at_ms": self.at_ms, "who": who, "clock_ms": self.clock_ms, "boot": self.boot}


@pytest.fixture(scope="session")
def wander(walking: Any) -> Callable[[Knowledge, random.Random], Wandering]:
    return lambda knowledge, rng: Wandering(walking, knowledge, rng)
