"""A tour through the full screen, with invented vehicles, thrown-away folders and a clock that typing moves.

At every stop the screen is read off as text in each size; some stops are kept to be drawn.
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
from triage.knowledge.loading import load_knowledge
from triage.knowledge.shipped import demos_folder, trees_folder
from triage.knowledge.wording.matching import Matcher
from triage.knowledge.wording.words import load_words
from triage.present.typing.exchange import Exchange
from triage.record.events import Step
from triage.store import TraceWriter, list_traces
from triage.tui.answer_line import AnswerLine
from triage.tui.app import TriageApp
from triage.tui.desk import Desk, Saved
from triage.tui.session.session_screen import SessionScreen
from triage.tui.start import StartScreen

if TYPE_CHECKING:
    from textual.strip import Strip

SIZES = ((80, 24), (120, 40))
SMALL = (60, 20)
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
        seen: by size and name, the text of every screen that was read off.
        drawn: the rows of the screens that are to be drawn, by name.
        job: the session that was opened last.
    """

    def __init__(self, folder: Path) -> None:
        """Set a desk up with nothing on it but the demos."""
        self.seen: dict[tuple[int, int], dict[str, str]] = {size: {} for size in (*SIZES, SMALL)}
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

    async def stop(self, pilot: Pilot[str], name: str, *, small: bool = False, drawn: bool = False) -> None:
        """Read the screen off in each size."""
        for width, height in (*SIZES, SMALL) if small else SIZES:
            await pilot.resize_terminal(width, height)
            strips: list[Strip] = []
            text, before = "", None
            while text != before:
                await self.settle(pilot)
                before, strips = text, pilot.app.screen._compositor.render_strips()  # noqa: SLF001 - what is painted
                text = "".join(strip.text.rstrip() + "\n" for strip in strips)
            self.seen[width, height][name] = text
            if drawn and (width, height) == SIZES[0]:
                self.drawn[name] = strips

    async def open(self, pilot: Pilot[str], opening: Opening, until: Until | None = None, story: Story = USUAL) -> None:
        """Open the screen of a new session, where one is named at a step to which nobody sees it come."""
        exchange = Exchange(self.begin(opening))
        while until and not until(self.job.state.step):
            for line in self._lines(story):
                self.clock.now_ms += 1000
                exchange.take(line)
        pilot.app.push_screen(SessionScreen(self.job))
        await self.settle(pilot)

    async def page(self, pilot: Pilot[str], word: str, *, drawn: bool = False) -> None:
        """Read the page off that a word opens, and close it."""
        await self.type(pilot, word)
        await self.stop(pilot, f"page-{word}", drawn=drawn)
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
                    # What nobody sees would not be taken from the line.
                    pilot.app.screen.call_later(pilot.app.screen._take, line)  # type: ignore[attr-defined]  # noqa: SLF001
                    await pilot.pause(0)
        raise SystemExit(f"The tour does not get there: {self.job.state.step}")


def of_kind(kind: str, check: str = "") -> Until:
    """Whether a step is of a kind, and of a check where one is named."""
    return lambda step: step.kind == kind and check in ("", step.check)


async def at_the_start(tour: Tour, pilot: Pilot[str]) -> None:
    """What is seen before a session."""
    await tour.stop(pilot, "start", small=True, drawn=True)
    await tour.type(pilot, "1")
    await tour.stop(pilot, "opening")
    await tour.type(pilot, "the radio crackles")
    await tour.stop(pilot, "opening-nothing-fits")
    await tour.type(pilot, "goes chirp chirp like a cricket at idle")
    await tour.stop(pilot, "opening-proposals", drawn=True)
    await tour.type(pilot, "1")
    await tour.stop(pilot, "opening-job")
    await tour.home(pilot)
    await tour.type(pilot, "2")
    await tour.stop(pilot, "saved-none")
    await tour.type(pilot, "", "3")
    await tour.stop(pilot, "demos")
    await tour.type(pilot, "1")
    await tour.stop(pilot, "demo")
    await tour.home(pilot)
    await tour.type(pilot, "4")
    await tour.stop(pilot, "trees")
    await tour.type(pilot, "1")
    await tour.stop(pilot, "tree")
    await tour.type(pilot, "rough")
    await tour.stop(pilot, "search")
    await tour.home(pilot)
    await tour.type(pilot, "6")
    await tour.stop(pilot, "shop")
    await tour.home(pilot)
    for word, answer in (("tool", "list"), ("drive", "four-cylinder-full")):
        await tour.type(pilot, word)
        await tour.stop(pilot, f"{word}-at-the-start")
        await tour.type(pilot, answer)
        await tour.stop(pilot, f"{word}-answered-at-the-start")
        await tour.home(pilot)
    await tour.type(pilot, "worth")
    await tour.stop(pilot, "word-of-a-session-at-the-start")


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
    for kind, name, shown in (
        ("gate", "gate", True),
        ("fact", "fact", False),
        ("check", "asked", True),
        ("confirm", "interlock", True),
        ("conclusion", "conclusion", True),
    ):
        await tour.go_on(pilot, of_kind(kind), story)
        await tour.stop(pilot, name, small=shown, drawn=shown)
    for word in ("likely", "costs", "path"):
        await tour.page(pilot, word, drawn=word != "costs")
    await tour.type(pilot, "worth")
    await tour.stop(pilot, "worth-at-the-conclusion")
    await tour.press(pilot, "escape")
    for kind, name in (("part", "part"), ("torque", "torque"), ("prove", "proved"), ("closed", "closed")):
        await tour.go_on(pilot, of_kind(kind), story)
        await tour.stop(pilot, name, drawn=True)
    await tour.type(pilot, "")


