"""What must be so before a vehicle state, put as a question: picked from right and wrong proposals.

Right ones are the lines that the knowledge asks for and that nothing holds at that moment, wrong ones the practice's
own. What stands is kept as in a session: a line holds until one of the events that end its group.
"""

from collections.abc import Collection, Iterable
from dataclasses import dataclass, field, replace
from typing import Final

from triage.knowledge.groups import arrives_so, ended_by
from triage.knowledge.models import Check, Confirmation, Ending, Knowledge, VehicleState
from triage.practice.chance import share, shuffled
from triage.practice.wording import Wrong
from triage.reasoning.advice.changeover import ARRIVED, Standing
from triage.session.interlocks import START_TRIED

MOST_RIGHT: Final = 4
"""Right proposals at a time: a list to be ticked from end to end teaches nothing."""
MOST_WRONG: Final = 3


@dataclass(frozen=True)
class Stands:
    """How the vehicle stands, and what protects those around it.

    Args:
        how: engine, belt and battery.
        lines: the confirmations that hold.
        due: of those with which a vehicle arrives in order, what was undone since.
    """

    how: Standing = ARRIVED
    lines: frozenset[str] = frozenset()
    due: frozenset[str] = frozenset()

    def lacking(
        self, knowledge: Knowledge, target: VehicleState, *, untouched: bool = False
    ) -> tuple[Confirmation, ...]:
        """The lines that a vehicle state asks for and that do not hold.

        Args:
            knowledge: the lines.
            target: the state.
            untouched: whether it is only looked at from outside, before the start is tried.
        """
        lines = (knowledge.confirmations[line] for line in target.confirmations if not untouched or line != START_TRIED)
        return tuple(
            one
            for one in lines
            if one.id not in self.lines and one.group != "alone" and (not arrives_so(one) or one.id in self.due)
        )

    def after(self, knowledge: Knowledge, *endings: Ending) -> "Stands":
        """The same after something has happened."""
        ended = {one.id for one in knowledge.confirmations.values() if ended_by(one) & set(endings)}
        due = {one for one in ended if arrives_so(knowledge.confirmations[one])}
        return replace(self, lines=self.lines - ended, due=self.due | due)

    def left_for(self, knowledge: Knowledge, target: VehicleState) -> "Stands":
        """What still holds once the vehicle is on its way into a state."""
        endings: list[Ending] = []
        if self.how.engine == "running":
            endings += ["stop", "engine-ran", "ignition-on", "key-left"]
        if self.how.belt != target.belt:
            endings.append("belt-moved")
        if self.how.battery != target.battery:
            endings.append("lead-off" if target.battery == "isolated" else "lead-on")
        if target.near == "hands-in":
            endings += ["hands-in", "stepped-in"]
        return self.after(knowledge, *endings)

    def come_to(self, knowledge: Knowledge, target: VehicleState, check: Check) -> "Stands":
        """The same in a state, everything that it asks for seen to, after a check was made there."""
        held = {one.id for one in self.lacking(knowledge, target, untouched=check.untouched)}
        entered = replace(self, how=target, lines=self.lines | held, due=self.due - held)
        return entered.after(knowledge, *check.does)


@dataclass(frozen=True)
class Proposal:
    """One thing that may have to be so.

    Args:
        says: in words.
        right: the line of the knowledge that it is; None where it is a wrong one.
        wrong: the wrong one.
    """

    says: str
    right: Confirmation | None = None
    wrong: Wrong | None = None


@dataclass(frozen=True)
class Missed:
    """A safety error: what was not named, or should not have been, and what would have hurt.

    Args:
        what: the line, or what was done.
        harm: what would have happened.
        hazard: id of the hazard; "" where none is named.
    """

    what: str
    harm: str
    hazard: str = ""


@dataclass(frozen=True)
class Question:
    """What is proposed before a vehicle state."""

    target: VehicleState
    proposals: tuple[Proposal, ...]


@dataclass(frozen=True)
class Named:
    """What naming came to.

    Args:
        missed: safety errors.
        needless: what was picked, hurts nobody and protects nobody: with why.
        good: how many right ones were picked.
    """

    missed: tuple[Missed, ...]
    needless: tuple[str, ...] = ()
    good: int = 0


@dataclass(frozen=True)
class Examiner:
    """Puts the questions, and says what an answer misses.

    Args:
        knowledge: states, confirmations and hazards.
        wrong: the wrong proposals.
        key: by what it is drawn which are proposed.
    """

    knowledge: Knowledge
    wrong: tuple[Wrong, ...]
    key: str
    asked: dict[str, int] = field(default_factory=dict, compare=False)
    """How often a line was proposed: those that were seldom come first."""

    def question(self, stands: Stands, target: VehicleState, number: int, *, untouched: bool) -> Question | None:
        """What is proposed before a state; None where all that it asks for holds."""
        lacking = stands.lacking(self.knowledge, target, untouched=untouched)
        if not lacking:
            return None
        order = sorted(lacking, key=lambda one: (self.asked.get(one.id, 0), share(self.key, number, one.id)))
        right = [Proposal(one.ask, right=one) for one in order[:MOST_RIGHT]]
        for one in order[:MOST_RIGHT]:
            self.asked[one.id] = self.asked.get(one.id, 0) + 1
        fitting = [one for one in self.wrong if _fits(one, target)]
        wrong = [Proposal(one.says, wrong=one) for one in shuffled(fitting, self.key, number, "wrong")[:MOST_WRONG]]
        return Question(target, shuffled([*right, *wrong], self.key, number, "order"))

    def named(self, question: Question, picked: Collection[int]) -> Named:
        """What was missed, and what was picked that should not be.

        Args:
            question: what was proposed.
            picked: places of what was picked, from 0.
        """
        missed = [
            missed
            for at, one in enumerate(question.proposals)
            if one.right and at not in picked
            for missed in (self._not_named(one.right),)
        ]
        chosen = [question.proposals[at] for at in sorted(picked)]
        wrong = [one.wrong for one in chosen if one.wrong]
        missed += [Missed(f"{one.says} {one.why}", self._harm([one.hurts]), one.hurts) for one in wrong if one.hurts]
        needless = tuple(f"{one.says} {one.why}" for one in wrong if not one.hurts)
        return Named(tuple(missed), needless, sum(one.right is not None for one in chosen))

    def _not_named(self, line: Confirmation) -> Missed:
        hazards = dict.fromkeys((line.hazard, *line.things.values()))
        return Missed(line.ask, self._harm(hazards), line.hazard)

    def _harm(self, hazards: Iterable[str]) -> str:
        return " ".join(self.knowledge.hazards[one].harm for one in hazards if one in self.knowledge.hazards)


def _fits(wrong: Wrong, target: VehicleState) -> bool:
    return wrong.engine in ("", target.engine) and wrong.battery in ("", target.battery)
