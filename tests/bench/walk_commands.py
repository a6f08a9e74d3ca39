"""Give sessions random commands, sensible and senseless, and watch that the engine never runs without its interlock.

    python tests/bench/walk_commands.py [--commands 300000] [--seed N] [--worlds NAME ...] [--full-disks]
    python tests/bench/walk_commands.py --knowledge FOLDER [--careless] [--commands 300000] [--seed N]

Worlds: shipped, careless (trees that go on where the engine must not run), small, short (its trees under the shipped
interlocks), weakened (interlocks with as little as the floor lets through), grown (trees out of the numbers;
takes a minute). Without any, all of them, in turn. With --full-disks each session is a real job that writes a trace to
a disk that fails at times; that goes for worlds that keep the floor: shipped, careless, short, weakened, grown.

The watcher reads events alone and keeps its own account of what was said, of runs and of findings: it shares no code
with the rules that it watches. Confirmations are often refused, wall clocks are set, two people answer, sessions are
left and taken up again after the clock began anew. Every session is closed at its end and replayed. Ends with 0 when
nothing was wrong.
"""

import argparse
import random
import sys
import time
from collections import Counter
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from tests.bench.walk_answers import LEAVING, NO_PLAN, TEMPERS, WHO, WORD, Temper, sensible, wild
from tests.bench.walk_clocks import HOUR_MS, LEAPS_MS, SECOND_MS, Clocks
from tests.bench.walk_drive import explained_only
from tests.bench.walk_job import JobSession, named, unsound
from tests.bench.walk_ledger import Moment
from tests.bench.walk_toward import Plan, plan_toward_a_run
from tests.bench.walk_watcher import Watcher
from tests.bench.walk_worlds import careless, grown, shipped, short, small, weakened
from triage.errors import CommandRefused
from triage.knowledge.loading import load_knowledge
from triage.knowledge.models import Interlocks, Knowledge
from triage.knowledge.safety_floor import shortfalls
from triage.session import commands as c
from triage.session.deciding import decide, under_rules
from triage.session.evolving import evolve, fold
from triage.session.state import State

if TYPE_CHECKING:
    from triage.record import events as e

COMMANDS_A_SESSION = 400
AIMED = 0.3
"""Share of the sessions that answer so that their tree comes to a timed run; by chance hardly any does."""
TAKEN_UP = 0.004
"""How often, before a command, the session is taken up anew from where it was saved."""
SETTING = (0.0, 0.0, 0.02, 0.2)
"""How often somebody sets the wall clock before a command, one of these for each session."""
Counts = dict[str, Counter[str]]


class Session:
    """One session under watch; a command that is refused must leave no trace in it."""

    def __init__(self, knowledge: Knowledge, symptom: str, setting: float = 0.0) -> None:
        self.knowledge = knowledge
        self.watcher = Watcher(knowledge)
        self.state = State()
        self.events: list[e.Event] = []
        self.clocks = Clocks(setting=setting)
        self.installed: Interlocks | None = None
        self.give(c.Start(**self.base(0), knowledge=knowledge, symptom=symptom, job=WORD))

    @property
    def now(self) -> Moment:
        """The reading that counts."""
        return self.clocks.moment

    def give(self, command: c.Command) -> bool:
        """Give a command and say whether it was accepted."""
        if isinstance(command, c.Resume):
            command = command.model_copy(update={"under": self.installed})
        try:
            happened = decide(self.knowledge, self.state, command)
        except CommandRefused:
            return False
        for event in happened:
            self.watcher.see(event)
        self.clocks.told_ms = happened[-1].at_ms if happened else self.clocks.told_ms
        self.events += happened
        before, self.state = self.state, fold(happened, self.state)
        self.knowledge = under_rules(self.knowledge, happened)
        explained_only(command, happened, before, self.state)
        self.watcher.look(self.now)
        return True

    def base(self, leap_ms: int = SECOND_MS, who: str = WHO[0]) -> c.Stamp:
        """Times and name of the next command."""
        self.clocks.wait(leap_ms)
        return self.clocks.stamp(who)

    def take_up(self, rng: random.Random) -> None:
        """Leave it as it stands, and take it up from its events when the clock has begun anew."""
        self.clocks.restart(rng)
        self.installed = rng.choice([None, shipped().interlocks])
        if not self.state.paused and not self.state.closed:
            assert self.give(c.Pause(**self.base()))

    def close(self) -> None:
        """End it from wherever it stands, as a person could."""
        self.give(c.Tick(**self.base()))
        if self.state.paused:
            assert self.give(c.Resume(**self.base()))
        if self.state.step.kind == "run-over" or self.state.condition.engine == "running":
            assert self.give(c.EndRun(**self.base()))
        if not self.state.closed:
            assert self.give(c.Close(**self.base(), how="without-repair", reason=WORD, off=LEAVING)), (
                "it cannot be closed"
            )

    def account(self) -> Counter[str]:
        """How often what happened."""
        return named(self.events)

    def finish(self) -> None:
        """Look at the whole of it once more."""
        state = State()
        for event in self.events:
            state = evolve(state, event)
        assert state == self.state, "a replay gives another state"
        unsound(self.events)


Walked = Session | JobSession
Begin = Callable[[Knowledge, str, float], Walked]


def waits_until_cold(state: State) -> bool:
    """Whether nothing but time is lacking."""
    return state.step.kind == "held" and not state.step.confirmation


