"""Give sessions random commands, sensible and senseless, and watch that the engine never runs without its interlock.

    python tests/bench/walk_commands.py [--commands 1000000] [--seed N] [--knowledge FOLDER] [--careless]

The watcher reads events alone and keeps its own account of confirmations, runs and findings: it shares no code with
the rules that it watches. Every session is closed at its end and replayed. Ends with 0 when nothing was wrong.
"""

import argparse
import random
import sys
import time
from collections import Counter
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from tests.bench.walk_drive import explained_only, of_the_drive
from triage.errors import CommandRefused
from triage.knowledge.loading import load_knowledge
from triage.knowledge.models import Check, Knowledge, VehicleState
from triage.knowledge.shipped import trees_folder
from triage.session import commands as c
from triage.session import events as e
from triage.session.deciding import decide
from triage.session.evolving import evolve, fold
from triage.session.state import State
from triage.session.steps import Step
from triage.units import parse_quantity

COMMANDS_A_SESSION = 400
# How many commands of a session answer the step on screen, and how many come at the usual pace.
TEMPERS = ((0.99, 0.998), (0.95, 0.98), (0.6, 0.8))
SECOND_MS = 1000
HOUR_MS = 3_600_000
WHO = ("Ann", "Bo")
WORD = "something"
# A run out of time, a long break, a clock that is set back.
LEAPS_MS = (0, 10 * SECOND_MS, 31 * SECOND_MS, 290 * SECOND_MS, 1200 * SECOND_MS, 3 * HOUR_MS, -SECOND_MS, -HOUR_MS)


def lasts_ms(text: str) -> float:
    """A period of the knowledge in milliseconds."""
    return parse_quantity(text, "time").value * SECOND_MS


