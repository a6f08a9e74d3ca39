"""Random keys against the full screen, interlocks watched from outside: `soak_keys.py [KEYS] [SEED]`.

Digits come with Enter and alone: alone they may answer checks, and nothing that takes two keys.
The watcher knows nothing of the session's rules. It reads events as they come and holds every engine start against the
confirmations that stand in the knowledge: each one given by itself since the last time that confirmations ended.
"""

import asyncio
import random
import sys
import tempfile
import time
from pathlib import Path
from typing import Any

from textual import events

from triage.app.job import Job, Opening, start
from triage.app.shop import Shop, accuracies
from triage.knowledge.loading import load_knowledge
from triage.knowledge.models import Knowledge
from triage.knowledge.shipped import trees_folder
from triage.session import events as e
from triage.store import TraceWriter
from triage.tui.app import TriageApp
from triage.tui.desk import Desk
from triage.tui.session_screen import SessionScreen

LINES = (
    "1",
    "1",
    "1",
    "1",
    "2",
    "3",
    "y",
    "y",
    "y",
    "n",
    "7 s",
    "0.3",
    "#1",
    "unknown",
    "4",
    "Ada",
    "back",
    "note",
    "pause",
    "cannot",
    "why",
    "help",
    "watch",
    "none",
    "",
)
KEYS = ("space", *["escape"] * 8, "backspace", "left", "pageup", "pagedown", *(f"f{number}" for number in range(1, 9)))
NEVER_BY_ONE_KEY = (
    e.GateAnswered,
    e.FactTold,
    e.ThingConfirmed,
    e.SetUpFinished,
    e.RunStarted,
    e.RunEnded,
    e.PartRecorded,
    e.SessionClosed,
)
"""What takes a number and Enter."""


class Watcher:
    """Holds every step at a running engine against what was confirmed."""

    def __init__(self, knowledge: Knowledge) -> None:
        """Know nothing yet."""
        self._knowledge = knowledge
        self._confirmed: set[str] = set()
        self._entered = ""
        self.running_steps = 0

    def see(self, event: e.Event) -> None:
        """Take one event in.

        Raises:
            AssertionError: an engine may run without its confirmations.
        """
        if isinstance(event, e.ThingConfirmed):
            self._confirmed.add(event.confirmation)
        elif isinstance(event, e.StateEntered):
            self._entered = event.state
        elif isinstance(event, e.InterlockLapsed):
            things = self._knowledge.confirmations
            self._confirmed, self._entered = {one for one in self._confirmed if one in things and things[one].once}, ""
        elif isinstance(event, e.SessionPaused | e.SessionHandedOver):
            self._confirmed, self._entered = set(), ""
        elif isinstance(event, e.StepOffered) and event.step.kind in ("check", "run-ready", "run"):
            state = self._knowledge.states.get(event.step.state)
            if state and state.engine == "running":
                self.running_steps += 1
                asked = {one for one in state.confirmations if not self._knowledge.confirmations[one].after}
                assert self._entered == state.id, (self._entered, event)
                assert asked <= self._confirmed, (asked - self._confirmed, event)


async def soak(keys: int, seed: int) -> tuple[int, int]:
    """Press random keys.

    Returns:
        Sessions begun, and steps at a running engine that were watched.
    """
    draw, knowledge = random.Random(seed), load_knowledge(trees_folder())
    folder, now = Path(tempfile.mkdtemp()), [1_000_000]
    pressed = sessions = running = 0
    nothing = Desk(lambda: knowledge, _none, _none, tuple, tuple, _none, tuple, lambda _: None)

    def clock() -> int:
        now[0] += draw.choice((1, 5, 50))
        return now[0]

    while pressed < keys:
        sessions += 1
        opening = Opening(symptom=draw.choice(list(knowledge.trees)), job=str(sessions), who="soak")
        writer = TraceWriter.create(folder, f"job-{sessions}")
        job = start(knowledge, opening, accuracies(knowledge, Shop()), "", clock, writer)
        watcher = Watcher(knowledge)
        app = TriageApp(nothing)
        async with app.run_test(size=draw.choice(((60, 20), (80, 24), (120, 40)))) as pilot:
            while type(app.screen).__name__ != "StartScreen":
                await pilot.pause(0.02)
            await app.push_screen(SessionScreen(job))
            pressed += await _press(app, pilot, job, watcher, draw, min(1000, keys - pressed), now)
        running += watcher.running_steps
    return sessions, running


def _none(*_given: object) -> None:
    raise AssertionError("nothing is begun from the start screen here")


async def _press(
    app: TriageApp, pilot: Any, job: Job, watcher: Watcher, draw: random.Random, keys: int, now: list[int]
) -> int:
    pressed = seen = 0
    while pressed < keys and any(isinstance(screen, SessionScreen) for screen in app.screen_stack):
        lone = draw.random() < 0.15
        batch = [_lone_digit(draw)] if lone else _batch(draw, job)
        for event in batch:
            app.post_message(event)
        pressed += len(batch)
        if draw.random() < 0.005:
            now[0] += 3_600_000
        for _ in range(4):
            await pilot.pause(0)
        for event in job.events[seen:]:
            watcher.see(event)
            assert not (lone and isinstance(event, NEVER_BY_ONE_KEY)), event
        seen = len(job.events)
    return max(pressed, 1)


def _batch(draw: random.Random, job: Job) -> list[events.Key]:
    return [events.Key(draw.choice(KEYS), None)] if draw.random() < 0.1 else _line(draw, job)


def _lone_digit(draw: random.Random) -> events.Key:
    """A digit without Enter, pressed by somebody who has looked at the step for a while."""
    digit = draw.choice("1123")
    key = events.Key(digit, digit)
    key.time += draw.choice((0.0, 0.3, 5.0))
    return key


def _line(draw: random.Random, job: Job) -> list[events.Key]:
    thing = job.knowledge.confirmations.get(job.state.step.confirmation)
    agreed = "Ada" if thing and thing.names else "y"
    line = agreed if job.state.step.kind == "confirm" and draw.random() < 0.9 else draw.choice(LINES)
    if job.state.step.kind in ("gate", "fact", "check", "set-up", "run-ready") and draw.random() < 0.6:
        line = "1"
    return [*(events.Key(letter, letter) for letter in line), events.Key("enter", "\r")]


if __name__ == "__main__":
    wanted, chosen = int((sys.argv[1:] or ["100000"])[0]), int((sys.argv[2:] or ["1"])[0])
    began = time.monotonic()
    begun, watched = asyncio.run(soak(wanted, chosen))
    took_s = time.monotonic() - began
    print(f"{wanted} keys, {begun} sessions, {watched} steps at a running engine, {took_s:.0f} s: all held")
