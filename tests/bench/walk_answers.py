"""What people say to a session in a walk: answers to the step on screen, and anything else at any moment."""

import random
from dataclasses import dataclass
from typing import Any, get_args

from tests.bench.walk_drive import of_the_drive
from tests.bench.walk_toward import Plan
from triage.app.respondent import Asked, Given, Respondent
from triage.knowledge.models import Check, Ending, Knowledge
from triage.knowledge.vehicle import FACTS, LATER_FACTS, SEVERAL, WORDS
from triage.record.readings import TypedPart
from triage.session import commands as c
from triage.session.interlocks import is_pressed
from triage.session.rounds import closing
from triage.session.state import State

WHO = ("Ann", "Bo")
WORD = "something"
LEAVING = ("nothing-left",)
"""The line of what comes off before a vehicle leaves, in every world."""
STRAIGHT = 0.98
"""How many answers of a session that has a plan follow it."""
NO_PLAN: Plan = {}
CHANGING = 0.01
"""How often something happens at the vehicle that nobody asked about."""
CHANGES: tuple[Ending, ...] = tuple(one for one in get_args(Ending) if one not in ("long-silent", "long-hands-in"))
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


class People(Respondent):
    """People who answer the step on screen, mostly as they should; by a plan where that has an answer."""

    names = WORD

    def __init__(self, rng: random.Random, plan: Plan = NO_PLAN, refusing: float = 0.0) -> None:
        self._rng, self._plan, self._refusing = rng, plan, refusing

    def told(self, asked: Asked) -> str | float | None:
        return plausible(self._rng, asked.step.fact)

    def found(self, asked: Asked, check: Check) -> c.Command:
        planned = self._plan.get(check.id) if self._rng.random() < STRAIGHT else None
        if planned:
            return c.Answer(**asked.given, check=check.id, outcomes=planned)
        return found(self._rng, check, asked.given)

    def to_confirm(self, asked: Asked) -> c.Command | None:
        open_lines = [one for one in asked.step.lines if not is_pressed(asked.knowledge, asked.state, one)]
        line = self._rng.choice(open_lines or list(asked.step.lines))
        if self._rng.random() < self._refusing:
            return c.RefuseConfirmation(**asked.given, confirmation=line, reason=self._rng.choice(["", WORD]))
        return confirming(self._rng, asked.given, line)

    def to_held(self, asked: Asked) -> c.Command | None:
        cannot = c.CannotDo(**asked.given, check=asked.step.check, reason=WORD)
        return self._rng.choice([c.TryAgain(**asked.given), cannot, c.Tick(**asked.given)])

    def to_set_up(self, asked: Asked) -> c.Command | None:
        if self._rng.random() < (0.02 if self._plan else 0.2):
            return c.CannotDo(**asked.given, check=asked.step.check, reason=WORD)
        return super().to_set_up(asked)

    def to_round(self, asked: Asked) -> c.Command | None:
        """Any open line; at times the rest together, or none of it."""
        if not self._plan and self._rng.random() < 0.1:
            return ended(self._rng, asked.knowledge, asked.state, asked.given)
        first = asked.step.check if self._rng.random() < 0.5 else self._rng.choice(asked.step.open)
        return self.found(asked, asked.knowledge.checks[first])

    def to_conclusion(self, asked: Asked) -> c.Command | None:
        told = asked.state.findings.values()
        astray = next((one.check for one in told if one.outcomes != self._plan.get(one.check, one.outcomes)), None)
        return c.TakeBack(**asked.given, check=astray) if astray else super().to_conclusion(asked)

    def to_part(self, asked: Asked) -> c.Command | None:
        return c.RecordPart(**asked.given, part=asked.step.part, done=self._rng.choice(["renewed", "left"]))

    def to_prove(self, asked: Asked) -> c.Command | None:
        if asked.step.proof == "not-provable" and self._rng.random() < 0.5:
            return c.LeaveProofOpen(**asked.given)
        return c.NotCured(**asked.given) if self._rng.random() < 0.5 else super().to_prove(asked)


def ended(rng: random.Random, knowledge: Knowledge, state: State, base: Given) -> c.Command:
    """A round closed, some lines of it struck out and some of them senseless, left, or stopped by an alarm."""
    lines = closing(knowledge, state.step.open) if rng.random() < 0.8 else state.step.open
    told = tuple(one for one in lines if rng.random() < 0.8)
    return rng.choice([c.CloseRound(**base, checks=told), c.LeaveRound(**base), c.RaiseAlarm(**base)])


def confirming(rng: random.Random, base: Given, line: str) -> c.Command:
    """A line pressed, with what it may ask to be typed, some of it wrong."""
    volts = rng.choice([(12.6, 0.0), (12.6, 0.2), (12.6, 0.0), (0.1, 0.0), (12.6, 3.0), ()])
    return c.Confirm(**base, confirmation=line, name=rng.choice([WORD, WORD, *WHO]), volts=volts)


def happens(rng: random.Random, base: Given) -> c.Command:
    """Something that nobody asked about: a change at the vehicle, or that somebody is alone now, or is not."""
    if rng.random() < 0.3:
        return c.SayAlone(**base, alone=rng.random() < 0.5)
    return c.SayChanged(**base, what=rng.choice(CHANGES))


def sensible(
    rng: random.Random,
    knowledge: Knowledge,
    state: State,
    base: c.Stamp,
    plan: Plan = NO_PLAN,
    refusing: float = 0.0,
) -> c.Command:
    """A command that answers the step on screen, with a stamp of this walk."""
    if rng.random() < CHANGING * (1 + refusing):
        return happens(rng, base)
    command = People(rng, plan, refusing).answer(knowledge, state, base["at_ms"])
    assert command is not None, f"nobody answers {state.step.kind}"
    return command.model_copy(update={**base})


