"""A conversation with a session, on the small knowledge in tests/session/small or on the shipped one."""

import copy
from collections.abc import Callable
from functools import cache
from pathlib import Path
from types import ModuleType
from typing import Any

import pytest

from tests.bench import walk_commands
from triage.app.respondent import Respondent
from triage.errors import CommandRefused
from triage.knowledge.loading import load_knowledge
from triage.knowledge.models import Knowledge
from triage.knowledge.shipped import trees_folder
from triage.knowledge.vehicle import LATER_FACTS
from triage.record.events import Event
from triage.record.readings import AccuracyUsed, TypedPart
from triage.record.steps import Step
from triage.session import commands as c
from triage.session.deciding import decide
from triage.session.evolving import evolve, fold
from triage.session.interlocks import is_pressed
from triage.session.state import State
from triage.units import parse_quantity

HERE = Path(__file__).parent
SECOND_MS = 1000
MINUTE_MS = 60 * SECOND_MS
NAME = "Kim"


@cache
def loaded(folder: Path) -> Knowledge:
    return load_knowledge(folder)


class Kim(Respondent):
    """Does what is asked, with Robin at the key."""

    who = NAME
    names = "Robin"


class Talk:
    """Gives commands, one second apart, and keeps what came of them; every verb returns the talk, to be chained.

    What is asked of the vehicle where it first matters is told at once, unless a test is about that: `tells`.
    """

    def __init__(self, knowledge: Knowledge, symptom: str) -> None:
        self.knowledge = knowledge
        self.now_ms = 1_000_000_000
        self.tells = True
        self.state = State()
        self.events: tuple[Event, ...] = ()
        self.last: tuple[Event, ...] = ()
        accuracies = {
            tool.id: AccuracyUsed(relative=0.04, absolute=0.0, source="shop-file")
            for tool in knowledge.tools.values()
            if tool.measures
        }
        self.play(c.Start, knowledge=knowledge, symptom=symptom, job="J-1", words="It buzzes", accuracies=accuracies)

    def play(self, kind: type[c.Command], **given: Any) -> "Talk":
        return self.give(kind(at_ms=self.now_ms + SECOND_MS, who=NAME, **given))

    def give(self, command: c.Command) -> "Talk":
        self.now_ms = command.at_ms
        self.last = decide(self.knowledge, self.state, command)
        self.events = (*self.events, *self.last)
        self.state = fold(self.last, self.state)
        if self.tells and self.step.fact in LATER_FACTS:
            happened, fact = self.last, self.step.fact
            value = "arm" if fact == "tightening" else None
            self.give(c.TellFact(at_ms=self.now_ms, who=NAME, fact=fact, value=value))
            self.last = (*happened, *self.last)
        return self

    def refuses(self, kind: type[c.Command], **given: Any) -> str:
        """The command is refused and leaves the session as it was; what was said about it."""
        before = copy.deepcopy(self.state)
        with pytest.raises(CommandRefused) as refusal:
            self.play(kind, **given)
        assert refusal.value.hint
        assert self.state == before
        return refusal.value.message

    @property
    def step(self) -> Step:
        return self.state.step

    @property
    def asks(self) -> str:
        """Kind of the step, and what it is about."""
        step = self.step
        about = step.fact or step.confirmation or next(iter(self.open), "") or step.part or step.torque or step.check
        return f"{step.kind} {about}".strip()

    @property
    def open(self) -> list[str]:
        """The lines of the card that are not pressed yet."""
        return [line for line in self.step.lines if not is_pressed(self.knowledge, self.state, line)]

    def happened(self, kind: type[Event]) -> list[Any]:
        """All events of one kind so far."""
        return [event for event in self.events if isinstance(event, kind)]

    # --- what people say
    def told(self, pulley: str | None = "one-way-clutch") -> "Talk":
        """Through the gate and the facts."""
        self.play(c.AnswerGate, answer="none").play(c.TellFact, fact="pulley", value=pulley)
        return self.play(c.TellFact, fact="odometer", value=1.2e8).play(c.TellFact, fact="cylinders", value=4.0)

    def confirm(self, *confirmations: str) -> "Talk":
        for confirmation in confirmations:
            self.play(c.Confirm, confirmation=confirmation, name="Robin", volts=(12.6, 0.0))
        return self

    def enter(self) -> "Talk":
        """Confirm whatever is asked, and set up what is to be set up, until something else is asked."""
        while self.step.kind in ("confirm", "set-up", "switch-off"):
            command = Kim().answer(self.knowledge, self.state, self.now_ms + SECOND_MS)
            assert command is not None
            self.give(command)
        return self

    def enter_one_card(self) -> "Talk":
        """Press every open line of the card on screen."""
        return self.confirm(*self.open)

    def no(self, line: str, reason: str = "it is not") -> "Talk":
        """Say no to a line of the card, with why at once."""
        return self.play(c.RefuseConfirmation, confirmation=line, reason=reason)

    def changed(self, what: str) -> "Talk":
        """Say that something happened that nobody asked about."""
        return self.play(c.SayChanged, what=what)

    def off(self) -> "Talk":
        """Say that the engine is off, as is asked for now."""
        assert self.step.kind == "switch-off"
        return self.play(c.EndRun)

    def answer(self, check: str, *outcomes: str) -> "Talk":
        """Confirm what is asked, then answer."""
        return self.enter().play(c.Answer, check=check, outcomes=outcomes)

    def read(self, check: str, text: str) -> "Talk":
        return self.enter().play(c.Read, check=check, parts=self.typed(check, text))

    def typed(self, check: str, *texts: str) -> tuple[TypedPart, ...]:
        reading = self.knowledge.checks[check].reading
        assert reading
        made = []
        for part, text in zip(reading.parts, texts, strict=True):
            quantity = parse_quantity(text, part.kind)
            made.append(TypedPart(part=part.id, value=quantity.value, spread=quantity.spread, text=text))
        return tuple(made)

    def cannot(self, check: str) -> "Talk":
        return self.play(c.CannotDo, check=check, reason="no access")

    def wait(self, minutes: float) -> "Talk":
        """Let time pass without anybody noticing."""
        self.now_ms += round(minutes * MINUTE_MS)
        return self

    def tick(self, minutes: float = 0.0) -> "Talk":
        return self.wait(minutes).play(c.Tick)

    def replayed(self) -> State:
        """The state out of the events alone, each read back from its JSON."""
        state = State()
        for event in self.events:
            state = evolve(state, type(event).model_validate_json(event.model_dump_json()))
        return state


