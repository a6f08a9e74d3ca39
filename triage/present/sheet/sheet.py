"""The sheet of a session: verdict first, then the way there, what is open, and the flags.

Nothing stands on it that is not in the trace. What was recorded with the conclusion is said to be so; where the session
stands now has a line of its own.
"""

from collections.abc import Sequence
from dataclasses import asdict, dataclass
from typing import Any, Final

from triage.knowledge.models import Knowledge
from triage.knowledge.vehicle import FACTS
from triage.present.said.instants import elapsed, instant
from triage.present.said.vehicle import fact_words
from triage.present.shapes import ENDS, PROOFS
from triage.present.sheet.course import CheckedStep, course_of
from triage.present.sheet.flags import Flag, flags_of
from triage.present.steps.shares import share
from triage.present.steps.views import GATE_CHOICES, step_view
from triage.record import events as e
from triage.session.evolving import fold
from triage.session.proving import proof_of
from triage.session.state import State

FORMAT: Final = 1
CLOSED: Final = {"signed-off": "signed off", "without-repair": "closed without repair", "turned-away": "turned away"}


@dataclass(frozen=True)
class Sheet:
    """Everything on the sheet, each part with the number of its event.

    Args:
        verdict: cause, how sure, proof.
        about: who, when, how long, vehicle, the first question.
        course: every answer to a check that counts.
        apart: what told the rivals apart, as recorded with the conclusion.
        left_out: what could not be made, and what it would have told.
        work: parts, torques and where.
        open: where the session stands now, and notes.
        flags: what to look at twice.
        mark: count and digest of the trace.
    """

    verdict: tuple[str, ...]
    about: tuple[str, ...]
    course: tuple[CheckedStep, ...]
    apart: tuple[str, ...]
    left_out: tuple[str, ...]
    work: tuple[str, ...]
    open: tuple[str, ...]
    flags: tuple[Flag, ...]
    mark: str


def sheet_of(knowledge: Knowledge, events: Sequence[e.Event], mark: str) -> Sheet:
    """The sheet of a session.

    Args:
        knowledge: what it used.
        events: what happened.
        mark: of its trace.
    """
    state = fold(events)
    course = course_of(knowledge, events)
    counted = tuple(step for step in course if _counts(step, events))
    return Sheet(
        _verdict(knowledge, state, events),
        _about(knowledge, state, events),
        counted,
        _apart(knowledge, state),
        _left_out(knowledge, counted),
        _work(knowledge, events),
        _open(knowledge, state, events),
        flags_of(knowledge, events, state, course),
        mark,
    )


def _counts(step: CheckedStep, events: Sequence[e.Event]) -> bool:
    """Whether an answer was not taken back later."""
    later = events[step.number :]
    return not any(isinstance(one, e.FindingTakenBack) and one.check == step.check for one in later)


def _last(events: Sequence[e.Event], kind: type[e.Event]) -> int:
    return max((number for number, event in enumerate(events, 1) if isinstance(event, kind)), default=0)


def _verdict(knowledge: Knowledge, state: State, events: Sequence[e.Event]) -> tuple[str, ...]:
    if state.closed == "turned-away":
        return ("Turned away at the first question: the maker's procedure and qualified people.",)
    if state.concluded is None:
        return ("No conclusion yet.",)
    number = _last(events, e.ConclusionReached)
    causes = " and ".join(knowledge.causes[one].name for one in state.concluded.causes)
    sure = {one.cause: one.probability for one in state.likely}
    figures = ", ".join(share(sure[one]) for one in state.concluded.causes if one in sure)
    told = causes or ENDS.get(state.concluded.end, state.concluded.end)
    likely = f" ({figures} likely to have made the complaint, as concluded)" if figures else ""
    proof = _proof(knowledge, state)
    return (f"#{number} {told}{likely}", *((f"Complaint: {proof}",) if proof else ()))


def _proof(knowledge: Knowledge, state: State) -> str:
    if state.proof:
        return PROOFS[state.proof]
    if state.closed:
        return f"{CLOSED.get(state.closed, state.closed)}; no proof was recorded"
    if state.stage == "proving":
        return f"{PROOFS[proof_of(knowledge, state)]}, as far as it was tried"
    return "" if state.stage == "finding" else "repair under way, not proved"


