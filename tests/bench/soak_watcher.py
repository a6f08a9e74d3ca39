"""Reads a trace as it grows and holds what was offered or done against what was confirmed.

It shares nothing with the program: a trace is lines of JSON to it, and what must be confirmed stands in the knowledge
that the first of them names, beside the trace, or holds.
"""

import json
from collections import Counter
from dataclasses import dataclass, field
from datetime import datetime
from pathlib import Path
from typing import Any

WAITING = ("confirm", "held", "blocked", "result", "run-over", "paused", "closed")
"""Kinds of step that let nobody near the vehicle and no engine run; every other kind needs its interlock."""
ENDING = ("interlock-lapsed", "session-paused", "session-handed-over", "session-resumed")
LEAVING = ("session-paused", "session-handed-over")
DONE = ("check-answered", "reading-taken", "run-started", "set-up-finished", "part-recorded", "torque-recorded")
"""Events that come of somebody at the vehicle."""
MINUTE_MS = 60_000


def _period_ms(text: str) -> int:
    number, unit = text.split()
    return round(float(number) * {"s": 1000, "min": MINUTE_MS, "h": 60 * MINUTE_MS}[unit])


@dataclass
class Watcher:
    """What one trace says is confirmed, and whether anything was offered or done without it."""

    path: Path
    offset: int = 0
    knowledge: dict[str, Any] = field(default_factory=dict)
    state: str = ""
    entered: bool = False
    confirmed: dict[str, int] = field(default_factory=dict)
    ever: set[str] = field(default_factory=set)
    step: dict[str, Any] = field(default_factory=dict)
    taken_back: str = ""
    """The check whose finding was taken back just now; what comes next puts it right and is done at no vehicle."""
    counts: Counter[str] = field(default_factory=Counter)
    kinds: Counter[str] = field(default_factory=Counter)

    def look(self) -> bool:
        """Read what was added to the trace; whole lines only.

        Returns:
            whether anything was.

        Raises:
            AssertionError: a step was offered, or something done, without its interlock.
        """
        with self.path.open("rb") as file:
            file.seek(self.offset)
            added = file.read()
        added = added[: added.rfind(b"\n") + 1]
        self.offset += len(added)
        for line in added.splitlines():
            told = json.loads(line)
            at_ms = round(datetime.fromisoformat(told["time"]).timestamp() * 1000)
            self._see(told["kind"], told["data"], at_ms)
        return bool(added)

    def _knowledge_of(self, named: dict[str, Any]) -> dict[str, Any]:
        if set(named) != {"sha256"}:
            return named
        beside: dict[str, Any] = json.loads((self.path.parent / "knowledge" / f"{named['sha256']}.json").read_bytes())
        return beside

    def _see(self, kind: str, data: dict[str, Any], at_ms: int) -> None:
        if kind == "session-started":
            self.knowledge = self._knowledge_of(data["knowledge"])
        self.kinds[kind] += 1
        corrected, self.taken_back = self.taken_back, data["check"] if kind == "finding-taken-back" else ""
        if kind in DONE and not (corrected and corrected == data.get("check")):
            self.counts["things done at the vehicle"] += 1
            self.hold(at_ms, f"{kind} came")
        elif kind == "thing-confirmed":
            if data["state"] != self.state:
                self._end()
            self.state = data["state"]
            self.confirmed[data["confirmation"]] = at_ms
            self.ever.add(data["confirmation"])
        elif kind == "things-carried":
            self._carry(data["state"], data["since"])
        elif kind == "state-entered":
            assert data["state"] == self.state, f"{data} without a confirmation"
            self.entered = True
        elif kind in ENDING:
            self._end()
            if kind in LEAVING:
                self.ever.clear()
        elif kind == "step-offered":
            self.step = data["step"]
            self.counts["steps offered"] += 1
            self.counts["of them with the engine running"] += self.hold(at_ms, "was offered")

    def _carry(self, state: str, since: dict[str, int]) -> None:
        """Something goes along from one stopped state into another; it ages from when it was confirmed."""
        assert self.entered, f"{since} goes along out of a state that was not entered"
        engines = {self.knowledge["states"][place]["engine"] for place in (self.state, state)}
        assert engines == {"stopped"}, f"{since} goes along past a running engine"
        for thing, at_ms in since.items():
            assert self.confirmed.get(thing) == at_ms, f"{thing} goes along with another time"
        self.state, self.entered, self.confirmed = state, False, dict(since)

    def _end(self) -> None:
        self.state, self.entered = "", False
        self.confirmed.clear()

    def hold(self, now_ms: int, what: str, late_ms: int = 0) -> bool:
        """Hold the present step against what is confirmed now; it may stand for `late_ms` longer than that lives.

        Returns:
            whether it has the engine running.
        """
        place = self.knowledge["states"].get(self.step.get("state", ""))
        if not place or self.step["kind"] in WAITING:
            return False
        said = f"{self.path.name}: {self.step} {what}, but"
        assert self.entered, f"{said} nothing is confirmed"
        assert self.state == place["id"], f"{said} the vehicle is in {self.state}"
        lives_ms = _period_ms(place["lives"]["text"])
        for needed in place["confirmations"]:
            thing = self.knowledge["confirmations"][needed]
            # Where a thing is asked of some vehicles only, the trace alone does not say of which.
            optional = thing["after"] or (thing.get("once") and needed in self.ever)
            assert optional or needed in self.confirmed, f"{said} {needed} is not confirmed"
        old = [thing for thing, at_ms in self.confirmed.items() if not 0 <= now_ms - at_ms < lives_ms + late_ms]
        assert not old, f"{said} {old} has aged"
        return bool(place["engine"] == "running")

    def running_names(self) -> set[str]:
        """The titles under which steps at a running engine stand on the screen."""
        states, checks = self.knowledge["states"], self.knowledge["checks"].values()
        return {one["name"] for one in checks if states.get(one["state"], {}).get("engine") == "running"}