async def words_at_any_moment(tour: Tour, pilot: Pilot[str]) -> None:
    """Everything that can be said at a check, and what is not so."""
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
    await tour.stop(pilot, "held", drawn=True)
    await tour.type(pilot, "again")
    await tour.go_on(pilot, of_kind("check", "shutdown-listen"), story)
    await tour.stop(pilot, "reading", small=True, drawn=True)
    for word in ("help", "why", "tell", "worth", "sources"):
        await tour.page(pilot, word, drawn=word in ("why", "tell", "worth"))
    for key, name in (("f3", "taps"), ("f4", "trees-in-a-session")):
        await tour.press(pilot, key)
        await tour.stop(pilot, name)
        await tour.press(pilot, "escape")
    await tour.type(pilot, "watch")
    await tour.stop(pilot, "stopwatch", drawn=True)
    await tour.press(pilot, "escape")
    for word in ("note", "figure", "cannot", "amend", "vehicle", "part age", "tool"):
        await tour.type(pilot, word)
        await tour.stop(pilot, f"{word.replace(' ', '-')}-asks")
        await tour.type(pilot, "")
    await tour.type(pilot, "vehicle", "odometer", "125 000 km")
    await tour.stop(pilot, "vehicle-put-right")
    await tour.go_on(pilot, of_kind("check", "shutdown-listen"), story)
    await tour.type(pilot, "7 parsecs")
    await tour.stop(pilot, "not-understood")
    await tour.go_on(pilot, lambda step: step.check == "overrun-torque" and step.attempt == 2, story)
    await tour.stop(pilot, "too-close-to-call", drawn=True)
    await tour.type(pilot, "pause")
    await tour.stop(pilot, "paused")


async def without_belt(tour: Tour, pilot: Pilot[str]) -> None:
    """A run without the belt that is not ended in time."""
    await tour.open(pilot, Opening("shutdown-buzz", "J-3", "Ana", "buzzes"))
    unknown = {fact: iter(["unknown"]) for fact in ("pulley", "odometer", "cylinders")}
    story = {**unknown, "shutdown-listen": iter(["7 s"])}
    await tour.go_on(pilot, of_kind("set-up"), story)
    await tour.stop(pilot, "set-up", small=True, drawn=True)
    await tour.go_on(pilot, lambda step: step.kind == "held" and step.check == "belt-off-run", story)
    await tour.stop(pilot, "engine-cools")
    tour.clock.now_ms += HOURS_MS
    await tour.go_on(pilot, of_kind("run-ready"), {"held": iter(["again"] * 3)})
    await tour.stop(pilot, "run-ready", drawn=True)
    await tour.type(pilot, "start")
    await tour.stop(pilot, "run", small=True, drawn=True)
    tour.clock.now_ms += HOURS_MS
    await tour.type(pilot, "path")
    await tour.stop(pilot, "run-over", drawn=True)
    await tour.type(pilot, "still")
    await tour.go_on(pilot, of_kind("result"), {"held": iter(["again"] * 3)})
    await tour.stop(pilot, "result")


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
    await tour.stop(pilot, "own-route", small=True, drawn=True)
    for word in ("why", "tell", "path"):
        await tour.type(pilot, word)
        await tour.stop(pilot, f"own-route-{word}")
        await tour.press(pilot, "escape")
    await tour.go_on(pilot, of_kind("conclusion"), story)
    await tour.stop(pilot, "after-own-route", drawn=True)


async def not_saved(tour: Tour, pilot: Pilot[str]) -> None:
    """A trace that somebody deletes while the engine runs."""
    unknown = {fact: iter(["unknown"]) for fact in ("pulley", "odometer", "cylinders")}
    opening = Opening("bearing-rumble", "J-5", "Ana", "rumbles at idle")
    await tour.open(pilot, opening, lambda step: step.kind == "check" and step.state == "running", unknown)
    await tour.stop(pilot, "at-the-running-engine")
    tour.lose_trace()
    await tour.type(pilot, "note")
    await tour.stop(pilot, "switch-off", small=True, drawn=True)
    await tour.type(pilot, "leave")
    await tour.stop(pilot, "leave-not-saved", small=True)
    await tour.type(pilot, "", "still", "y")
    await tour.stop(pilot, "not-saved", small=True, drawn=True)


async def main_tour(folder: Path) -> Tour:
    """Walk the whole tour."""
    tour = Tour(folder)
    app = tour.app()
    async with app.run_test(size=SIZES[0]) as pilot:
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
