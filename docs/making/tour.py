"""A tour through the full screen, with invented vehicles, thrown-away folders and a clock that typing moves.

What is worth a picture is kept to be drawn.
"""

import asyncio
import math
import tempfile
from collections.abc import Callable, Iterator, Mapping
from pathlib import Path
from types import MappingProxyType
from typing import TYPE_CHECKING

from make_demos import usual
from textual import events
from textual.pilot import Pilot

from triage.app.job import Job, start
from triage.app.opening import Opening
from triage.app.reading import replay
from triage.app.resuming import resume
from triage.app.shop.shop_file import Shop, accuracies
from triage.cli.face import desk
from triage.knowledge.loading import load_knowledge
from triage.knowledge.shipped import demos_folder, trees_folder
from triage.knowledge.wording.matching import Matcher
from triage.knowledge.wording.words import load_words
from triage.present.typing.exchange import Exchange
from triage.record.steps import Step
from triage.store import TraceWriter, list_traces
from triage.tui.answer_line import AnswerLine
from triage.tui.app import TriageApp
from triage.tui.desk import Desk, Saved
from triage.tui.session.session_screen import SessionScreen
from triage.tui.start import StartScreen

if TYPE_CHECKING:
    from textual.strip import Strip

DRAWN, WALKED = (80, 24), (120, 40)
"""A picture is small; a walk has room, because nothing is taken of a step of which a part was never on screen."""
BEGINS_MS = 1_772_438_400_000
"""2026-03-02, 08:00 UTC; the tour is invented."""
MOST_STEPS = 400
HOURS_MS = 6 * 3600 * 1000
"""Long enough for an engine to count as cold."""
Until = Callable[[Step], bool]
"""Whether a step is the one to come to."""
Story = Mapping[str, Iterator[str]]
"""By check, by fact or for what is held, the lines that differ from the usual ones."""
USUAL: Story = MappingProxyType({})
DEEPEST = 3
"""Pages over the start screen at most."""
ROUNDS = 4
"""How often all widgets handle what waits for them, until what one has asked of another has been painted, too."""


class Clock:
    """Stands still until it is moved."""

    def __init__(self) -> None:
        """Begin in the morning."""
        self.now_ms = BEGINS_MS

    def __call__(self) -> int:
        """Milliseconds since 1970-01-01 UTC."""
        return self.now_ms


