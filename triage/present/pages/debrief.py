"""A saved session beside the reference, in words: where minutes went, and what the findings carried."""

from collections.abc import Iterable, Iterator

from triage.knowledge.models import Knowledge
from triage.practice.going import ScoredStep
from triage.practice.of_session import SessionScore
from triage.present.practising.debrief import REFERENCE
from triage.present.shapes import PROOFS


def debrief_page(knowledge: Knowledge, score: SessionScore) -> Iterator[str]:
    """The lines of a session's debrief."""
    tree = knowledge.trees[score.course.reference.symptom]
    yield f"Debrief of job {score.job}: {tree.name}"
    yield "Nobody knows here what was really the matter: choices are compared, by what was found at each moment."
    yield f"Beside {REFERENCE}, {score.total_min:.0f} min were lost in expectation."
    yield ""
    for step in score.steps:
        yield _line(knowledge, step, len(score.course.goes))
    yield ""
    yield f"Concluded: {_causes(knowledge, score.concluded)}. By what was found: {_causes(knowledge, score.carried)}."
    yield f"Proof: {PROOFS.get(score.proof, 'none')}."
    worst = max(score.steps, key=lambda one: one.regret_min)
    if round(worst.regret_min) >= 1:
        yield f"Most was lost at {_at(worst, len(score.course.goes))}: {worst.regret_min:.0f} min."


def _at(step: ScoredStep, goes: int) -> str:
    return f"step {step.number + 1}" if step.number < goes else "the end"


def _line(knowledge: Knowledge, step: ScoredStep, goes: int) -> str:
    lost = f"{step.regret_min:+.0f} min"
    if step.number >= goes:
        what = "concluded" if step.part == "conclusion" else "ended"
        other = f"; the reference: {_names(knowledge, step.other.checks)}" if step.other else ""
        return f"  end  {what} ({lost}){other}"
    other = _names(knowledge, step.other.checks) if step.other else "would have ended"
    same = step.other is not None and step.other.checks == step.checks
    beside = "" if same else f"; the reference: {other}"
    return f"  {step.number + 1:>3}  {_names(knowledge, step.checks)} ({lost}){beside}"


def _names(knowledge: Knowledge, checks: Iterable[str]) -> str:
    return ", ".join(knowledge.checks[one].name for one in checks)


def _causes(knowledge: Knowledge, causes: Iterable[str]) -> str:
    return ", ".join(knowledge.causes[one].name for one in causes) or "nothing"
