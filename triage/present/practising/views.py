"""What is shown at each stage of an exercise."""

from collections.abc import Sequence
from dataclasses import dataclass

from triage.practice.exercise import Exercise
from triage.practice.safety import Question
from triage.present.practising import said
from triage.present.shapes import Choice

NEXT = "Which check do you make next?"
MUST = "What must be so?"


@dataclass(frozen=True)
class PracticeView:
    """What is shown at once.

    Args:
        title: the mark of practice, and where one is.
        lines: what to read.
        choices: numbered answers; several may be typed where `many`.
        ask: the question in short.
        keys: what can be typed.
        many: whether several numbers may be typed.
    """

    title: str
    lines: tuple[str, ...]
    choices: tuple[Choice, ...] = ()
    ask: str = ""
    keys: str = ""
    many: bool = False


def work(exercise: Exercise) -> PracticeView:
    """Which check is made next."""
    first = said.customer(exercise) if not exercise.made else ()
    return PracticeView(_title(exercise), (*first, said.so_far(exercise)), (), NEXT, "help: what can be typed")


def safety(exercise: Exercise, checks: Sequence[str], question: Question) -> PracticeView:
    """What must be so before a vehicle state."""
    names = "; ".join(exercise.knowledge.checks[one].name for one in checks)
    lines = (
        f"You want: {names}.",
        f"For that: {question.target.words}.",
        "What must be so before it? Name all that is right and nothing else.",
    )
    choices = tuple(Choice(str(at), one.says) for at, one in enumerate(question.proposals))
    keys = "numbers, such as 1 3 4 · 0: none of them · back: another check"
    return PracticeView(_title(exercise), lines, choices, MUST, keys, many=True)


def judge(exercise: Exercise, check_id: str) -> PracticeView:
    """What is made of what a check showed."""
    check = exercise.knowledge.checks[check_id]
    choices = tuple(Choice(one.id, one.words) for one in check.outcomes)
    which = "numbers" if check.several else "a number"
    keys = f"{which} or your own words · again: look once more · unsure: it cannot be told"
    return PracticeView(_title(exercise), (said.so_far(exercise),), choices, check.question, keys, many=check.several)


def think(exercise: Exercise) -> PracticeView:
    """What is held likely."""
    lines = ("What do you think now? For each cause that you hold likely: its number and percent.",)
    keys = "such as: 2 60, 5 20 · Enter alone passes"
    return PracticeView(_title(exercise), lines, _causes(exercise), "How likely?", keys, many=True)


def conclude(exercise: Exercise) -> PracticeView:
    """What is concluded."""
    lines = ("What do you conclude? Everything that has to be put right for this complaint.",)
    keys = "numbers · 0: no fault of the drive found · back: check further"
    return PracticeView(_title(exercise), lines, _causes(exercise), "Which causes?", keys, many=True)


def repair(exercise: Exercise, remedies: Sequence[str]) -> PracticeView:
    """What is put right."""
    lines = ("What is put right? Good parts that are renewed are counted apart.",)
    choices = tuple(Choice(one, exercise.knowledge.remedies[one].name) for one in remedies)
    keys = "numbers · Enter alone: what goes with your conclusion · 0: nothing"
    return PracticeView(_title(exercise), lines, choices, "Which repair?", keys, many=True)


def prove(exercise: Exercise) -> PracticeView:
    """Whether the complaint is proved gone."""
    check = exercise.knowledge.checks[exercise.knowledge.trees[exercise.vehicle.symptom].repeat]
    lines = (f"Do you prove that the complaint is gone? {check.name}, {check.minutes:g} min.",)
    choices = (Choice("prove", "Prove it"), Choice("no", "Hand the vehicle over without"))
    return PracticeView(_title(exercise), lines, choices, "Proof?", "a number")


def over(exercise: Exercise) -> PracticeView:
    """The end."""
    keys = "again: from where most was lost · Enter alone: close"
    return PracticeView(_title(exercise), (), ask="Try again from there?", keys=keys)


def _causes(exercise: Exercise) -> tuple[Choice, ...]:
    return tuple(Choice(one, exercise.knowledge.causes[one].name) for one in exercise.nameable())


def _title(exercise: Exercise) -> str:
    vehicle = exercise.vehicle
    kind = "recorded case" if vehicle.recorded else f"level {vehicle.level}"
    return f"{said.MARK} · {exercise.knowledge.trees[vehicle.symptom].name} · {kind}"
