"""The debrief of an exercise in words: what was hidden, what was lost where and why, the way taken beside the other."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import zip_longest

from triage.knowledge.models import Knowledge
from triage.practice.exercise import Exercise
from triage.practice.expecting import expected_outlooks
from triage.practice.going import ScoredStep
from triage.practice.score import PARTS, ReferenceWay, Score, Scorer, reference_way
from triage.present.practising import said

REFERENCE = "the reference (what triage itself would do next by the figures behind worth; not the best there could be)"
PART_WORDS = {
    "check": "checks chosen",
    "judgement": "what was seen, taken wrongly",
    "conclusion": "conclusion beyond what was found",
    "repair": "repair",
    "proof": "no proof",
    "hints": "hints",
}
HOUR_MIN = 60.0


@dataclass(frozen=True)
class Debrief:
    """A debrief.

    Args:
        lines: its text.
        score: how it went.
        worst: the go from which it is best tried again; None where nothing was lost.
    """

    lines: tuple[str, ...]
    score: Score
    worst: int | None


def debrief(exercise: Exercise) -> Debrief:
    """Say how an exercise went that has ended."""
    scorer = Scorer(exercise)
    score = scorer.score()
    lines = (
        "DEBRIEF",
        *said.truth_lines(exercise),
        said.so_far(exercise),
        "",
        *_total(exercise, score),
        *_worst(exercise, scorer, score.worst),
        *_lost(exercise, score.lost_at),
        *said.misjudged_lines(exercise),
        *_beliefs(score.brier),
        "",
        *said.harm_lines(exercise),
        "",
        *_ways(exercise, score, reference_way(exercise)),
    )
    return Debrief(lines, score, score.worst.number if score.worst else None)


def _total(exercise: Exercise, score: Score) -> Iterator[str]:
    prices = exercise.setting.prices
    money = (
        f", {score.total_min / HOUR_MIN * prices.hour_rate:,.2f} {prices.currency}".rstrip() if prices.hour_rate else ""
    )
    yield f"Beside {REFERENCE}, {score.total_min:.0f} min were lost in expectation{money}:"
    for part in PARTS:
        lost = score.of(part)
        if round(lost):
            yield f"  {PART_WORDS[part]}: {lost:.0f} min"
    yield "  Below 0 is better than the reference. Luck counts neither way."


def _worst(exercise: Exercise, scorer: Scorer, worst: ScoredStep | None) -> Iterator[str]:
    if worst is None or round(worst.regret_min) < 1:
        yield "Nothing worth a minute was lost at any step."
        return
    names = exercise.knowledge.checks
    at = f"step {worst.number + 1}" if worst.number < len(exercise.course) else "the end"
    yield f"Most was lost at {at}, {worst.regret_min:.0f} min: {_why(exercise, scorer, worst)}"
    if worst.part != "check" or worst.other is None:
        return
    check = worst.other.checks[0]
    yield f"What each answer to {names[check].name} would have told there:"
    before = scorer.course.before(worst.number)
    for one in expected_outlooks(exercise.knowledge, exercise.vehicle.symptom, before, exercise.vehicle.pulley, check):
        outcome = names[check].outcome(one.outcome)
        cause = exercise.knowledge.causes[one.cause].name if one.cause else "nothing"
        words = outcome.words if outcome else one.outcome
        yield f"  {words} ({one.chance:.0%}): then likeliest {cause}, {one.before:.0%} before, {one.after:.0%} then"


def _why(exercise: Exercise, scorer: Scorer, worst: ScoredStep) -> str:
    knowledge = exercise.knowledge
    if worst.part == "check" and worst.checks:
        other = "ending there" if worst.other is None else _names(knowledge, worst.other.checks)
        return f"you made {_names(knowledge, worst.checks)}; the reference would have chosen {other}."
    if worst.part == "check" and worst.other is not None:
        saves = f"expected to save {worst.other.saves_min:.0f} min for {worst.other.minutes:.0f}"
        return f"you ended, and {_names(knowledge, worst.other.checks)} still paid: {saves}."
    carried = _causes(knowledge, scorer.course.end(exercise.made))
    return {
        "judgement": "what the bay showed was taken for something else, and the best end by that is another one.",
        "conclusion": f"what you had found carried another end: {carried}.",
        "repair": "the repair is not the one that goes with your conclusion.",
        "proof": "without the proof a complaint that is still there comes back.",
    }.get(worst.part, "")


def _lost(exercise: Exercise, lost_at: int | None) -> Iterator[str]:
    if lost_at is None:
        return
    gone = exercise.course[lost_at]
    told = "; ".join(
        f"{exercise.knowledge.checks[check].name}: {said.outcome_words(exercise.knowledge, check, outcomes)}"
        for check, outcomes in gone.judged.items()
    )
    wrong = [one for one in gone.shown if set(gone.judged.get(one.check, ())) != set(one.outcomes)]
    why = "It was taken wrongly." if wrong else "It was rightly seen: this vehicle is an unusual one."
    yield f"What is hidden counted as ruled out after step {lost_at + 1} ({told}). {why}"


def _beliefs(briers: tuple[float, ...]) -> Iterator[str]:
    if briers:
        figures = ", then ".join(f"{one:.3f}" for one in briers)
        yield f"What you held likely was off by {figures} (mean squared error; 0 is best)."


def _ways(exercise: Exercise, score: Score, other: ReferenceWay) -> Iterator[str]:
    """The way taken and that of the reference, step beside step."""
    knowledge = exercise.knowledge
    mine = [one for one in score.steps if one.part == "check" and one.checks]
    yield f"Your way beside that of the reference at this vehicle ({exercise.minutes:.0f} and {other.minutes:.0f} min):"
    for number, (own, its) in enumerate(zip_longest(mine, other.goes), 1):
        yield f"  {number}  you: {_own(knowledge, own)}"
        yield f"     it:  {_names(knowledge, its) if its else 'ended'}"
    yield f"  At the end it named: {_causes(knowledge, other.causes)}."


def _own(knowledge: Knowledge, step: ScoredStep | None) -> str:
    return f"{_names(knowledge, step.checks)} ({step.regret_min:+.0f} min)" if step else "ended"


def _names(knowledge: Knowledge, checks: Iterable[str]) -> str:
    return ", ".join(knowledge.checks[one].name for one in checks)


def _causes(knowledge: Knowledge, causes: Iterable[str]) -> str:
    return ", ".join(knowledge.causes[one].name for one in causes) or "nothing"
