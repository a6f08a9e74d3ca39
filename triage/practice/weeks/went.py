"""What is known of an exercise afterwards: read from its record, whatever else that holds."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any, Final

LEARNER: Final = "learner"
DEBRIEFED: Final = "debriefed"


@dataclass(frozen=True)
class Went:
    """How one exercise went.

    Args:
        who: the learner's name.
        day: when it was begun.
        symptom: the complaint.
        level: from 1 to 5.
        lost_min: what was lost, by part [min].
        safety: the hazards that were missed or invited, each as often as that was.
        hints_min: the price of those that were taken [min].
        brier: mean squared error of what was held likely; None where nothing was asked or said [1].
        judged: how many things were judged.
        misread: the checks of which another outcome was taken than was shown.
        faults: what was hidden and made the complaint.
        concluded: the causes that were named.
    """

    who: str
    day: date
    symptom: str
    level: int
    lost_min: Mapping[str, float]
    safety: tuple[str, ...] = ()
    hints_min: float = 0.0
    brier: float | None = None
    judged: int = 0
    misread: tuple[str, ...] = ()
    faults: tuple[str, ...] = ()
    concluded: tuple[str, ...] = ()

    @property
    def total_min(self) -> float:
        """What was lost in all [min]."""
        return sum(self.lost_min.values())


def went_of(lines: Iterable[Mapping[str, Any]]) -> Went | None:
    """What a record tells; None where the exercise was left, or is of a shape that is not known.

    Args:
        lines: the lines of one record, as they were written.
    """
    by_kind: dict[str, Mapping[str, Any]] = {}
    for line in lines:
        # Whoever tries again from a place has seen the truth: the first debrief counts.
        by_kind.setdefault(str(line.get("kind")), line)
    try:
        learner, begun, end = by_kind[LEARNER], by_kind["begun"], by_kind[DEBRIEFED]
        return Went(
            str(learner["who"]),
            datetime.fromisoformat(str(learner["at"])).date(),
            str(begun["symptom"]),
            int(begun["level"]),
            {str(part): float(lost) for part, lost in end["lost_min"].items()},
            tuple(map(str, end["safety"])),
            float(end["hints_min"]),
            None if end["brier"] is None else float(end["brier"]),
            int(end["judged"]),
            tuple(map(str, end["misread"])),
            tuple(map(str, end["made"])),
            tuple(map(str, by_kind.get("concluded", {}).get("causes", ()))),
        )
    except (KeyError, TypeError, ValueError, AttributeError):
        return None
