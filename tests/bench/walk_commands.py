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
from pathlib import Path
from typing import Any

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from tests.bench.walk_drive import explained_only, of_the_drive
from tests.bench.walk_toward import Plan, plan_toward_a_run
from tests.bench.walk_watcher import Watcher
from triage.errors import CommandRefused
from triage.knowledge.loading import load_knowledge
from triage.knowledge.models import Check, Knowledge
from triage.knowledge.shipped import trees_folder
from triage.session import commands as c
from triage.session import events as e
from triage.session.deciding import decide
from triage.session.evolving import evolve, fold
from triage.session.state import FACTS, State

COMMANDS_A_SESSION = 400
# How many commands of a session answer the step on screen, and how many come at the usual pace.
TEMPERS = ((0.99, 0.998), (0.95, 0.98), (0.6, 0.8))
SECOND_MS = 1000
HOUR_MS = 3_600_000
WHO = ("Ann", "Bo")
WORD = "something"
AIMED = 0.3
"""Share of the sessions that answer so that their tree comes to a timed run; by chance hardly any does."""
STRAIGHT = 0.98
"""How many of their answers do."""
NO_PLAN: Plan = {}
PULLEYS = ("solid", "isolator", "one-way-clutch", "decoupler", None)
# A run out of time, a long break, a clock that is set back.
LEAPS_MS = (0, 10 * SECOND_MS, 31 * SECOND_MS, 290 * SECOND_MS, 1200 * SECOND_MS, 3 * HOUR_MS, -SECOND_MS, -HOUR_MS)


def sensible(
    rng: random.Random, knowledge: Knowledge, state: State, base: dict[str, Any], plan: Plan = NO_PLAN
) -> c.Command:
    """A command that answers the step on screen, by the plan where that has an answer."""
    step = state.step
    check = knowledge.checks.get(step.check)
    if step.kind in ("check", "result") and check:
        planned = plan.get(check.id) if rng.random() < STRAIGHT else None
        return c.Answer(**base, check=check.id, outcomes=planned) if planned else found(rng, check, base)
    astray = [one for one, told in state.findings.items() if told.outcomes != plan.get(one, told.outcomes)]
    if step.kind == "conclusion" and astray:
        return c.TakeBack(**base, check=astray[0])
    made: dict[str, Any] = {
        "gate": lambda: c.AnswerGate(**base, answer="none"),
        "fact": lambda: c.TellFact(**base, fact=step.fact, value=plausible(rng, step.fact)),
        "confirm": lambda: c.Confirm(**base, confirmation=step.confirmation, name=rng.choice([WORD, *WHO])),
        "held": lambda: rng.choice(
            [c.TryAgain(**base), c.CannotDo(**base, check=step.check, reason=WORD), c.Tick(**base)]
        ),
        "blocked": lambda: c.PutRight(**base, check=step.check, done=WORD),
        "set-up": lambda: (
            c.CannotDo(**base, check=step.check, reason=WORD)
            if rng.random() < (0.02 if plan else 0.2)
            else c.FinishSetUp(**base, check=step.check)
        ),
        "run-ready": lambda: c.StartRun(**base),
        "run": lambda: c.EndRun(**base),
        "run-over": lambda: c.EndRun(**base),
        "switch-off": lambda: c.EndRun(**base),
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


def plausible(rng: random.Random, fact: str) -> str | float | None:
    """A fact of a vehicle, or that it is not known."""
    return rng.choice({"pulley": PULLEYS, "odometer": (1e7, 1.5e8, 4e8, None)}.get(fact, (4.0, 6.0, None)))


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
        lambda: c.TellFact(**base, fact=rng.choice([*FACTS, "colour"]), value=rng.choice(["solid", None, "round"])),
        *([lambda: of_the_vehicle(rng, knowledge, base)] * 3),
        lambda: of_a_route(rng, knowledge, base),
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


def of_the_vehicle(rng: random.Random, knowledge: Knowledge, base: dict[str, Any]) -> c.Command:
    """A fact put right, or a part's age told, some of it senseless."""
    if rng.random() < 0.2:
        parts = [part.id for remedy in knowledge.remedies.values() for part in remedy.parts]
        return c.TellRenewal(**base, part=rng.choice(parts), odometer_m=rng.choice([None, 9e6, 1.2e8, 9e9]))
    fact = rng.choice(["pulley", *FACTS, "colour"])
    return c.CorrectFact(**base, fact=fact, value=rng.choice([plausible(rng, fact), plausible(rng, fact), "round"]))


def of_a_route(rng: random.Random, knowledge: Knowledge, base: dict[str, Any]) -> c.Command:
    """A check off the tree, or the end of such a route."""
    if rng.random() < 0.3:
        return c.EndOwnRoute(**base, causes=(rng.choice([*knowledge.causes, "nobody-knows"]),))
    return c.TakeOwnRoute(**base, check=rng.choice(list(knowledge.checks)), minutes=3.0, saves_min=1.0)


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
        if self.state.step.kind in ("run", "run-over", "switch-off"):
            assert self.give(c.EndRun(**self.base()))
        if not self.state.closed:
            assert self.give(c.Close(**self.base(), how="without-repair", reason=WORD)), "it cannot be closed"

    def replayed(self) -> State:
        """The state out of the events alone."""
        state = State()
        for event in self.events:
            state = evolve(state, event)
        return state


def waits_until_cold(state: State) -> bool:
    """Whether nothing but time is lacking."""
    return state.step.kind == "held" and not state.step.confirmation


def soak(knowledge: Knowledge, commands: int, seed: int) -> dict[str, Counter[str]]:
    """Give so many commands to one session after another.

    Returns:
        how often each command was given and accepted, each step offered, each session closed, and each event happened.

    Raises:
        AssertionError: something was offered that must not be; it names the seed.
    """
    rng = random.Random(seed)
    counts: dict[str, Counter[str]] = {key: Counter() for key in ("given", "accepted", "steps", "closed", "happened")}
    given = 0
    while given < commands:
        session = Session(knowledge, rng.choice(list(knowledge.trees)))
        aimed, plan, tree = rng.random() < AIMED, NO_PLAN, knowledge.trees[session.state.symptom]
        temper = rng.choice(TEMPERS)
        for _ in range(min(COMMANDS_A_SESSION, commands - given)):
            if aimed and session.state.step.kind == "check":
                aimed, plan = False, plan_toward_a_run(rng, knowledge, tree, session.state.pulley)
            elif session.state.runs:
                plan = NO_PLAN
            likely, steady = TEMPERS[0] if plan else temper
            leap_ms = SECOND_MS if rng.random() < steady else rng.choice(LEAPS_MS)
            if plan and waits_until_cold(session.state):
                leap_ms = 3 * HOUR_MS
            if rng.random() < 0.5:
                # A face lets time pass before each command; a script may not.
                session.give(c.Tick(**session.base(leap_ms)))
                leap_ms = 0
            base = session.base(leap_ms, rng.choice(WHO))
            if rng.random() < likely:
                made = sensible(rng, knowledge, session.state, base, plan)
            else:
                made = wild(rng, knowledge, session.state, base)
            counts["given"][type(made).__name__] += 1
            counts["accepted"][type(made).__name__] += session.give(made)
            counts["steps"][session.state.step.kind] += 1
            given += 1
            if session.state.closed:
                break
        session.close()
        counts["closed"][session.state.closed] += 1
        counts["happened"].update(event.kind for event in session.events)
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