@dataclass
class Watcher:
    """Keeps its own account from events, and complains where a step is offered that must not be.

    Args:
        knowledge: what the session uses.
    """

    knowledge: Knowledge
    state: str = ""
    confirmed: dict[str, int] = field(default_factory=dict)
    entered: bool = False
    vehicle: VehicleState | None = None
    begun: list[VehicleState] = field(default_factory=list)
    running: bool = False
    result: bool = False
    runs: Counter[str] = field(default_factory=Counter)
    hot_ms: int | None = None
    closing: set[str] = field(default_factory=set)
    put_right: set[str] = field(default_factory=set)
    blind: dict[bool, set[str]] = field(default_factory=lambda: {False: set(), True: set()})
    told: dict[bool, set[str]] = field(default_factory=lambda: {False: set(), True: set()})
    proving: bool = False
    looks: set[str] = field(default_factory=set)
    ever: set[str] = field(default_factory=set)
    set_up: str = ""
    set_up_ms: int = 0
    step: Step | None = None

    def see(self, event: e.Event) -> None:
        """Take one event into account."""
        if self.vehicle and self.vehicle.engine == "running" and self.vehicle.belt == "fitted":
            self.hot_ms = max(event.at_ms, self.hot_ms or event.at_ms)
        seen = getattr(self, "_" + event.kind.replace("-", "_"), None)
        if seen:
            seen(event)

    def look(self, now_ms: int) -> None:
        """Complain when what is on screen must not be there now."""
        step = self.step
        if step is None or step.kind not in ("check", "run", "run-ready", "result", "set-up", "part", "torque"):
            return
        target = self.knowledge.states.get(step.state)
        if step.kind == "result":
            assert self.result, "a result is asked for, but no run was ended"
            assert not self.running
            return
        if target is None:
            return
        assert self.entered, f"{step.kind} is offered outside of {target.id}"
        assert self.state == target.id, f"{step.kind} is offered in {self.state}, not in {target.id}"
        lives_ms = lasts_ms(target.lives.text)
        old = [thing for thing, at_ms in self.confirmed.items() if not 0 <= now_ms - at_ms < lives_ms]
        assert not old, f"{step.kind} is offered with confirmations that have aged: {old}"
        assert self.running == (step.kind == "run"), f"{step.kind} is offered, engine of the run: {self.running}"
        if target.engine == "running":
            assert not self.closing - ({step.check} & self.put_right), f"the engine runs in spite of {self.closing}"
            unseen = self.blind[True] | (self.blind[False] - self.told[True])
            assert not unseen, f"the engine runs, and nobody could look: {unseen}"
            assert not target.run_limit or step.kind in ("run", "run-ready")
        check = self.knowledge.checks.get(step.check)
        if step.kind == "set-up":
            assert target.near == "hands-in", "hands go in while the engine runs"
        elif check and check.set_up and step.kind in ("check", "run-ready", "run"):
            self._look_at_set_up(check)
        if check and check.consumes:
            assert f"in-hand-{check.id}" in self.confirmed, "something is used up that is not in hand"

    def _look_at_set_up(self, check: Check) -> None:
        """Complain where a check is offered that nobody set up, or since whose set-up hands may have been in."""
        assert self.set_up, f"{check.id} is offered without its set-up"
        assert self.knowledge.checks[self.set_up].set_up == check.set_up, f"{check.id} was set up as {self.set_up}"
        before = [thing for thing, at_ms in self.confirmed.items() if at_ms < self.set_up_ms]
        assert not before, f"{check.id} is offered with confirmations of before its set-up: {before}"

    def _set_up_finished(self, event: e.SetUpFinished) -> None:
        wanted = self.knowledge.checks[event.check].set_up
        assert wanted is not None
        assert self.entered
        assert self.state == wanted.state == event.state, f"{event.check} is set up in {self.state}"
        lives_ms = lasts_ms(self.knowledge.states[event.state].lives.text)
        assert all(0 <= event.at_ms - at_ms < lives_ms for at_ms in self.confirmed.values())
        self.set_up, self.set_up_ms = event.check, event.at_ms

    def _held_tried_again(self, _event: e.HeldTriedAgain) -> None:
        self.set_up = ""

    def _session_started(self, event: e.SessionStarted) -> None:
        for node in self.knowledge.trees[event.symptom].nodes.values():
            check = self.knowledge.checks.get(node.check or "")
            target = self.knowledge.states.get(check.state) if check else None
            if check and target and check.way in ("look", "feel") and target.near == "hands-in":
                shuts = [outcome for outcome in check.outcomes if outcome.closes_running]
                self.looks |= {check.id} if shuts and target.belt == "fitted" else set()

    def _work_finished(self, _event: e.WorkFinished) -> None:
        self.proving, self.blind[True], self.told[True] = True, set(), set()

    def _not_cured(self, event: e.NotCured) -> None:
        self.blind[False] = self.blind[True] | (self.blind[False] - self.told[True] - set(event.stale))
        self.proving, self.blind[True], self.told[True] = False, set(), set()

    def _finding_taken_back(self, event: e.FindingTakenBack) -> None:
        self._forget(event.check)

    def _forget(self, check: str) -> None:
        self.blind[self.proving].discard(check)
        self.told[self.proving].discard(check)

    def _looked(self, check: str, *, told: bool) -> None:
        self._forget(check)
        if check in self.looks:
            (self.told if told else self.blind)[self.proving].add(check)

    def _thing_confirmed(self, event: e.ThingConfirmed) -> None:
        if event.state != self.state:
            self._lapse()
        self.state = event.state
        self.confirmed[event.confirmation] = event.at_ms
        self.ever.add(event.confirmation)
        thing = self.knowledge.confirmations.get(event.confirmation)
        assert not thing or bool(event.name) == thing.names
        assert event.name != event.who, "who watches is at the key"
        self._begin(event.state)

    def _thing_refused(self, event: e.ThingRefused) -> None:
        self._begin(event.state)

    def _begin(self, state: str) -> None:
        if self.set_up and state != self.knowledge.checks[self.set_up].state:
            self.set_up = ""
        if not self.entered:
            self.begun.append(self.knowledge.states[state])

    def _state_entered(self, event: e.StateEntered) -> None:
        target = self.knowledge.states[event.state]
        assert event.state == self.state, f"{event.state} is entered without a confirmation"
        lives_ms = lasts_ms(target.lives.text)
        for needed in target.confirmations:
            thing = self.knowledge.confirmations[needed]
            if self._counts(thing.after, target) and not (thing.once and needed in self.ever):
                assert needed in self.confirmed, f"{target.id} is entered without {needed}"
                assert 0 <= event.at_ms - self.confirmed[needed] < lives_ms
        self.entered, self.vehicle, self.begun = True, target, []

    def _counts(self, after: dict[Any, str], target: VehicleState) -> bool:
        # The engine of a run that is over is off, whatever the state was called.
        been = [place for place in (self.vehicle, *self.begun) if place and place.id != target.id]
        return not after or any(getattr(place, what) == was for place in been for what, was in after.items())

    def _interlock_lapsed(self, _event: e.InterlockLapsed) -> None:
        self._lapse()
        self.set_up = ""

    def _lapse(self) -> None:
        self.state, self.confirmed, self.entered = "", {}, False

    def _session_paused(self, _event: e.SessionPaused) -> None:
        self.set_up, self.ever = "", set()

    def _session_handed_over(self, _event: e.SessionHandedOver) -> None:
        self.set_up, self.ever = "", set()

    def _run_started(self, event: e.RunStarted) -> None:
        target = self.knowledge.states[event.state]
        assert self.entered
        assert self.state == event.state
        assert not self.running
        self.running = True
        self.result = False
        self.runs[event.state] += 1
        assert self.runs[event.state] <= (target.runs or sys.maxsize)
        if target.cold_after and self.hot_ms is not None:
            assert event.at_ms - self.hot_ms >= lasts_ms(target.cold_after.text), "a run with a hot engine"

    def _run_ended(self, event: e.RunEnded) -> None:
        self.running = False
        self.result = event.because == "switched-off"

    def _check_answered(self, event: e.CheckAnswered) -> None:
        self._found(self.knowledge.checks[event.check], event.outcomes)

    def _reading_taken(self, event: e.ReadingTaken) -> None:
        if event.outcome:
            self._found(self.knowledge.checks[event.check], (event.outcome,))

    def _check_not_done(self, event: e.CheckNotDone) -> None:
        self.put_right.discard(event.check)
        self._looked(event.check, told=False)

    def _fault_put_right(self, event: e.FaultPutRight) -> None:
        self.put_right.add(event.check)
        self._forget(event.check)

    def _found(self, check: Check, outcomes: tuple[str, ...]) -> None:
        told = [outcome for outcome in check.outcomes if outcome.id in outcomes and not outcome.says_nothing]
        self.put_right.discard(check.id)
        self._looked(check.id, told=bool(told))
        if any(outcome.closes_running for outcome in told):
            self.closing.add(check.id)
        elif told:
            self.closing.discard(check.id)

    def _step_offered(self, event: e.StepOffered) -> None:
        self.step = event.step