def _about(knowledge: Knowledge, state: State, events: Sequence[e.Event]) -> tuple[str, ...]:
    people = list(dict.fromkeys(one.who for one in events if not isinstance(one, e.OfReasoning | e.StepOffered)))
    took = elapsed(events[-1].at_ms - events[0].at_ms)
    facts = (f"{_fact_name(fact)}{fact_words(fact, state.facts[fact])}" for fact in FACTS if _is_known(state, fact))
    return (
        f"Job {state.job}: {knowledge.trees[state.symptom].name}" + (f' - "{state.words}"' if state.words else ""),
        f"{instant(events[0].at_ms)}, {took.lstrip('+')} h; {', '.join(people)}; now with {state.holder}",
        f"Vehicle: {', '.join(facts) or 'nothing known'}",
        f"#{_last(events, e.GateAnswered)} First question: {_gate(events)}",
    )


def _gate(events: Sequence[e.Event]) -> str:
    answer = next((event.answer for event in reversed(events) if isinstance(event, e.GateAnswered)), "")
    return dict(GATE_CHOICES).get(answer, answer or "not answered")


def _is_known(state: State, fact: str) -> bool:
    return state.facts.get(fact) is not None


def _fact_name(fact: str) -> str:
    return {"cylinders": "cylinders: ", "belts": "belts: "}.get(fact, "")


def _apart(knowledge: Knowledge, state: State) -> tuple[str, ...]:
    """The findings that spoke most for what was concluded, and against its rivals."""
    if state.concluded is None or state.counsel is None:
        return ()
    lines = []
    for one in state.likely[:2]:
        reasons = sorted((reason for reason in one.reasons if reason.check), key=lambda each: -abs(each.factor - 1))
        told = (f"{knowledge.checks[reason.check].name} x{reason.factor:.3g}" for reason in reasons[:3])
        lines.append(
            f"{knowledge.causes[one.cause].name} {share(one.probability)}: {'; '.join(told) or 'base rate alone'}"
        )
    return tuple(lines)


def _left_out(knowledge: Knowledge, course: Sequence[CheckedStep]) -> tuple[str, ...]:
    """What could not be made: why, and what it would have told."""
    made = {step.check for step in course if step.done}
    named = ((step, knowledge.checks[step.check]) for step in course if not step.done and step.check not in made)
    return tuple(f"#{step.number} {check.name}: {step.words}. It would tell: {check.why}" for step, check in named)


def _work(knowledge: Knowledge, events: Sequence[e.Event]) -> tuple[str, ...]:
    """Repair, place, parts and torques, as they were written down."""
    remedies = knowledge.remedies
    parts = {part.id: part.name for remedy in remedies.values() for part in remedy.parts}
    torques = {torque.id: torque.what for remedy in remedies.values() for torque in remedy.torques}
    lines = []
    for number, event in enumerate(events, 1):
        match event:
            case e.RemedyBegun():
                told = ", ".join(remedies[one].name for one in event.remedies if one in remedies)
            case e.PlaceNamed():
                told = f"where: {event.place}"
            case e.PartRecorded():
                told = f"{parts.get(event.part, event.part)}: {event.done.replace('-', ' ')}"
            case e.TorqueRecorded():
                told = f"{torques.get(event.torque, event.torque)}: {event.text}"
            case _:
                continue
        lines.append(f"#{number} {told}")
    return tuple(lines)


def _open(knowledge: Knowledge, state: State, events: Sequence[e.Event]) -> tuple[str, ...]:
    notes = [f"#{number} note: {one.text}" for number, one in enumerate(events, 1) if isinstance(one, e.NoteAdded)]
    view = step_view(knowledge, state)
    return (*notes[-3:], f"Now: {view.title or view.ask}")


def sheet_data(sheet: Sheet) -> dict[str, Any]:
    """The sheet as data: the same parts, each step and flag with its event; docs/sheet.md has the shape."""
    return {"format": FORMAT, **asdict(sheet)}