def soak(knowledge: Knowledge, commands: int, seed: int, begin: Begin = Session) -> Counts:
    """Give so many commands to one session after another.

    Returns:
        how often each command was given and accepted, each step offered, each session closed, and each event happened.

    Raises:
        AssertionError: something was offered that must not be; it names the seed.
    """
    rng = random.Random(seed)
    counts: Counts = {key: Counter() for key in ("given", "accepted", "steps", "closed", "happened")}
    while counts["given"].total() < commands:
        session = begin(knowledge, rng.choice(list(knowledge.trees)), rng.choice(SETTING))
        walk_one(rng, session, min(COMMANDS_A_SESSION, commands - counts["given"].total()), counts)
        session.close()
        session.finish()
        counts["closed"][session.state.closed] += 1
        counts["happened"].update(session.account())
    return counts


def walk_one(rng: random.Random, session: Walked, commands: int, counts: Counts) -> None:
    """Give one session at most so many commands."""
    knowledge, temper = session.knowledge, rng.choice(TEMPERS)
    aimed, plan, tree = rng.random() < AIMED, NO_PLAN, knowledge.trees[session.state.symptom]
    for _ in range(commands):
        if aimed and session.state.step.kind == "check":
            aimed, plan = False, plan_toward_a_run(rng, knowledge, tree, session.state.pulley)
        elif session.state.runs:
            plan = NO_PLAN
        made = _next(rng, session, TEMPERS[0] if plan else temper, plan)
        counts["given"][type(made).__name__] += 1
        counts["accepted"][type(made).__name__] += session.give(made)
        counts["steps"][session.state.step.kind] += 1
        if session.state.closed:
            break


def _next(rng: random.Random, session: Walked, temper: Temper, plan: Plan) -> c.Command:
    """Let some time pass and think of a command."""
    leap_ms = SECOND_MS if rng.random() < temper.steady else rng.choice(LEAPS_MS)
    if plan and waits_until_cold(session.state):
        leap_ms = 3 * HOUR_MS
    if rng.random() < TAKEN_UP:
        session.take_up(rng)
    if rng.random() < 0.5:
        # A face lets time pass before each command; a script may not.
        session.base(leap_ms)
        session.clocks.disturb(rng)
        session.give(c.Tick(**session.base(0)))
        leap_ms = 0
    session.clocks.wait(leap_ms)
    session.clocks.disturb(rng)
    base = session.base(0, rng.choice(WHO))
    if rng.random() < temper.sensible:
        return sensible(rng, session.knowledge, session.state, base, plan, temper.refusing)
    return wild(rng, session.knowledge, session.state, base)


def table(counts: Counts) -> str:
    """The counts as a table of text."""
    rows = [f"{'command':<20}{'given':>10}{'accepted':>10}"]
    rows += [f"{name:<20}{n:>10}{counts['accepted'][name]:>10}" for name, n in sorted(counts["given"].items())]
    rows += ["", f"{'step on screen':<20}{'times':>10}"]
    rows += [f"{name:<20}{n:>10}" for name, n in sorted(counts["steps"].items())]
    rows += ["", f"{'session closed':<20}{'times':>10}"]
    rows += [f"{name:<20}{n:>10}" for name, n in sorted(counts["closed"].items())]
    rows += ["", f"{'event':<34}{'times':>10}"]
    rows += [f"{name:<34}{n:>10}" for name, n in sorted(counts["happened"].items())]
    return "\n".join(rows)


WORLDS: dict[str, Callable[[int], Knowledge]] = {
    "shipped": lambda _seed: shipped(),
    "careless": lambda _seed: careless(shipped()),
    "small": lambda _seed: small(),
    "short": lambda _seed: short(),
    "weakened": lambda seed: weakened(shipped(), random.Random(seed), lambda one: list(shortfalls(one))),
    "grown": lambda _seed: grown(),
}
BELOW_THE_FLOOR = ("small",)
"""With these no job is begun."""
ROUNDS = 10
"""How often a weakened world is made anew."""


def walk_worlds(names: list[str], commands: int, seed: int, begin: Begin) -> Counts:
    """Share the commands out over worlds.

    Raises:
        AssertionError: something was offered that must not be.
    """
    total: Counts = {}
    for number, name in enumerate(names * ROUNDS):
        counts = soak(WORLDS[name](seed + number), commands // len(names) // ROUNDS, seed + number, begin)
        for key, counted in counts.items():
            total.setdefault(key, Counter()).update(counted)
    return total


def main() -> int:
    """Soak, print the table, and say how it went."""
    parser = argparse.ArgumentParser(description="Give sessions random commands and watch their interlocks.")
    parser.add_argument("--commands", type=int, default=300_000)
    parser.add_argument("--seed", type=int, default=random.SystemRandom().randrange(10**6))
    parser.add_argument("--worlds", nargs="+", choices=[*WORLDS])
    parser.add_argument("--knowledge", type=Path, help="another folder, instead of the worlds")
    parser.add_argument("--careless", action="store_true", help="let its trees go on where the engine must not run")
    parser.add_argument("--full-disks", action="store_true", help="as real jobs, on a disk that fails at times")
    options = parser.parse_args()
    begin = JobSession if options.full_disks else Session
    began = time.monotonic()
    try:
        if options.knowledge:
            knowledge = load_knowledge(options.knowledge)
            counts = soak(careless(knowledge) if options.careless else knowledge, options.commands, options.seed, begin)
        else:
            names = options.worlds or [name for name in WORLDS if not (options.full_disks and name in BELOW_THE_FLOOR)]
            counts = walk_worlds(names, options.commands, options.seed, begin)
    except AssertionError as error:
        print(f"seed {options.seed}: {error}")
        return 1
    print(table(counts))
    given, took_s = counts["given"].total(), time.monotonic() - began
    print(f"\nseed {options.seed}: {given} commands in {took_s:.0f} s, nothing wrong")
    return 0


if __name__ == "__main__":
    sys.exit(main())