def sensible(rng: random.Random, knowledge: Knowledge, state: State, base: dict[str, Any]) -> c.Command:
    """A command that answers the step on screen."""
    step = state.step
    check = knowledge.checks.get(step.check)
    if step.kind in ("check", "result") and check:
        return found(rng, check, base)
    made: dict[str, Any] = {
        "gate": lambda: c.AnswerGate(**base, answer="none"),
        "fact": lambda: c.TellFact(**base, fact=step.fact, value=None),
        "confirm": lambda: c.Confirm(**base, confirmation=step.confirmation, name=rng.choice([WORD, *WHO])),
        "held": lambda: rng.choice(
            [c.TryAgain(**base), c.CannotDo(**base, check=step.check, reason=WORD), c.Tick(**base)]
        ),
        "blocked": lambda: c.PutRight(**base, check=step.check, done=WORD),
        "set-up": lambda: (
            c.CannotDo(**base, check=step.check, reason=WORD)
            if rng.random() < 0.2
            else c.FinishSetUp(**base, check=step.check)
        ),
        "run-ready": lambda: c.StartRun(**base),
        "run": lambda: c.EndRun(**base),
        "run-over": lambda: c.EndRun(**base),
        "conclusion": lambda: (
            c.BeginRemedy(**base)
            if state.concluded and state.concluded.causes
            else c.Close(**base, how="without-repair", reason=WORD)
        ),
        "part": lambda: c.RecordPart(**base, part=step.part, done=rng.choice(["renewed", "left"])),
        "torque": lambda: c.RecordTorque(
            **base, torque=step.torque, value_nm=85.0, text="85 N·m", wrench=WORD, reference=WORD
        ),
        "prove": lambda: c.NotCured(**base) if rng.random() < 0.5 else c.Close(**base, how="signed-off"),
        "paused": lambda: c.Resume(**base),
    }
    return made[step.kind]()  # type: ignore[no-any-return]


def found(rng: random.Random, check: Check, base: dict[str, Any]) -> c.Command:
    """A finding of a check: a reading, an outcome, or that it cannot be done."""
    if rng.random() < 0.1:
        return c.CannotDo(**base, check=check.id, reason=WORD)
    if check.reading and rng.random() < 0.8:
        return c.Read(**base, check=check.id, parts=typed(rng, check))
    # The first outcome is the normal one: it leads deepest into a tree.
    outcome = check.outcomes[0] if rng.random() < 0.7 else rng.choice(check.outcomes)
    return c.Answer(**base, check=check.id, outcomes=(outcome.id,))


