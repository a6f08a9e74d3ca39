"""What people say to a session in a walk: answers to the step on screen, and anything else at any moment."""

import random
from dataclasses import dataclass
from typing import Any

from tests.bench.walk_drive import of_the_drive
from tests.bench.walk_toward import Plan
from triage.knowledge.models import Check, Knowledge
from triage.record.readings import TypedPart
from triage.session import commands as c
from triage.session.state import FACTS, State

WHO = ("Ann", "Bo")
WORD = "something"
STRAIGHT = 0.98
"""How many answers of a session that has a plan follow it."""
NO_PLAN: Plan = {}
PULLEYS = ("solid", "isolator", "one-way-clutch", "decoupler", None)


@dataclass(frozen=True)
class Temper:
    """How people answer.

    Args:
        sensible: how many commands answer the step on screen.
        steady: how many come at the usual pace.
        refusing: how many confirmations are refused.
    """

    sensible: float
    steady: float
    refusing: float


TEMPERS = tuple(
    Temper(sensible, steady, refusing)
    for sensible, steady in ((0.99, 0.998), (0.95, 0.98), (0.6, 0.8))
    for refusing in (0.0, 0.04, 0.2)
)


def sensible(
    rng: random.Random,
    knowledge: Knowledge,
    state: State,
    base: dict[str, Any],
    plan: Plan = NO_PLAN,
    refusing: float = 0.0,
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
    if step.kind == "confirm" and rng.random() < refusing:
        return c.RefuseConfirmation(**base, confirmation=step.confirmation, reason=WORD)
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


def typed(rng: random.Random, check: Check) -> tuple[TypedPart, ...]:
    """Random parts of a reading."""
    parts = rng.choice(check.reading.ways).parts if check.reading else ()
    return tuple(
        TypedPart(part=part.id, value=rng.uniform(0.0, 3.0), spread=rng.choice([0.0, 0.05]), text=WORD)
        for part in parts
    )


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
