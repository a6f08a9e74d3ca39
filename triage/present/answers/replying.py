"""What is said to an answer: what it changed, why the next thing comes, and what does not go together with it."""

from collections.abc import Iterable, Iterator, Mapping
from typing import TYPE_CHECKING

from triage.app.advising.advice import likely_now
from triage.errors import TooManyAtOnceError
from triage.knowledge.models import Knowledge
from triage.present.pages.why import reasons
from triage.present.steps.coasting import coast_contradictions
from triage.present.steps.findings import say_finding
from triage.present.steps.shares import AT_ODDS, share
from triage.record.events import CheckAnswered, CheckNotDone, Event, FindingTakenBack, FindingTold, ReadingTaken
from triage.session.state import Finding, State

if TYPE_CHECKING:
    from triage.app.job import Job

MOVED = 0.05
"""Change of a probability from which it is told; a judgement, from memory."""
NEXT = ("check", "confirm", "set-up", "run-ready")
"""Kinds of steps that lead to a check, whose reason is told."""
AMEND = '"amend" puts a wrong one right.'
ANSWERS = (CheckAnswered, ReadingTaken, CheckNotDone, FindingTold)
Ranked = Mapping[str, float]


def ranked(knowledge: Knowledge, state: State) -> Ranked:
    """How likely each cause is to have made the complaint."""
    return {one.cause: one.probability for one in likely_now(knowledge, state, len(knowledge.causes))}


def replied(
    knowledge: Knowledge,
    before: State,
    after: State,
    ranks: tuple[Ranked, Ranked] | None,
    put_right: frozenset[str] = frozenset(),
) -> tuple[str, ...]:
    """One line on an answer, and one for each contradiction in it.

    Args:
        knowledge: what the session uses.
        before: where it stood before the answer.
        after: where it stands.
        ranks: how likely the causes were and are; None where nobody is told.
        put_right: the checks that somebody says were answered wrongly before: that is no contradiction.
    """
    changed = _changed(knowledge, *ranks) if ranks and after.stage == "finding" else ""
    line = " ".join(filter(None, (changed, _next(knowledge, before, after))))
    return (*((line,) if line else ()), *_contradictions(knowledge, before, after, ranks, put_right))


def _changed(knowledge: Knowledge, before: Ranked, after: Ranked) -> str:
    """The cause whose likelihood moved most, and how far; that little moved, where nothing did."""
    if not before or not after:
        return ""
    moves = {cause: after.get(cause, 0.0) - before.get(cause, 0.0) for cause in {**before, **after}}
    most = max(moves, key=lambda cause: abs(moves[cause]))
    first = max(after, key=lambda cause: after[cause])
    if abs(moves[most]) < MOVED:
        return f"That changes little: {knowledge.causes[first].name} is the likeliest, {share(after[first])}."
    way = "likelier" if moves[most] > 0 else "less likely"
    was, now = share(before.get(most, 0.0)), share(after.get(most, 0.0))
    changed = f"{knowledge.causes[most].name} is {way}: {was} before, {now} now."
    return (
        changed if most == first else f"{changed} Likeliest now: {knowledge.causes[first].name}, {share(after[first])}."
    )


def _next(knowledge: Knowledge, before: State, after: State) -> str:
    """What comes next, and why; nothing where the same goes on."""
    step, check = after.step, knowledge.checks.get(after.step.check)
    if check is None or step.kind not in NEXT or (before.step.check, before.step.round) == (check.id, step.round):
        return ""
    why = next(iter(reasons(knowledge, after, check)), check.why)
    return f"Next, {check.name}: {why}"


def _contradictions(
    knowledge: Knowledge,
    before: State,
    after: State,
    ranks: tuple[Ranked, Ranked] | None,
    put_right: frozenset[str],
) -> Iterator[str]:
    """A check that came to something else than before, readings that cannot all be right, and findings of no cause."""
    if after.stage != "finding":
        return
    for check_id, now in after.findings.items():
        was, check = before.findings.get(check_id), knowledge.checks[check_id]
        if was is None or check_id in {*before.put_right, *put_right} or not (was.outcomes and now.outcomes):
            continue
        if set(was.outcomes) != set(now.outcomes):
            yield f"{check.name}: {say_finding(check, was)} before, {say_finding(check, now)} now. Which is it? {AMEND}"
    known = {*coast_contradictions(before)}
    yield from (line for line in coast_contradictions(after) if line not in known)
    if ranks and ranks[0] and not ranks[1]:
        yield AT_ODDS


class Replies:
    """What is to be said to the answers since it was last said."""

    def __init__(self, job: "Job") -> None:
        """Have nothing to say."""
        self._job = job
        self._before: State | None = None
        self._put_right: set[str] = set()
        self._ranked: tuple[Mapping[str, Finding], Ranked] | None = None

    def answered(self, before: State, happened: Iterable[Event]) -> None:
        """Know that something was answered; said once for all that came together."""
        happened = tuple(happened)
        if self._before is None and any(isinstance(event, ANSWERS) for event in happened):
            self._before = before
        self._put_right |= {event.check for event in happened if isinstance(event, FindingTakenBack)}

    def said(self) -> tuple[str, ...]:
        """The reply; ranking takes a moment, so that this is asked once the next step is on screen."""
        before, after, put_right = self._before, self._job.state, frozenset(self._put_right)
        self._before, self._put_right = None, set()
        if before is None or after.closed:
            return ()
        ranks = None
        if self._job.advises and after.stage == "finding":
            was = self._ranked[1] if self._ranked and self._ranked[0] is before.findings else None
            try:
                ranks = (was or ranked(self._job.knowledge, before), ranked(self._job.knowledge, after))
            except TooManyAtOnceError:
                ranks = None
            else:
                self._ranked = after.findings, ranks[1]
        return replied(self._job.knowledge, before, after, ranks, put_right)