def typed(rng: random.Random, check: Check) -> tuple[c.Typed, ...]:
    """Random parts of a reading."""
    parts = rng.choice(check.reading.ways).parts if check.reading else ()
    return tuple(c.Typed(part.id, rng.uniform(0.0, 3.0), rng.choice([0.0, 0.05]), WORD) for part in parts)


def wild(rng: random.Random, knowledge: Knowledge, state: State, base: dict[str, Any]) -> c.Command:
    """Any command, most of them out of place."""
    check = knowledge.checks[rng.choice([*(state.known or knowledge.checks), *list(knowledge.checks)[:2]])]
    confirmation = rng.choice([state.step.confirmation, *knowledge.confirmations])
    figures = [zone.figure for one in knowledge.checks.values() if one.reading for zone in one.reading.zones]
    choices: list[Any] = [
        lambda: c.AnswerGate(**base, answer=rng.choice(["none", "none", "nonsense"])),
        lambda: c.TellFact(**base, fact="pulley", value=rng.choice(["solid", "decoupler", None, "round"])),
        lambda: c.Confirm(**base, confirmation=confirmation, name=rng.choice(["", WORD])),
        lambda: c.RefuseConfirmation(**base, confirmation=state.step.confirmation, reason=WORD),
        lambda: c.RefuseConfirmation(**base, confirmation=confirmation, reason=rng.choice(["", WORD])),
        lambda: c.TryAgain(**base),
        lambda: c.FinishSetUp(**base, check=rng.choice([check.id, state.step.check])),
        lambda: c.StartRun(**base),
        lambda: c.EndRun(**base),
        lambda: found(rng, check, base),
        lambda: c.CannotDo(**base, check=state.step.check, reason=rng.choice(["", WORD])),
        lambda: c.TakeBack(**base, check=check.id),
        lambda: c.Correct(**base, check=check.id, outcomes=(rng.choice(check.outcomes).id,)),
        lambda: c.Correct(**base, check=check.id, parts=typed(rng, check)),
        lambda: c.Note(**base, text=rng.choice(["", WORD])),
        lambda: c.EnterMakerFigure(
            **base,
            figure=rng.choice([*filter(None, figures), "unknown"]),
            value=rng.uniform(0.5, 2.0),
            text=WORD,
            reference=WORD,
        ),
        lambda: of_the_drive(rng, knowledge, base),
        lambda: of_the_drive(rng, knowledge, base),
        lambda: c.Pause(**base),
        lambda: c.HandOver(**base, to=rng.choice(WHO)),
        lambda: c.BeginRemedy(**base),
        lambda: c.PutRight(**base, check=check.id, done=WORD),
        lambda: c.RecordPart(**base, part=state.step.part, done=rng.choice(["renewed", "eaten"])),
        lambda: c.NotCured(**base),
        lambda: c.Close(**base, how="signed-off" if rng.random() < 0.5 else "nonsense"),
        lambda: c.Tick(**base),
    ]
    return rng.choice(choices)()  # type: ignore[no-any-return]


def careless(knowledge: Knowledge) -> Knowledge:
    """The same knowledge by an author who lets every tree go on as if nothing kept the engine from running."""
    trees = {}
    for tree_id, tree in knowledge.trees.items():
        nodes = {}
        for node_id, node in tree.nodes.items():
            check = knowledge.checks.get(node.check or "")
            outcomes = check.outcomes if check else ()
            onward = node.next.get(outcomes[0].id, "") if outcomes else ""
            opened = {outcome.id: onward for outcome in outcomes if outcome.closes_running or outcome.says_nothing}
            way = {"cannot": onward} if node.cannot and any(outcome.closes_running for outcome in outcomes) else {}
            nodes[node_id] = node.model_copy(update={"next": {**node.next, **opened}, **way})
        trees[tree_id] = tree.model_copy(update={"nodes": nodes})
    return knowledge.model_copy(update={"trees": trees})