@pytest.fixture(scope="session")
def small() -> Knowledge:
    return loaded(HERE / "small")


@pytest.fixture(scope="session")
def shipped() -> Knowledge:
    return loaded(trees_folder())


@pytest.fixture
def buzz(small: Knowledge) -> Talk:
    """At the first check, which is asked anywhere."""
    return Talk(small, "buzz").told()


@pytest.fixture
def apart(small: Knowledge) -> Talk:
    """At the belt, on the tree that ends with a run without it."""
    return Talk(small, "buzz-apart").told()


@pytest.fixture
def clipped(small: Knowledge) -> Talk:
    """At the belt, on the tree whose running checks are set up by hand."""
    return Talk(small, "buzz-clipped").told()


@pytest.fixture(scope="session")
def talk() -> Callable[[Knowledge, str], Talk]:
    return Talk


@pytest.fixture(scope="session")
def walking() -> ModuleType:
    return walk_commands


@pytest.fixture
def listening(buzz: Any) -> Any:
    """The session in the running state, at the listening check."""
    return buzz.answer("heard", "yes-heard").answer("belt-look", "sound").answer("leak-look", "dry").enter()


@pytest.fixture
def measuring(buzz: Any) -> Any:
    """The session with the battery isolated, at the torque check."""
    return buzz.answer("heard", "yes-heard").answer("belt-look", "cannot-tell").enter()


@pytest.fixture
def mounting(shipped: Knowledge, talk: Any) -> Any:
    """Hands in at the drive of a vehicle, the start tried after the first looks."""
    session = talk(shipped, "belt-chirp").told()
    while session.step.check != "pulley-type":
        check = shipped.checks[session.step.check]
        session.answer(check.id, check.outcomes[0].id)
    return session.enter()
