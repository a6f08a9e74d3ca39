"""The course of a real session beside the reference: what was chosen and concluded, without any truth.

Up to the first conclusion that a repair or the end followed. What was found counts as it stood at each moment, a
reading by its outcome. Nothing is recorded, and the session stays as it is.
"""

from collections.abc import Iterable
from dataclasses import dataclass

from triage.errors import CommandRefused
from triage.knowledge.models import Knowledge
from triage.practice.exercise import Gone
from triage.practice.going import Course, ScoredStep
from triage.practice.policy import Reference
from triage.reasoning.advice.changeover import ARRIVED, Standing, minutes_of, standing_after
from triage.record import events as e
from triage.session.evolving import evolve
from triage.session.state import State


@dataclass(frozen=True)
class SessionScore:
    """How a session went.

    Args:
        course: its goes beside the reference.
        steps: what each is charged, and the end; they add up to the total.
        concluded: what was named.
        carried: what the findings carried by the reference.
        proof: what became of the complaint, as the session says.
        job: the job's reference.
    """

    course: Course
    steps: tuple[ScoredStep, ...]
    concluded: tuple[str, ...]
    carried: tuple[str, ...]
    proof: str
    job: str

    @property
    def total_min(self) -> float:
        """What was lost in all [min]."""
        return sum(one.regret_min for one in self.steps)


def score_session(knowledge: Knowledge, events: Iterable[e.Event]) -> SessionScore:
    """Score a session that is closed.

    Raises:
        CommandRefused: it is not closed, or nothing was searched in it.
    """
    walk = _Walk(knowledge)
    for event in events:
        walk.take(event)
    if not walk.state.closed:
        raise CommandRefused("This session is not over.", "A debrief is for a session that was signed off or closed.")
    searched = walk.searched
    if searched is None or not walk.goes:
        raise CommandRefused("Nothing was searched in this session.", "There is nothing to compare.")
    odometer = searched.facts.get("odometer")
    driven_m = odometer if isinstance(odometer, float) else None
    reference = Reference(knowledge, searched.symptom, searched.pulley, driven_m, searched.weights)
    made = _findings(searched)
    course = Course(reference, tuple(walk.goes), made, walk.how)
    concluded = searched.concluded.causes if searched.concluded else ()
    carried = course.end(made)
    early = course.early()
    lost = course.end_cost(made, concluded) - course.end_cost(made, carried)
    end = ScoredStep("conclusion", len(walk.goes), concluded, lost)
    steps = (*course.steps(), *([early] if early else []), end)
    return SessionScore(course, steps, concluded, carried, walk.state.proof, walk.state.job)


def _findings(state: State) -> dict[str, tuple[str, ...]]:
    return {check: finding.outcomes for check, finding in state.findings.items()}


class _Walk:
    """Goes through the events of a session and keeps what was made in one go."""

    def __init__(self, knowledge: Knowledge) -> None:
        self._knowledge = knowledge
        self.state = State()
        self.searched: State | None = None
        self.goes: list[Gone] = []
        self.how: Standing = ARRIVED
        self._round = ""
        self._over = False

    def take(self, event: e.Event) -> None:
        before, self.state = self.state, evolve(self.state, event)
        if self._over or before.stage != "finding":
            self._over = True
            return
        found = isinstance(event, e.CheckAnswered) or (isinstance(event, e.ReadingTaken) and bool(event.outcome))
        if found and isinstance(event, e.CheckAnswered | e.ReadingTaken):
            self._made(event.check, before)
        if self.state.stage == "finding":
            self.searched = self.state

    def _made(self, check: str, before: State) -> None:
        # What was said again or put right is no other go.
        if any(check in gone.checks for gone in self.goes):
            return
        step, last = before.step, self.goes[-1] if self.goes else None
        if last is not None and step.round and step.round == self._round:
            self.goes[-1] = self._gone((*last.checks, check), dict(last.before), last.stood)
        else:
            self.goes.append(self._gone((check,), _findings(before), self.how))
        self._round = step.round
        self.how = standing_after(self._knowledge, self._knowledge.checks[check], self.how)

    def _gone(self, checks: tuple[str, ...], before: dict[str, tuple[str, ...]], stood: Standing) -> Gone:
        made = [self._knowledge.checks[one] for one in checks]
        return Gone(before, stood, checks, minutes_of(self.state.weights).of_go(self._knowledge, made, stood), ())