class Tour:
    """Hands that type at the full screen, and eyes that read it off.

    Attributes:
        drawn: the rows of the screens that are to be drawn, by name.
        job: the session that was opened last.
    """

    def __init__(self, folder: Path) -> None:
        """Set a desk up with nothing on it but the demos."""
        self.drawn: dict[str, list[Strip]] = {}
        self.clock = Clock()
        self.knowledge = load_knowledge(trees_folder())
        self.jobs: list[Job] = []
        self._folder = folder

    @property
    def job(self) -> Job:
        """The session that was opened last."""
        return self.jobs[-1]

    def app(self) -> TriageApp:
        """The face on this desk."""
        return TriageApp(
            Desk(
                load=lambda: self.knowledge,
                begin=lambda _knowledge, opening: self.begin(opening),
                resume=lambda path: resume(path, self.clock, ""),
                saved=lambda: tuple(
                    Saved(one.path, f"{one.path.stem}, 2026-03-02", open=True) for one in list_traces(self._folder)
                ),
                demos=lambda: tuple(sorted(demos_folder().glob("*.jsonl"))),
                replay=replay,
                shop=lambda: ("File: shop.yaml", "", "reviewer: nobody yet"),
                matcher=lambda knowledge: Matcher(load_words(trees_folder()), knowledge.trees),
                load_rest=lambda: None,
                practise=desk().practise,
                prove_units=lambda: None,
            )
        )

    def begin(self, opening: Opening) -> Job:
        """Start a session."""
        writer = TraceWriter.create(self._folder, f"job-{len(self.jobs) + 1}")
        used = accuracies(self.knowledge, Shop())
        self.jobs.append(start(self.knowledge, opening, used, "", self.clock, writer))
        return self.job

    def lose_trace(self) -> None:
        """Delete the trace of the session that was opened last."""
        (self._folder / f"job-{len(self.jobs)}.jsonl").unlink()

    async def settle(self, pilot: Pilot[str]) -> None:
        """Wait until all is painted."""
        for _ in range(ROUNDS):
            await pilot.pause(0)
            while any(not worker.is_finished for worker in pilot.app.workers):
                await pilot.pause(0.005)

    async def type(self, pilot: Pilot[str], *lines: str) -> None:
        """Type lines, each ended with Enter; a second passes with each."""
        for line in lines:
            self.clock.now_ms += 1000
            pilot.app.screen.post_message(AnswerLine.Given(line, read=True, at_s=math.inf))
            await self.settle(pilot)

    async def press(self, pilot: Pilot[str], *keys: str) -> None:
        """Press keys that are no letters."""
        for key in keys:
            pilot.app.post_message(events.Key(key, None))
            await self.settle(pilot)

    async def home(self, pilot: Pilot[str]) -> None:
        """Close what lies over the start screen."""
        for _ in range(DEEPEST):
            if isinstance(pilot.app.screen, StartScreen):
                return
            await self.press(pilot, "escape")
        raise SystemExit(f"The tour does not come back to the start: {pilot.app.screen}")

    async def draw(self, pilot: Pilot[str], name: str) -> None:
        """Keep the screen to be drawn, once it changes no more."""
        await pilot.resize_terminal(*DRAWN)
        text, before = "", None
        while text != before:
            await self.settle(pilot)
            before, strips = text, pilot.app.screen._compositor.render_strips()  # noqa: SLF001 - what is painted
            text = "".join(strip.text for strip in strips)
            self.drawn[name] = strips
        await pilot.resize_terminal(*WALKED)
        await self.settle(pilot)

    async def open(self, pilot: Pilot[str], opening: Opening, until: Until | None = None, story: Story = USUAL) -> None:
        """Open the screen of a new session, where one is named at a step to which nobody sees it come."""
        exchange = Exchange(self.begin(opening))
        while until and not until(self.job.state.step):
            for line in self._lines(story):
                self.clock.now_ms += 1000
                exchange.take(line)
        pilot.app.push_screen(SessionScreen(self.job))
        await self.settle(pilot)

    async def page(self, pilot: Pilot[str], word: str) -> None:
        """Draw the page that a word opens, and close it."""
        await self.type(pilot, word)
        await self.draw(pilot, f"page-{word}")
        await self.press(pilot, "escape")

    def _lines(self, story: Story) -> tuple[str, ...]:
        """What the story has for the step on screen, the usual otherwise."""
        step = self.job.state.step
        key = "held" if step.kind == "held" else step.check or step.fact
        told = next(story.get(key, iter(())), None) if step.kind != "confirm" else None
        return (told,) if told else usual(self.job)

    async def go_on(self, pilot: Pilot[str], until: Until, story: Story) -> None:
        """Give what the story has for a step, the usual otherwise, until a step is reached; nothing is painted."""
        await self.settle(pilot)
        with pilot.app.batch_update():
            for _ in range(MOST_STEPS):
                if until(self.job.state.step):
                    return
                for line in self._lines(story):
                    self.clock.now_ms += 1000
                    await self._taken(pilot, line)
        raise SystemExit(f"The tour does not get there: {self.job.state.step}")

    async def _taken(self, pilot: Pilot[str], line: str) -> None:
        """Wait until a line has been answered; what nobody sees would not be taken from the answer line."""
        screen, done = pilot.app.screen, asyncio.Event()

        def take() -> None:
            screen._take(line)  # type: ignore[attr-defined]  # noqa: SLF001
            done.set()

        screen.call_later(take)
        await done.wait()


def of_kind(kind: str, check: str = "") -> Until:
    """Whether a step is of a kind, and of a check where one is named."""
    return lambda step: step.kind == kind and check in ("", step.check)


async def at_the_start(tour: Tour, pilot: Pilot[str]) -> None:
    """What is seen before a session."""
    await tour.draw(pilot, "start")
    await tour.type(pilot, "1")
    await tour.type(pilot, "goes chirp chirp like a cricket at idle")
    await tour.draw(pilot, "opening-proposals")
    await tour.home(pilot)


async def worn_bearing(tour: Tour, pilot: Pilot[str]) -> None:
    """A session to its end: a decoupler that growls after the engine is switched off."""
    story = {
        "pulley": iter(["decoupler"]),
        "odometer": iter(["95k miles"]),
        "cylinders": iter(["4"]),
        "when-heard": iter(["after-shutdown"]),
        "shutdown-listen": iter(["7.5 s", "0.4 s"]),
        "spin-decoupler-ring": iter(["rough"]),
    }
    await tour.open(pilot, Opening("shutdown-buzz", "J-1", "Ana", "growls when switched off"))
    for kind, name in (("gate", "gate"), ("check", "asked"), ("confirm", "interlock"), ("conclusion", "conclusion")):
        await tour.go_on(pilot, of_kind(kind), story)
        await tour.draw(pilot, name)
    for word in ("likely", "path"):
        await tour.page(pilot, word)
    for kind, name in (("part", "part"), ("torque", "torque"), ("prove", "proved"), ("closed", "closed")):
        await tour.go_on(pilot, of_kind(kind), story)
        await tour.draw(pilot, name)
    await tour.type(pilot, "")


