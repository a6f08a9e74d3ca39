"""How exercises went over weeks, for whoever made them: figures with a bar each, and what comes hardest."""

from dataclasses import asdict
from html import escape
from typing import TYPE_CHECKING, Any, Final

from triage.practice.weeks.overview import JobSeen, Overview
from triage.practice.weeks.progress import RECENT, Week, hardest, trend_of, weeks_of
from triage.present.cleaning import clean_line
from triage.present.shapes import PROOFS

if TYPE_CHECKING:
    from collections.abc import Sequence

    from triage.knowledge.models import Knowledge
    from triage.practice.weeks.overview import LearnerSeen
    from triage.practice.weeks.went import Went

BAR: Final = 20
"""Columns of the longest bar."""
TRENDS: Final = {
    "better": f"You misjudge less in your last {RECENT} exercises than before; so much is chance once in twenty.",
    "worse": f"You misjudge more in your last {RECENT} exercises than before.",
    "not told apart": f"Your last {RECENT} exercises cannot be told from those before.",
    "too few": f"Whether you misjudge less can be said from {2 * RECENT} exercises on.",
}
HEADS: Final = {
    "misread": "Most often taken for something else",
    "not named": "Faults most often not named",
    "hazards": "Hazards most often missed",
    "order": "Minutes lost by the order of checks",
}


def progress_lines(knowledge: "Knowledge", who: str, went: "Sequence[Went]") -> tuple[str, ...]:
    """One learner's exercises, week by week."""
    if not went:
        return (f"No exercise of {clean_line(who)} has come to its debrief yet. Begin one: triage practice",)
    weeks = weeks_of(went)
    most = max(week.lost_min for week in weeks)
    count = f"{len(went)} {'exercise' if len(went) == 1 else 'exercises'}"
    return (
        f"PRACTICE of {clean_line(who)}: {count}",
        "",
        "Minutes lost an exercise, beside the reference (shorter is better):",
        *(week_line(week, most) for week in weeks),
        "",
        TRENDS[trend_of(went)],
        *(line for what, some in hardest(went).items() for line in _hard_lines(knowledge, what, some)),
    )


def week_line(week: Week, most: float) -> str:
    """A week with its bar."""
    bar = "#" * max(round(BAR * week.lost_min / most) if most > 0 else 0, 0)
    misread = "" if week.misread is None else f", {week.misread:.0%} misjudged"
    sure = "" if week.brier is None else f", beliefs off by {week.brier:.2f}"
    told = f"{week.exercises} made, {week.safety:.1f} safety errors{misread}{sure}, hints {week.hints_min:.0f} min"
    return f"  {week.year}-W{week.number:02} {week.lost_min:6.0f} min {bar:<{BAR}} {told}"


def _hard_lines(knowledge: "Knowledge", what: str, some: "Sequence[tuple[str, int]]") -> tuple[str, ...]:
    if not some:
        return ()
    rows = (f"  {count:4} {clean_line(named(knowledge, name))}" for name, count in some)
    return ("", f"{HEADS[what]}:", *rows)


def named(knowledge: "Knowledge", name: str) -> str:
    """A check, a fault, a hazard or a complaint in words."""
    for things in (knowledge.checks, knowledge.causes, knowledge.trees):
        if name in things:
            return str(things[name].name)
    return knowledge.hazards[name].harm if name in knowledge.hazards else name


def progress_json(who: str, went: "Sequence[Went]") -> dict[str, Any]:
    """The same as data."""
    return {
        "who": who,
        "exercises": len(went),
        "trend": trend_of(went),
        "weeks": [asdict(week) for week in weeks_of(went)],
        "hardest": {what: dict(some) for what, some in hardest(went).items()},
    }


def overview_lines(knowledge: "Knowledge", seen: Overview) -> tuple[str, ...]:
    """Learners by week and complaint, then the jobs that want something."""
    learners = [line for one in seen.learners for line in ("", *_learner_lines(knowledge, one))]
    jobs = [f"  {_job_line(knowledge, one)}" for one in seen.jobs] or ["  none"]
    return (
        "LEARNERS (practice only; minutes lost beside the reference)",
        *(learners or ["  none has come to a debrief"]),
        "",
        f"JOBS that are open, pending, not cured or came back ({seen.closed} closed in all)",
        *jobs,
    )


def _learner_lines(knowledge: "Knowledge", one: "LearnerSeen") -> tuple[str, ...]:
    most = max(week.lost_min for week in one.weeks)
    means = "; ".join(f"{named(knowledge, symptom)} {lost:.0f} min" for symptom, lost in one.lost_min.items())
    return (
        f"{clean_line(one.who)}: {one.exercises} made; judges {one.trend}; by complaint: {means}",
        *(week_line(week, most) for week in one.weeks),
    )


def _job_line(knowledge: "Knowledge", one: JobSeen) -> str:
    told = [one.now, PROOFS.get(one.proof, ""), "came back" if one.comeback else ""]
    job, symptom = clean_line(one.job), clean_line(named(knowledge, one.symptom))
    return f"{one.day}  {clean_line(one.session)}  {job}  {symptom}: {', '.join(word for word in told if word)}"


def overview_json(seen: Overview) -> dict[str, Any]:
    """The same as data; days as ISO 8601."""
    jobs = [{**asdict(one), "day": one.day.isoformat()} for one in seen.jobs]
    return {"learners": [asdict(one) for one in seen.learners], "jobs": jobs, "closed": seen.closed}


def overview_page(lines: "Sequence[str]") -> str:
    """The lines as a page that loads nothing, runs nothing and prints as it stands."""
    policy = "default-src 'none'; style-src 'unsafe-inline'"
    text = escape("\n".join(lines))
    return (
        '<!doctype html>\n<html lang="en"><head><meta charset="utf-8"><title>Overview of the shop</title>\n'
        f'<meta http-equiv="Content-Security-Policy" content="{policy}">\n'
        '<meta name="viewport" content="width=device-width"><style>pre{white-space:pre-wrap}</style></head>\n'
        f"<body><main><h1>Overview of the shop</h1><pre>{text}</pre></main></body></html>\n"
    )
