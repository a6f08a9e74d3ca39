"""What is answered to the step on screen, by a recorded case, a demo, a test or a walk that means no good.

The table stands here once. Whoever answers otherwise overrides what it answers otherwise, and nothing else.
"""

from dataclasses import dataclass
from typing import TYPE_CHECKING, TypedDict

from triage.knowledge.models import Check, Knowledge
from triage.record.steps import Step
from triage.session import commands as c
from triage.session.interlocks import is_cold, is_pressed, period_ms
from triage.session.state import State
from triage.session.stepping import remedies_of, to_take_off

if TYPE_CHECKING:
    from collections.abc import Callable

DEAD = (12.6, 0.0)
"""What is read before the lead came off, and after [V]."""
Told = str | float | None
"""What is told of a vehicle; None where nobody knows it."""


class Given(TypedDict):
    """When a command is given, and by whom."""

    at_ms: int
    who: str


@dataclass(frozen=True)
class Asked:
    """A step that waits for its answer.

    Attributes:
        knowledge: what the session uses.
        state: where the session stands.
        given: when it is answered, and by whom.
    """

    knowledge: Knowledge
    state: State
    given: Given

    @property
    def step(self) -> Step:
        """What is on screen."""
        return self.state.step


class Respondent:
    """Somebody at a sound vehicle of which nothing is known, who has every tool, makes every repair and says yes.

    Attributes:
        who: gives the commands.
        names: is named where a confirmation names somebody.
    """

    who = "somebody"
    names = "somebody else"

    def answer(self, knowledge: Knowledge, state: State, at_ms: int) -> c.Command | None:
        """What is answered to the step on screen; None where nothing more is said."""
        to: dict[str, Callable[[Asked], c.Command | None]] = {
            "gate": self.to_gate,
            "fact": self.to_fact,
            "confirm": self.to_confirm,
            "why": self.to_why,
            "held": self.to_held,
            "set-up": self.to_set_up,
            "blocked": self.to_blocked,
            "run-ready": self.to_run_ready,
            "run": self.to_run,
            "run-over": self.to_run,
            "switch-off": self.to_run,
            "result": self.to_check,
            "check": self.to_check,
            "round": self.to_round,
            "conclusion": self.to_conclusion,
            "which": self.to_which,
            "part": self.to_part,
            "torque": self.to_torque,
            "prove": self.to_prove,
            "paused": self.to_paused,
            "closed": self.to_closed,
        }
        return to[state.step.kind](Asked(knowledge, state, {"at_ms": at_ms, "who": self.who}))

    def told(self, asked: Asked) -> Told:
        """The fact that is asked."""
        del asked
        return None

    def found(self, asked: Asked, check: Check) -> c.Command:
        """What a check comes to."""
        pulley = asked.state.pulley
        proves = (one.id for one in check.outcomes if asked.step.proving and check.proof(one.id, pulley) == "proves")
        return c.Answer(**asked.given, check=check.id, outcomes=(next(proves, check.normal(pulley)),))

    def to_gate(self, asked: Asked) -> c.Command | None:
        """No electric machine in the drive."""
        return c.AnswerGate(**asked.given, answer="none")

    def to_fact(self, asked: Asked) -> c.Command | None:
        """What is told of the vehicle."""
        return c.TellFact(**asked.given, fact=asked.step.fact, value=self.told(asked))

    def to_confirm(self, asked: Asked) -> c.Command | None:
        """Yes to the next open line of the card, with what it asks to be typed."""
        line = next(one for one in asked.step.lines if not is_pressed(asked.knowledge, asked.state, one))
        known = asked.knowledge.confirmations.get(line)
        volts = DEAD if known and known.proof == "dead" else ()
        return c.Confirm(**asked.given, confirmation=line, name=self.names, volts=volts)

    def to_why(self, asked: Asked) -> c.Command | None:
        """Why a line is not so."""
        return c.SayWhy(**asked.given, reason="not so")

    def to_held(self, asked: Asked) -> c.Command | None:
        """Wait where time alone is lacking; otherwise the check cannot be done."""
        return self.waits(asked) or c.CannotDo(**asked.given, check=asked.step.check, reason="state not possible")

    def waits(self, asked: Asked) -> c.Tick | None:
        """The time at which a warm engine is cold, where that alone holds the check up."""
        state, target = asked.state, asked.knowledge.states.get(asked.step.state)
        if asked.step.kind != "held" or target is None or target.cold_after is None or state.engine_ran_ms is None:
            return None
        if is_cold(state, target, asked.given["at_ms"]) or state.runs >= (target.runs or 0):
            return None
        return c.Tick(at_ms=state.engine_ran_ms + period_ms(target.cold_after.text), who="clock")

    def to_set_up(self, asked: Asked) -> c.Command | None:
        """It is set up."""
        return c.FinishSetUp(**asked.given, check=asked.step.check)

    def to_blocked(self, asked: Asked) -> c.Command | None:
        """What blocks is put right."""
        return c.PutRight(**asked.given, check=asked.step.check, done="put right")

    def to_run_ready(self, asked: Asked) -> c.Command | None:
        """Start."""
        return c.StartRun(**asked.given)

    def to_run(self, asked: Asked) -> c.Command | None:
        """The engine is off."""
        return c.EndRun(**asked.given)

    def to_check(self, asked: Asked) -> c.Command | None:
        """What is found."""
        return self.found(asked, asked.knowledge.checks[asked.step.check])

    def to_round(self, asked: Asked) -> c.Command | None:
        """What is found at the first open line, in the order of doing."""
        return self.to_check(asked)

    def to_conclusion(self, asked: Asked) -> c.Command | None:
        """Repair where there is a cause to put right."""
        if asked.state.concluded and asked.state.concluded.causes:
            return c.BeginRemedy(**asked.given)
        off = to_take_off(asked.knowledge, asked.state)
        return c.Close(**asked.given, how="without-repair", reason="no cause found", off=off)

    def to_which(self, asked: Asked) -> c.Command | None:
        """The first of them."""
        which = asked.knowledge.remedies[asked.step.remedy].which
        place = which.places[0] if which else "all of it"
        return c.NamePlace(**asked.given, remedy=asked.step.remedy, place=place)

    def to_part(self, asked: Asked) -> c.Command | None:
        """What the remedy asks for is done."""
        remedies = remedies_of(asked.knowledge, asked.state)
        todo = next(part.todo for remedy in remedies for part in remedy.parts if part.id == asked.step.part)
        done = {"renew": "renewed", "inspect": "found-good", "repair": "repaired"}[todo]
        return c.RecordPart(**asked.given, part=asked.step.part, done=done)

    def to_torque(self, asked: Asked) -> c.Command | None:
        """Tightened by a paper."""
        return c.RecordTorque(
            **asked.given,
            torque=asked.step.torque,
            value_nm=85.0,
            text="85 N·m",
            wrench="torque wrench no. 2",
            reference="instruction sheet that came with the part (invented)",
            figure="85 N·m",
        )

    def to_prove(self, asked: Asked) -> c.Command | None:
        """The complaint is gone, or it is said why nothing is proved."""
        if asked.step.proof == "not-provable":
            return c.Close(**asked.given, how="without-repair", reason="not met, so not proved gone")
        if asked.step.proof == "not-cured":
            return c.NotCured(**asked.given)
        return c.Close(**asked.given, how="signed-off")

    def to_paused(self, asked: Asked) -> c.Command | None:
        """Back at the vehicle."""
        return c.Resume(**asked.given)

    def to_closed(self, asked: Asked) -> c.Command | None:
        """Nothing more."""
        del asked
        return None
