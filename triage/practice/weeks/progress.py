"""Exercises over weeks: what was lost, how safe, how sure; and whether somebody misjudges less than before."""

import math
from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Final, Literal

from triage.practice.weeks.went import Went

RECENT: Final = 10
"""Exercises that are held against those before. From memory: a learner looks back on so many."""
SURE: Final = 1.7
"""Standard deviations beyond which fewer errors are no chance: a little more than the 1.645 of once in twenty.

Source: tables of the normal law, for the latter.
"""
Trend = Literal["better", "worse", "not told apart", "too few"]


@dataclass(frozen=True)
class Week:
    """The exercises of one week of the calendar.

    Args:
        year: of the week.
        number: of the week in that year, by ISO 8601.
        exercises: how many.
        lost_min: mean of what was lost [min].
        safety: errors an exercise [1].
        misread: share of what was judged wrongly; None where nothing was judged [1].
        hints_min: price of the hints an exercise [min].
        brier: mean over those who said what they held likely; None where nobody did [1].
    """

    year: int
    number: int
    exercises: int
    lost_min: float
    safety: float
    misread: float | None
    hints_min: float
    brier: float | None


def weeks_of(went: Iterable[Went]) -> tuple[Week, ...]:
    """The weeks in which there was an exercise, the first one first."""
    by_week: dict[tuple[int, int], list[Went]] = {}
    for one in went:
        year, number, _ = one.day.isocalendar()
        by_week.setdefault((year, number), []).append(one)
    return tuple(_week(year, number, by_week[year, number]) for year, number in sorted(by_week))


def _week(year: int, number: int, went: Sequence[Went]) -> Week:
    judged, sure = sum(one.judged for one in went), [one.brier for one in went if one.brier is not None]
    return Week(
        year,
        number,
        len(went),
        sum(one.total_min for one in went) / len(went),
        sum(len(one.safety) for one in went) / len(went),
        sum(len(one.misread) for one in went) / judged if judged else None,
        sum(one.hints_min for one in went) / len(went),
        sum(sure) / len(sure) if sure else None,
    )


def trend_of(went: Sequence[Went]) -> Trend:
    """Whether what is judged wrongly became less, by the last ten exercises against those before.

    One-sided test of two shares with a pooled variance, so that of twenty who do not change one seems to.
    Source: NIST/SEMATECH handbook, 7.3.3.
    """
    before, recent = went[:-RECENT], went[-RECENT:]
    counts = [(sum(len(one.misread) for one in some), sum(one.judged for one in some)) for some in (before, recent)]
    (wrong, judged), (wrong_now, judged_now) = counts
    if len(before) < RECENT or not judged or not judged_now:
        return "too few"
    pooled = (wrong + wrong_now) / (judged + judged_now)
    spread = math.sqrt(pooled * (1 - pooled) * (1 / judged + 1 / judged_now))
    fell = wrong / judged - wrong_now / judged_now
    if not spread or abs(fell) <= SURE * spread:
        return "not told apart"
    return "better" if fell > 0 else "worse"


def hardest(went: Iterable[Went], most: int = 5) -> dict[str, tuple[tuple[str, int], ...]]:
    """What goes wrong most often: signs misread, faults not named, hazards missed, complaints that cost most."""
    all_of = list(went)
    lost: Counter[str] = Counter()
    for one in all_of:
        lost[one.symptom] += round(max(one.lost_min.get("check", 0.0), 0.0))
    counted = {
        "misread": Counter(check for one in all_of for check in one.misread),
        "not named": Counter(fault for one in all_of for fault in one.faults if fault not in one.concluded),
        "hazards": Counter(hazard for one in all_of for hazard in one.safety),
        "order": +lost,
    }
    ordered = {what: sorted(some.items(), key=lambda item: (-item[1], item[0])) for what, some in counted.items()}
    return {what: tuple(some[:most]) for what, some in ordered.items()}
