"""A workbench for the full screen: everything is real but the clock and the folder."""

import asyncio
import inspect
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from hands import lines_for
from textual import events
from textual.app import App

from triage.app.cases import Case, Recorded, read_cases
from triage.app.job import Job, start
from triage.app.opening import Opening
from triage.app.reading import read_sound_part
from triage.app.resuming import resume
from triage.app.shop.shop_file import Shop, accuracies
from triage.knowledge.models import Knowledge
from triage.knowledge.shipped import trees_folder
from triage.knowledge.wording.matching import Matcher
from triage.knowledge.wording.words import load_words
from triage.listening.listener import Listener
from triage.listening.phrasebook import load_phrasebook
from triage.practice.exercise import Exercise, Setting
from triage.practice.sealing import Seal
from triage.practice.vehicle import drawn
from triage.practice.wording import PracticeWords
from triage.present.practising.dialogue import PracticeDialogue
from triage.present.typing.exchange import Exchange
from triage.record.events import Event, NoteAdded
from triage.record.prices import Prices
from triage.record.steps import Step
from triage.record.weights import Weights
from triage.store import TraceWriter, list_traces
from triage.tui.app import TriageApp
from triage.tui.desk import Desk, Saved
from triage.tui.session.session_screen import SessionScreen


@pytest.hookimpl(tryfirst=True)
def pytest_pyfunc_call(pyfuncitem: pytest.Function) -> bool | None:
    """Run a test that is a coroutine."""
    if not inspect.iscoroutinefunction(pyfuncitem.obj):
        return None
    wanted = inspect.signature(pyfuncitem.obj).parameters
    asyncio.run(pyfuncitem.obj(**{name: pyfuncitem.funcargs[name] for name in wanted}))
    return True


READ_S = 2.0
"""How long hands look at a step before they type."""
HOURS_MS = 6 * 3600 * 1000
"""Long enough for an engine to count as cold."""


class Clock:
    """Moves a millisecond for each look; tests move it further."""

    def __init__(self) -> None:
        self.now_ms = 1_700_000_000_000

    def __call__(self) -> int:
        self.now_ms += 1
        return self.now_ms


def keys_of(line: str) -> list[events.Key]:
    """The keys of a line, Enter at its end."""
    return [*(events.Key(letter, letter) for letter in line), events.Key("enter", "\r")]