async def words_at_any_moment(tour: Tour, pilot: Pilot[str]) -> None:
    """What can be said at a check, and a reading that is too close to call."""
    story = {
        "pulley": iter(["one-way-clutch"]),
        "odometer": iter(["152 000 km"]),
        "cylinders": iter(["unknown"]),
        "shutdown-listen": iter(["3 s"]),
        "overrun-torque": iter(["13.2 lbf·in"]),
    }
    await tour.open(pilot, Opening("shutdown-buzz", "J-2", "Ana", "short buzz after parking"))
    await tour.go_on(pilot, of_kind("confirm"), story)
    await tour.type(pilot, "n", "the hose is at the other bay")
    await tour.draw(pilot, "held")
    await tour.type(pilot, "again")
    await tour.go_on(pilot, of_kind("check", "shutdown-listen"), story)
    await tour.draw(pilot, "reading")
    for word in ("why", "tell", "worth"):
        await tour.page(pilot, word)
    await tour.type(pilot, "watch")
    await tour.draw(pilot, "stopwatch")
    await tour.press(pilot, "escape")
    await tour.go_on(pilot, lambda step: step.check == "overrun-torque" and step.attempt == 2, story)
    await tour.draw(pilot, "too-close-to-call")
    # Otherwise what lapses later in this session would come to the front.
    await tour.type(pilot, "pause")


async def without_belt(tour: Tour, pilot: Pilot[str]) -> None:
    """A run without the belt that is not ended in time."""
    await tour.open(pilot, Opening("shutdown-buzz", "J-3", "Ana", "buzzes"))
    unknown = {fact: iter(["unknown"]) for fact in ("pulley", "odometer", "cylinders")}
    story = {**unknown, "shutdown-listen": iter(["7 s"])}
    await tour.go_on(pilot, of_kind("set-up"), story)
    await tour.draw(pilot, "set-up")
    await tour.go_on(pilot, lambda step: step.kind == "held" and step.check == "belt-off-run", story)
    tour.clock.now_ms += HOURS_MS
    await tour.go_on(pilot, of_kind("run-ready"), {"held": iter(["again"] * 3)})
    await tour.draw(pilot, "run-ready")
    await tour.type(pilot, "start")
    await tour.draw(pilot, "run")
    tour.clock.now_ms += HOURS_MS
    await tour.type(pilot, "path")
    await tour.draw(pilot, "run-over")


async def own_route(tour: Tour, pilot: Pilot[str]) -> None:
    """A tree that ends undecided for want of a tool, and the session's own way on."""
    story = {
        "pulley": iter(["one-way-clutch"]),
        "odometer": iter(["210 000 km"]),
        "cylinders": iter(["4"]),
        "recent-work": iter(["alternator-replaced"]),
        "fluid-leak": iter(["leak"]),
        "overrun-torque": iter(["cannot", "the torque tool is lent"]),
    }
    opening = Opening("shutdown-buzz", "J-4", "Ana", "buzzes when switched off")
    await tour.open(pilot, opening, lambda step: bool(tour.job.state.own) and step.kind == "check", story)
    await tour.draw(pilot, "own-route")
    await tour.go_on(pilot, of_kind("conclusion"), story)
    await tour.draw(pilot, "after-own-route")


async def not_saved(tour: Tour, pilot: Pilot[str]) -> None:
    """A trace that somebody deletes while the engine runs."""
    unknown = {fact: iter(["unknown"]) for fact in ("pulley", "odometer", "cylinders")}
    opening = Opening("bearing-rumble", "J-5", "Ana", "rumbles at idle")
    await tour.open(pilot, opening, lambda step: step.kind == "check" and step.state == "running", unknown)
    tour.lose_trace()
    await tour.type(pilot, "note")
    await tour.draw(pilot, "switch-off")
    await tour.type(pilot, "leave")
    await tour.type(pilot, "", "still", "y")
    await tour.draw(pilot, "not-saved")


async def main_tour(folder: Path) -> Tour:
    """Walk the whole tour."""
    tour = Tour(folder)
    app = tour.app()
    async with app.run_test(size=WALKED) as pilot:
        while type(app.screen).__name__ != "StartScreen":
            await pilot.pause(0.02)
        await at_the_start(tour, pilot)
        for part in (worn_bearing, words_at_any_moment, without_belt, own_route, not_saved):
            await part(tour, pilot)
    return tour


def walked() -> Tour:
    """Walk the tour in a folder that is thrown away."""
    with tempfile.TemporaryDirectory() as folder:
        return asyncio.run(main_tour(Path(folder)))
