"""What is kept of an exercise for the weeks after it: what was misjudged, missed and held likely."""

from collections.abc import Mapping

from triage.practice.exercise import Exercise
from triage.practice.score import Score


def learned_from(exercise: Exercise, score: Score) -> Mapping[str, object]:
    """What the record says besides the score.

    Args:
        exercise: one that has ended.
        score: how it went.
    """
    shown = {one.check: one.outcomes for gone in exercise.course for one in gone.shown}
    judged = {check: outcomes for check, outcomes in exercise.made.items() if check in shown}
    misread = [check for check, outcomes in judged.items() if set(outcomes) != set(shown[check])]
    return {
        "safety": [one.hazard or one.what for one in exercise.missed],
        "hints_min": exercise.hint_min,
        "brier": score.brier[-1] if score.brier else None,
        "judged": len(judged),
        "misread": misread,
    }