def plausible(rng: random.Random, fact: str) -> str | float | None:
    """A fact of a vehicle, or that it is not known."""
    if fact in WORDS:
        words = list(WORDS[fact])
        several = " ".join(rng.sample(words, rng.randint(1, len(words)))) if fact in SEVERAL else rng.choice(words)
        return rng.choice([several, several, None])
    return rng.choice({"pulley": PULLEYS, "odometer": (1e7, 1.5e8, 4e8, None)}.get(fact, (4.0, 2.0, None)))


def found(rng: random.Random, check: Check, base: Given) -> c.Command:
    """A finding of a check: a reading, an outcome, or that it cannot be done."""
    if rng.random() < 0.1:
        return c.CannotDo(**base, check=check.id, reason=WORD)
    if check.reading and rng.random() < 0.8:
        return c.Read(**base, check=check.id, parts=typed(rng, check))
    # The first outcome is the normal one: it leads deepest into a tree.
    outcome = check.outcomes[0] if rng.random() < 0.7 else rng.choice(check.outcomes)
    return c.Answer(**base, check=check.id, outcomes=(outcome.id,))


def told(rng: random.Random, knowledge: Knowledge, base: Given) -> c.Command:
    """Something that somebody found before; looks that let an engine run more often than others."""
    looks = [check for check in knowledge.checks.values() if any(one.closes_running for one in check.outcomes)]
    check = rng.choice([*knowledge.checks.values(), *looks, *looks])
    parts = typed(rng, check) if rng.random() < 0.3 else ()
    outcome = check.outcomes[0] if rng.random() < 0.7 else rng.choice(check.outcomes)
    outcomes = () if parts else (outcome.id,)
    return c.TellFinding(**base, check=check.id, outcomes=outcomes, parts=parts, by=rng.choice(["", WORD, WORD]))


def typed(rng: random.Random, check: Check) -> tuple[TypedPart, ...]:
    """Random parts of a reading."""
    parts = rng.choice(check.reading.ways).parts if check.reading else ()
    return tuple(
        TypedPart(part=part.id, value=rng.uniform(0.0, 3.0), spread=rng.choice([0.0, 0.05]), text=WORD)
        for part in parts
    )


def wild(rng: random.Random, knowledge: Knowledge, state: State, base: c.Stamp) -> c.Command:
    """Any command, most of them out of place."""
    check = knowledge.checks[rng.choice([*(state.known or knowledge.checks), *list(knowledge.checks)[:2]])]
    confirmation = rng.choice([*state.step.lines, *knowledge.confirmations])
    figures = [zone.figure for one in knowledge.checks.values() if one.reading for zone in one.reading.zones]
    choices: list[Any] = [
        lambda: c.AnswerGate(**base, answer=rng.choice(["none", "none", "nonsense"])),
        lambda: c.TellFact(**base, fact=rng.choice([*FACTS, "colour"]), value=rng.choice(["solid", None, "round"])),
        lambda: (fact := rng.choice(LATER_FACTS)) and c.TellFact(**base, fact=fact, value=plausible(rng, fact)),
        *([lambda: of_the_vehicle(rng, knowledge, base)] * 3),
        lambda: of_a_route(rng, knowledge, base),
        lambda: ended(rng, knowledge, state, base),
        lambda: c.AskFor(**base, check=rng.choice(["", *knowledge.checks])),
        lambda: found(rng, knowledge.checks[rng.choice([*state.step.open, check.id])], base),
        *([lambda: told(rng, knowledge, base)] * 2),
        lambda: confirming(rng, base, confirmation),
        lambda: c.RefuseConfirmation(**base, confirmation=confirmation),
        lambda: c.SayWhy(**base, reason=rng.choice(["", WORD])),
        lambda: happens(rng, base),
        lambda: c.RefuseConfirmation(**base, confirmation=confirmation, reason=rng.choice(["", WORD])),
        lambda: c.TryAgain(**base),
        lambda: c.FinishSetUp(**base, check=rng.choice([check.id, state.step.check])),
        lambda: c.StartRun(**base),
        lambda: c.EndRun(**base),
        lambda: found(rng, check, base),
        lambda: c.CannotDo(**base, check=state.step.check, reason=rng.choice(["", WORD])),
        lambda: c.TakeBack(**base, check=check.id),
        lambda: c.Undo(**base),
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
        lambda: c.LeaveProofOpen(**base),
        lambda: c.Close(**base, how="signed-off" if rng.random() < 0.5 else "nonsense"),
        lambda: c.Tick(**base),
    ]
    return rng.choice(choices)()  # type: ignore[no-any-return]


def of_the_vehicle(rng: random.Random, knowledge: Knowledge, base: c.Stamp) -> c.Command:
    """A fact put right, or a part's age told, some of it senseless."""
    if rng.random() < 0.2:
        parts = [part.id for remedy in knowledge.remedies.values() for part in remedy.parts]
        return c.TellRenewal(**base, part=rng.choice(parts), odometer_m=rng.choice([None, 9e6, 1.2e8, 9e9]))
    fact = rng.choice(["pulley", *FACTS, "colour"])
    return c.CorrectFact(**base, fact=fact, value=rng.choice([plausible(rng, fact), plausible(rng, fact), "round"]))


def of_a_route(rng: random.Random, knowledge: Knowledge, base: c.Stamp) -> c.Command:
    """A check off the tree, or the end of such a route."""
    if rng.random() < 0.3:
        return c.EndOwnRoute(**base, causes=(rng.choice([*knowledge.causes, "nobody-knows"]),))
    return c.TakeOwnRoute(**base, check=rng.choice(list(knowledge.checks)), minutes=3.0, saves_min=1.0)
