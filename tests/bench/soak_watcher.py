"""Reads a trace as it grows and holds what was offered or done against what was said of each thing.

It asks the program nothing: what ends what stands in the tables of `walk_ledger`, thing by thing, and the account is
that of `walk_watcher`. Only the shapes of events are the program's. A step or an answer that it does not know is held
like any other.
"""

import json
from collections import Counter
from dataclasses import dataclass, field
from datetime import datetime
from pathlib import Path
from typing import Any

from tests.bench.walk_ledger import JUMP_MS, Moment
from tests.bench.walk_watcher import Watcher as Account
from triage.knowledge.models import Knowledge
from triage.record.events import Event, SessionStarted
from triage.record.steps import Step
from triage.record.versions import understand

DONE = ("check-answered", "reading-taken", "run-started", "set-up-finished", "part-recorded", "torque-recorded")
"""Events that come of somebody at the vehicle."""
CLOCK = "clock"
"""Whose events time alone brings about."""


@dataclass
class Watcher:
    """What one trace says of each thing, and whether anything was offered or done without it."""

    path: Path
    offset: int = 0
    account: Account = field(init=False)
    taken_back: str = ""
    """The check whose finding was taken back just now; what comes next puts it right and is done at no vehicle."""
    counts: Counter[str] = field(default_factory=Counter)
    kinds: Counter[str] = field(default_factory=Counter)
    """What somebody brought about, and not time alone."""

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
            self._see(self._event(json.loads(line)))
        return bool(added)

    @property
    def knowledge(self) -> Knowledge:
        """What the session goes by now."""
        return self.account.knowledge

    @property
    def step(self) -> Step:
        """What is asked now."""
        assert self.account.step is not None
        return self.account.step

    def _event(self, told: dict[str, Any]) -> Event:
        data = {**told["data"], "who": told["who"]}
        data["at_ms"] = round(datetime.fromisoformat(told["time"]).timestamp() * 1000)
        named = data.get("knowledge")
        if named and set(named) == {"sha256"}:
            data["knowledge"] = json.loads((self.path.parent / "knowledge" / f"{named['sha256']}.json").read_bytes())
        return understand(told["kind"], told["version"], data, name=self.path.name).event

    def _see(self, event: Event) -> None:
        if isinstance(event, SessionStarted):
            self.account = Account(event.knowledge)
        self.kinds[event.kind] += event.who != CLOCK
        check = getattr(event, "check", "")
        corrected, self.taken_back = self.taken_back, check if event.kind == "finding-taken-back" else ""
        moment = Moment(event.boot, event.clock_ms)
        if event.kind in DONE and not (corrected and corrected == check):
            self.counts["things done at the vehicle"] += 1
            self._hold(moment, f"{event.kind} came")
        self.account.see(event)
        if event.kind == "step-offered":
            self.counts["steps offered"] += 1
            self._hold(moment, "was offered")
            self.counts["of them with the engine running"] += self.account.ledger.engine_on

    def _hold(self, moment: Moment, what: str) -> None:
        try:
            self.account.look(moment)
        except AssertionError as error:
            raise AssertionError(f"{self.path.name}: {self.step.kind} {what}, but {error}") from None

    def hold_now(self, wall_ms: int, clock_ms: int, what: str) -> None:
        """Hold the present step, by what the clocks said a while ago: so long the program may take to notice.

        Raises:
            AssertionError: it must have been gone by then.
        """
        ledger = self.account.ledger
        assert ledger.now is not None
        moved_ms = (wall_ms - clock_ms) - (ledger.wall_ms - ledger.now.clock_ms)
        assert abs(moved_ms) <= JUMP_MS, f"{self.step.kind} {what}, and nobody noticed that the clock jumped"
        self._hold(Moment(ledger.now.boot, max(clock_ms, ledger.now.clock_ms)), what)

    def running_names(self) -> set[str]:
        """The titles under which steps at a running engine stand on the screen."""
        states, checks = self.knowledge.states, self.knowledge.checks.values()
        return {one.name for one in checks if one.state in states and states[one.state].engine == "running"}