class Bench:
    """A desk, the jobs that were begun at it, and hands that type."""

    def __init__(self, knowledge: Knowledge, folder: Path) -> None:
        self.knowledge = knowledge
        self.folder = folder
        self.clock = Clock()
        self.jobs: list[Job] = []
        self.demo_files: tuple[Path, ...] = ()
        self.hand_s = 0.0
        self.practised: list[str] = []

    def app(self) -> TriageApp:
        desk = Desk(
            load=lambda: self.knowledge,
            begin=self.begin,
            resume=lambda path: resume(path, self.clock, ""),
            saved=lambda: tuple(Saved(one.path, one.path.stem, open=True) for one in list_traces(self.folder)),
            demos=lambda: self.demo_files,
            replay=lambda path: read_sound_part(path).replayed,
            shop=lambda: ("File: shop.yaml",),
            matcher=lambda knowledge: Matcher(load_words(trees_folder()), knowledge.trees),
            load_rest=lambda: None,
            practise=self.practise,
            prove_units=lambda: None,
        )
        return TriageApp(desk)

    def begin(self, knowledge: Knowledge, opening: Opening) -> Job:
        writer = TraceWriter.create(self.folder, f"job-{len(self.jobs)}")
        self.jobs.append(start(knowledge, opening, accuracies(knowledge, Shop()), "", self.clock, writer))
        return self.jobs[-1]

    def practise(self, knowledge: Knowledge, symptom: str, level: int) -> tuple[PracticeDialogue, Callable[[], None]]:
        words = PracticeWords()
        setting = Setting(knowledge, words, accuracies(knowledge, Shop()), Weights(), Prices())
        exercise = Exercise(setting, drawn(knowledge, symptom, level, seed=3))
        listener = Listener(knowledge, load_phrasebook(trees_folder()), Matcher(load_words(trees_folder()), {}))
        return PracticeDialogue(exercise, listener, Seal(3), lambda kind, _: self.practised.append(kind)), lambda: None

    @property
    def job(self) -> Job:
        return self.jobs[-1]

    @property
    def notes(self) -> list[str]:
        """The remarks of the session that was begun last."""
        return [event.text for event in self.job.events if isinstance(event, NoteAdded)]

    def burst(self, app: App[Any], *lines: str) -> None:
        """Put lines in at once, as a terminal does with type-ahead."""
        for line in lines:
            for key in keys_of(line):
                app.post_message(key)

    def read_and_type(self, app: App[Any], line: str) -> None:
        """Put a line in as somebody types it who reads each step for a while first."""
        keys = keys_of(line)
        self.hand_s = max(self.hand_s, keys[0].time) + READ_S
        for key in keys:
            key.time = self.hand_s
            app.post_message(key)

    async def settle(self, pilot: Any) -> None:
        """Wait until everything posted has been handled and painted, and what was begun beside it is done."""
        for _ in range(4):
            await asyncio.sleep(0)
            await pilot.pause(0)
            while any(not worker.is_finished for worker in pilot.app.workers):
                await pilot.pause(0.005)
            for _ in range(200):
                if not getattr(pilot.app.screen, "behind", 0):
                    break
                await pilot.pause(0.005)

    async def until_painted(self, pilot: Any, text: str) -> None:
        """Wait until a text stands on the screen; time passes there by itself."""
        for _ in range(100):
            if text in self.painted(pilot.app):
                break
            await pilot.pause(0.05)
        assert text in self.painted(pilot.app), self.painted(pilot.app)
        await self.settle(pilot)

    async def type(self, pilot: Any, *lines: str) -> None:
        for line in lines:
            self.read_and_type(pilot.app, line)
            if self.picks(line):
                await self.settle(pilot)
        await self.settle(pilot)

    def picks(self, line: str) -> bool:
        """Whether a line picks one of a round, whose question is read before it is answered."""
        return any(job.state.step.kind == "round" and line in job.state.step.lines for job in self.jobs[-1:])

    async def started(self, pilot: Any) -> None:
        """Wait for the start screen."""
        for _ in range(200):
            if type(pilot.app.screen).__name__ == "StartScreen":
                await self.settle(pilot)
                return
            await pilot.pause(0.02)

    async def open_session(
        self, pilot: Any, job: str = "J-1", words: str = "it buzzes", who: str = "Ada", symptom: str = "shutdown-buzz"
    ) -> None:
        """From the start screen into a new session."""
        await self.started(pilot)
        number = list(self.knowledge.trees).index(symptom) + 1
        for line in ("1", str(number), words, job, who):
            await self.type(pilot, line)

    def lived(self, case: Case, until: Callable[[Step], bool]) -> Job:
        """A session that was lived through to a step without any screen."""
        opening = Opening(symptom=case.symptom, job="J-1", who="Ada")
        exchange = Exchange(self.begin(self.knowledge, opening))
        for _ in range(400):
            step = self.job.state.step
            if until(step):
                return self.job
            if step.kind == "held":
                self.clock.now_ms += HOURS_MS
                exchange.pass_time()
                continue
            for line in self.lines_for(case, self.job):
                exchange.take(line)
        raise AssertionError("the step is never reached")

    def lived_to(self, until: Callable[[Step], bool], symptom: str = "shutdown-buzz", case: str = "") -> Job:
        """A recorded case of a symptom, the first where none is named, lived through to a step without any screen."""
        cases = read_cases(trees_folder() / "cases" / f"{symptom}.yaml", self.knowledge)
        return self.lived(next(one for one in cases if case in ("", one.id)), until)

    async def enter(self, pilot: Any, job: Job) -> None:
        """Open the screen of a session that stands somewhere already."""
        pilot.app.push_screen(SessionScreen(job))
        await self.settle(pilot)

    def painted(self, app: App[Any]) -> str:
        """Everything that stands on the screen now."""
        return "\n".join(strip.text for strip in app.screen._compositor.render_strips())

    def lines_for(self, case: Case, job: Job) -> tuple[str, ...]:
        """What a person types at this step to live through a recorded case; nothing once the tree has concluded."""
        person = Recorded(case).answer(self.knowledge, job.state, job.state.last_ms)
        return lines_for(self.knowledge, person, job.state.step)


def unstamped(happened: tuple[Event, ...]) -> Iterator[dict[str, Any]]:
    """Events without clock, person and what only stands at their start."""
    for event in happened:
        data = event.model_dump(mode="json", exclude={"at_ms", "clock_ms", "who", "knowledge", "job", "words", "quick"})
        if "step" in data:
            data["step"]["until_ms"] = bool(data["step"]["until_ms"])
        if "until_ms" in data:
            data["until_ms"] = bool(data["until_ms"])
        if "since" in data:
            data["since"] = sorted(data["since"])
        yield {"kind": event.kind, **data}


@pytest.fixture
def bench(knowledge: Knowledge, tmp_path: Path) -> Bench:
    return Bench(knowledge, tmp_path)


@pytest.fixture
def compare() -> Any:
    return unstamped
