"""The clocks of a walk: one that only goes forward, and a wall clock that somebody sets."""

import random
from dataclasses import dataclass

from tests.bench.walk_ledger import Moment
from triage.session.commands import Stamp

SECOND_MS = 1000
HOUR_MS = 3_600_000
WALL_MS, CLOCK_MS = 1_790_000_000_000, 10 * HOUR_MS
"""What the two clocks say at first: some day, and some hours after the machine was started."""
# A run out of time, a confirmation that ages, a long break.
LEAPS_MS = (0, 10 * SECOND_MS, 31 * SECOND_MS, 290 * SECOND_MS, 1200 * SECOND_MS, 3 * HOUR_MS)
# A clock that is trimmed, or gets its time from the network; one that is set by hand, which ends everything.
TRIMS_MS = (300, -900, 1000, 1001, 2 * SECOND_MS, -20 * SECOND_MS, 59 * SECOND_MS, -60 * SECOND_MS)
JUMPS_MS = (61 * SECOND_MS, -61 * SECOND_MS, 2 * HOUR_MS, -2 * HOUR_MS)
JUMPING = 0.05
"""How many of the settings are jumps."""


@dataclass
class Clocks:
    """What a session is told of time.

    Args:
        wall_ms: the wall clock.
        clock_ms: the clock that only goes forward.
        boot: which start of that clock.
        setting: how often, before a command, somebody sets the wall clock.
        told_ms: what the wall clock said when the session last heard of it.
    """

    wall_ms: int = WALL_MS
    clock_ms: int = CLOCK_MS
    boot: int = 1
    setting: float = 0.0
    told_ms: int = WALL_MS

    @property
    def moment(self) -> Moment:
        """The reading that counts."""
        return Moment(self.boot, self.clock_ms)

    def wait(self, leap_ms: int) -> None:
        """Let time pass; less than nothing sets the wall clock back instead."""
        self.wall_ms += leap_ms
        self.clock_ms += max(0, leap_ms)

    def disturb(self, rng: random.Random) -> None:
        """Set the wall clock at times, by much, or by so little that it stays ahead of the last event."""
        if rng.random() >= self.setting:
            return
        since_ms = max(0, self.wall_ms - self.told_ms)
        if rng.random() < JUMPING:
            self.wall_ms += rng.choice(JUMPS_MS)
        else:
            self.wall_ms += rng.choice([rng.choice(TRIMS_MS), -rng.randint(0, min(since_ms, 60 * SECOND_MS))])

    def restart(self, rng: random.Random) -> None:
        """The machine was off: the clock begins anew, at whatever reading, and the time between is not known."""
        self.boot += 1
        self.clock_ms = rng.choice([0, self.clock_ms, self.clock_ms - HOUR_MS, self.clock_ms + 9 * HOUR_MS])
        self.wall_ms += rng.choice([0, HOUR_MS, -HOUR_MS])

    def stamp(self, who: str) -> Stamp:
        """Time and name of a command."""
        return {"at_ms": self.wall_ms, "who": who, "clock_ms": self.clock_ms, "boot": self.boot}