class Session:
    """One session under watch; a command that is refused must leave no trace in it."""

    def __init__(self, knowledge: Knowledge, symptom: str) -> None:
        self.knowledge = knowledge
        self.watcher = Watcher(knowledge)
        self.state = State()
        self.events: list[e.Event] = []
        self.now_ms = 10 * HOUR_MS
        self.give(c.Start(at_ms=self.now_ms, who=WHO[0], knowledge=knowledge, symptom=symptom, job=WORD))

    def give(self, command: c.Command) -> bool:
        """Give a command and say whether it was accepted."""
        try:
            happened = decide(self.knowledge, self.state, command)
        except CommandRefused:
            return False
        for event in happened:
            self.watcher.see(event)
        self.events += happened
        before, self.state = self.state, fold(happened, self.state)
        explained_only(command, happened, before, self.state)
        self.watcher.look(command.at_ms)
        return True

    def base(self, leap_ms: int = SECOND_MS, who: str = WHO[0]) -> dict[str, Any]:
        """Time and name of the next command."""
        self.now_ms += leap_ms
        return {"at_ms": self.now_ms, "who": who}

    def close(self) -> None:
        """End it from wherever it stands, as a person could."""
        self.give(c.Tick(**self.base()))
        if self.state.paused:
            assert self.give(c.Resume(**self.base()))
        if self.state.run in ("running", "overdue"):
            assert self.give(c.EndRun(**self.base()))
        if not self.state.closed:
            assert self.give(c.Close(**self.base(), how="without-repair", reason=WORD)), "it cannot be closed"

    def replayed(self) -> State:
        """The state out of the events alone."""
        state = State()
        for event in self.events:
            state = evolve(state, event)
        return state


def soak(knowledge: Knowledge, commands: int, seed: int) -> dict[str, Counter[str]]:
    """Give so many commands to one session after another.

    Returns:
        how often each command was given and accepted, each step offered, and each session closed.

    Raises:
        AssertionError: something was offered that must not be; it names the seed.
    """
    rng = random.Random(seed)
    counts: dict[str, Counter[str]] = {key: Counter() for key in ("given", "accepted", "steps", "closed")}
    given = 0
    while given < commands:
        session = Session(knowledge, rng.choice(list(knowledge.trees)))
        likely, steady = rng.choice(TEMPERS)
        for _ in range(min(COMMANDS_A_SESSION, commands - given)):
            leap_ms = SECOND_MS if rng.random() < steady else rng.choice(LEAPS_MS)
            if rng.random() < 0.5:
                # A face lets time pass before each command; a script may not.
                session.give(c.Tick(**session.base(leap_ms)))
                leap_ms = 0
            base = session.base(leap_ms, rng.choice(WHO))
            made = (sensible if rng.random() < likely else wild)(rng, knowledge, session.state, base)
            counts["given"][type(made).__name__] += 1
            counts["accepted"][type(made).__name__] += session.give(made)
            counts["steps"][session.state.step.kind] += 1
            given += 1
            if session.state.closed:
                break
        session.close()
        counts["closed"][session.state.closed] += 1
        assert session.replayed() == session.state, "a replay gives another state"
    return counts


def table(counts: dict[str, Counter[str]]) -> str:
    """The counts as a table of text."""
    rows = [f"{'command':<20}{'given':>10}{'accepted':>10}"]
    rows += [f"{name:<20}{n:>10}{counts['accepted'][name]:>10}" for name, n in sorted(counts["given"].items())]
    rows += ["", f"{'step on screen':<20}{'times':>10}"]
    rows += [f"{name:<20}{n:>10}" for name, n in sorted(counts["steps"].items())]
    rows += ["", f"{'session closed':<20}{'times':>10}"]
    rows += [f"{name:<20}{n:>10}" for name, n in sorted(counts["closed"].items())]
    return "\n".join(rows)


def main() -> int:
    """Soak, print the table, and say how it went."""
    parser = argparse.ArgumentParser(description="Give sessions random commands and watch their interlocks.")
    parser.add_argument("--commands", type=int, default=1_000_000)
    parser.add_argument("--seed", type=int, default=random.SystemRandom().randrange(10**6))
    parser.add_argument("--knowledge", type=Path, default=trees_folder())
    parser.add_argument("--careless", action="store_true", help="let trees go on where the engine must not run")
    options = parser.parse_args()
    began = time.monotonic()
    try:
        knowledge = load_knowledge(options.knowledge)
        counts = soak(careless(knowledge) if options.careless else knowledge, options.commands, options.seed)
    except AssertionError as error:
        print(f"seed {options.seed}: {error}")
        return 1
    print(table(counts))
    print(f"\nseed {options.seed}: {options.commands} commands in {time.monotonic() - began:.0f} s, nothing wrong")
    return 0


if __name__ == "__main__":
    sys.exit(main())
