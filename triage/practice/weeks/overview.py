"""What a foreman sees: learners by week, and the jobs of the shop; nothing of a trace but what its ends tell."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import Literal

from triage.practice.weeks.progress import Trend, Week, trend_of, weeks_of
from triage.practice.weeks.went import Went


@dataclass(frozen=True)
class JobSeen:
    """A saved job, as its first and last line tell it.

    Args:
        session: its name.
        job: the job reference.
        symptom: what it began with.
        day: when its last line was written.
        now: open, paused or closed.
        proof: what is proved of its complaint; "" where nothing is said.
        comeback: whether an earlier session of the same job was closed before it.
    """

    session: str
    job: str
    symptom: str
    day: date
    now: Literal["open", "paused", "closed"]
    proof: str
    comeback: bool = False


@dataclass(frozen=True)
class LearnerSeen:
    """One learner's exercises.

    Args:
        who: the name, or a number where names are masked.
        exercises: how many.
        trend: whether less is misjudged than before.
        lost_min: mean of what was lost, by complaint [min].
        weeks: the same over weeks.
    """

    who: str
    exercises: int
    trend: Trend
    lost_min: dict[str, float]
    weeks: tuple[Week, ...]


@dataclass(frozen=True)
class Overview:
    """Learners and jobs.

    Args:
        learners: by name.
        jobs: those that are not closed, those with a proof pending or not cured, and comebacks.
        closed: how many are closed.
    """

    learners: tuple[LearnerSeen, ...]
    jobs: tuple[JobSeen, ...]
    closed: int


def overview_of(
    went: Sequence[Went], jobs: Sequence[JobSeen], since: date | None = None, *, masked: bool = False
) -> Overview:
    """Gather learners and jobs.

    Args:
        went: exercises that came to their debrief.
        jobs: every saved job.
        since: what is older is left out; all where None.
        masked: whether learners are numbered in the place of their names.
    """
    recent = [one for one in went if since is None or one.day >= since]
    names = sorted({one.who for one in recent})
    learners = [
        _learner(f"learner {number}" if masked else name, [one for one in recent if one.who == name])
        for number, name in enumerate(names, 1)
    ]
    seen = [one for one in _with_comebacks(jobs) if since is None or one.day >= since]
    wanting = ("not-provable", "not-cured")
    kept = tuple(one for one in seen if one.now != "closed" or one.comeback or one.proof in wanting)
    return Overview(tuple(learners), kept, sum(one.now == "closed" for one in seen))


def _learner(who: str, went: Sequence[Went]) -> LearnerSeen:
    by_symptom: dict[str, list[float]] = {}
    for one in went:
        by_symptom.setdefault(one.symptom, []).append(one.total_min)
    means = {symptom: sum(lost) / len(lost) for symptom, lost in sorted(by_symptom.items())}
    return LearnerSeen(who, len(went), trend_of(went), means, weeks_of(went))


def _with_comebacks(jobs: Sequence[JobSeen]) -> list[JobSeen]:
    """The same jobs, the first one first; one whose job was closed before in another session is a comeback."""
    closed: set[str] = set()
    seen = []
    for one in sorted(jobs, key=lambda each: (each.day, each.session)):
        again = bool(one.job) and one.job in closed
        seen.append(JobSeen(one.session, one.job, one.symptom, one.day, one.now, one.proof, again))
        if one.now == "closed":
            closed.add(one.job)
    return seen
