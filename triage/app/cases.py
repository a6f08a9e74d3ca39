"""Recorded cases: what was found at vehicles, walked without a person.

A case is compiled to the same commands that a face gives, one for each step the session asks: every interlock is
confirmed, a check that is not listed has its normal outcome, what a missing tool closes cannot be done.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING

from pydantic import Field, RootModel

from triage.app.advising.advice import ranked_now
from triage.app.advising.adviser import Adviser
from triage.app.advising.own_route import Planner
from triage.app.case_vehicle import YES_OR_NO, Vehicle, complaints_about, fact_of
from triage.app.counting import (
    Counts,
    confirmations,
    engine_starts,
    minutes_of_checks,
    minutes_with_changes,
    rest_of_job,
)
from triage.app.job import Job, start
from triage.app.opening import Opening
from triage.app.respondent import Asked, Respondent
from triage.documents import Document, Model, build
from triage.documents.reading import read_document
from triage.errors import CommandRefused, DocumentFaulty, Fault, QuantityRefused, QuantityUnclear
from triage.knowledge.models import Check, Id, Knowledge, Way
from triage.knowledge.nearest import nearest
from triage.knowledge.vehicle import FACTS
from triage.record.counsel import LikelyCause
from triage.record.readings import AccuracyUsed, TypedPart
from triage.session import commands as c
from triage.session.judging import judged
from triage.session.state import Finding, State
from triage.units import parse_quantity, say_typed

if TYPE_CHECKING:
    from triage.reasoning.advice.ranking import Ranking

SECOND_MS = 1000
MOST_COMMANDS = 2000
"""A case that asks for more than this walks in a circle, which the tree check rules out."""


NOTHING_WRONG = "nothing-wrong"
"""Stands among the causes of a case where that is the end; an empty list agrees with it, and with nothing concluded."""


Told = str | int | float | list[str] | dict[str, str | int | float]
"""An outcome or a reading, several outcomes, or the parts of a reading by name."""


class Case(Model):
    """One recorded case; `cause` lists the causes that would be right, empty where nothing should be concluded."""

    id: str
    symptom: Id
    vehicle: Vehicle = Field(default_factory=Vehicle)
    findings: dict[Id, Told] = Field(default_factory=dict)
    missing_tools: list[Id] = Field(default_factory=list)
    cause: list[Id] | None = None


class Cases(RootModel[tuple[Case, ...]]):
    """A file of cases: one list."""


@dataclass(frozen=True)
class Walked:
    """What came of a case; `likely` are the likeliest causes at its end with their probabilities."""

    id: str
    concluded: tuple[str, ...]
    likely: tuple[LikelyCause, ...]
    checks: tuple[str, ...]
    minutes: float
    agrees: bool | None
    counts: Counts


def read_cases(path: Path, knowledge: Knowledge) -> tuple[Case, ...]:
    """Read a file of cases.

    Raises:
        DocumentFaulty: shape, unknown ids and readings that cannot be understood, all of them with their places.
    """
    document = read_document(path, words=YES_OR_NO)
    cases = build(document, Cases).root
    faults = [fault for index, case in enumerate(cases) for fault in _faults(knowledge, case, document, index)]
    if faults:
        raise DocumentFaulty(tuple(faults))
    return cases


def _faults(knowledge: Knowledge, case: Case, document: Document, index: int) -> Iterator[Fault]:
    for path, message, hint in (*_unknown(knowledge, case), *_not_understood(knowledge, case)):
        yield Fault(document.place((index, *path)), message, hint)


Complaint = tuple[tuple[str | int, ...], str, str]
"""Where in a case something is wrong, what, and what to do."""


def _unknown(knowledge: Knowledge, case: Case) -> Iterator[Complaint]:
    if case.symptom not in knowledge.trees:
        yield ("symptom",), f'There is no tree for "{case.symptom}".', f"Known: {', '.join(knowledge.trees)}."
    for at, cause in enumerate(case.cause or []):
        if cause not in (*knowledge.causes, NOTHING_WRONG):
            yield ("cause", at), f'There is no cause "{cause}".', nearest(cause, knowledge.causes)
    for at, tool in enumerate(case.missing_tools):
        if tool not in knowledge.tools:
            yield ("missing_tools", at), f'There is no tool "{tool}".', nearest(tool, knowledge.tools)
    for check in case.findings:
        if check not in knowledge.checks:
            yield ("findings", check), f'There is no check "{check}".', nearest(check, knowledge.checks)


def _not_understood(knowledge: Knowledge, case: Case) -> Iterator[Complaint]:
    for fact, message, hint in complaints_about(case.vehicle):
        yield ("vehicle", fact), message, hint
    for check_id, found in case.findings.items():
        try:
            if check_id in knowledge.checks:
                _found(knowledge.checks[check_id], found, State())
        except (CommandRefused, QuantityRefused, QuantityUnclear) as error:
            yield ("findings", check_id), error.message, error.hint


Given = tuple[tuple[str, ...], tuple[TypedPart, ...]]
"""Outcomes, or the parts of a reading."""


def _given(check: Check, found: Told) -> Given:
    if isinstance(found, list):
        outcomes = tuple(check.today(one) for one in found)
    elif isinstance(found, dict):
        return (), _typed(check, {part: str(text) for part, text in found.items()})
    else:
        text = check.today(str(found))
        spoken = check.reading.words.get(text.strip().lower()) if check.reading else None
        if check.outcome(text) is None and spoken is None:
            return (), _typed(check, {part.id: text for part in check.reading.parts[:1]} if check.reading else {})
        outcomes = (spoken or text,)
    if not outcomes or any(check.outcome(outcome) is None for outcome in outcomes):
        known = ", ".join(outcome.id for outcome in check.outcomes)
        raise CommandRefused("That is no outcome of this check.", f"Known: {known}.")
    return outcomes, ()


def _typed(check: Check, texts: dict[str, str]) -> tuple[TypedPart, ...]:
    ways = check.reading.ways if check.reading else ()
    way = next((way for way in ways if {part.id for part in way.parts} == set(texts)), None)
    if way is None:
        raise CommandRefused("That is no outcome and no whole reading of this check.", _known(check, ways))
    typed = []
    for part in way.parts:
        quantity = parse_quantity(texts[part.id], part.kind)
        typed.append(TypedPart(part=part.id, value=quantity.value, spread=quantity.spread, text=say_typed(quantity)))
    return tuple(typed)


def _known(check: Check, ways: tuple[Way, ...]) -> str:
    outcomes = ", ".join(outcome.id for outcome in check.outcomes)
    readings = " or ".join("{" + ", ".join(f"{part.id}: …" for part in way.parts) + "}" for way in ways)
    return f"Known: {outcomes}{f'; or a reading {readings}' if readings else ''}."


def walk_case(
    knowledge: Knowledge,
    case: Case,
    accuracies: dict[str, AccuracyUsed],
    planner: Planner | None = None,
    adviser: Adviser | None = None,
) -> tuple[Walked, Job]:
    """Walk one case from the complaint to the conclusion.

    Args:
        knowledge: what the session uses.
        case: what was found.
        accuracies: of the instruments.
        planner: plans a grown route from the complaint on; without one the tree is walked.
        adviser: says what the reasoning makes of it; where none is given, one that speaks at conclusions.

    Returns:
        What came of it, and the session with its events.
    """
    clock = _Clock()
    opening = Opening(symptom=case.symptom, job=case.id, who="case")
    job, recorded = start(knowledge, opening, accuracies, "", clock, None, adviser=adviser), Recorded(case)
    for _ in range(MOST_COMMANDS):
        route = planner.next(knowledge, job.state, clock()) if planner else None
        command = route or recorded.answer(knowledge, job.state, clock())
        if command is None:
            break
        clock.reach(command.at_ms)
        job.do(command)
    minutes = minutes_of_checks(knowledge, job.events)
    return _walked(case, job.state, minutes, _counts(knowledge, job)), job


def _counts(knowledge: Knowledge, job: Job) -> Counts:
    rest = rest_of_job(knowledge, job.state)
    return Counts(
        confirmations(job.events),
        confirmations((*job.events, *rest)),
        engine_starts(job.events),
        minutes_with_changes(knowledge, job.events),
    )


def rank_case(knowledge: Knowledge, case: Case, accuracies: dict[str, AccuracyUsed]) -> "Ranking":
    """Rank the findings of one case without walking: a check that is not listed counts for nothing.

    Returns:
        Every cause that the vehicle can have; none where the findings contradict each other.
    """
    used = {
        tool: AccuracyUsed(relative=one.relative, absolute=one.absolute, source=one.source)
        for tool, one in accuracies.items()
    }
    state = State(symptom=case.symptom, facts=_facts(case), accuracies=used)
    findings = {check: _found(knowledge.checks[check], told, state) for check, told in case.findings.items()}
    return ranked_now(knowledge, replace(state, findings=findings))


def found_of(knowledge: Knowledge, case: Case) -> tuple[dict[str, tuple[str, ...]], dict[str, float]]:
    """What a case found: the outcomes by check, and in SI what was measured."""
    state = State(symptom=case.symptom, facts=_facts(case))
    found = {check: _found(knowledge.checks[check], told, state) for check, told in case.findings.items()}
    values = {check: one.verdict.value for check, one in found.items() if one.verdict}
    return {check: _likeliest(knowledge.checks[check], one) for check, one in found.items()}, values


def _likeliest(check: Check, found: Finding) -> tuple[str, ...]:
    """What was found; of a reading too close to a limit the likelier side."""
    if found.verdict is None or check.reading is None or any(found.outcomes):
        return found.outcomes
    shares = found.verdict.probabilities
    return (check.reading.zones[shares.index(max(shares))].outcome,)


def _facts(case: Case) -> dict[str, str | float | None]:
    """What is told of its vehicle, but its age: a ranking goes by what was found."""
    return {fact: fact_of(case.vehicle, fact) for fact in FACTS if fact != "odometer"}


def facts_of(case: Case) -> tuple[str, float | None]:
    """The specified pulley type of a case, and its odometer [m]."""
    driven_m = fact_of(case.vehicle, "odometer")
    return case.vehicle.specified_pulley, driven_m if isinstance(driven_m, float) else None


def _found(check: Check, told: Told, state: State) -> Finding:
    outcomes, parts = _given(check, told)
    if not parts:
        return Finding(check.id, outcomes, at_ms=0, who="case")
    found = judged(check, state, parts)
    return Finding(check.id, (found.outcome,), at_ms=0, who="case", verdict=found.verdict)


class _Clock:
    """A clock that moves one second for each look."""

    def __init__(self) -> None:
        self._now_ms = 0

    def __call__(self) -> int:
        self._now_ms += SECOND_MS
        return self._now_ms

    def reach(self, at_ms: int) -> None:
        """Move on to a time, never back."""
        self._now_ms = max(self._now_ms, at_ms)


class Recorded(Respondent):
    """Answers as was found at the vehicle of a case, up to its conclusion."""

    who = "case"

    def __init__(self, case: Case) -> None:
        """Take a case."""
        self._case = case

    def told(self, asked: Asked) -> str | float | None:
        """What the case knows of its vehicle."""
        return fact_of(self._case.vehicle, asked.step.fact)

    def found(self, asked: Asked, check: Check) -> c.Command:
        """What the case found, or that all is normal."""
        found = self._case.findings.get(check.id, check.normal(asked.state.pulley))
        outcomes, parts = _given(check, found)
        if parts:
            return c.Read(**asked.given, check=check.id, parts=parts)
        return c.Answer(**asked.given, check=check.id, outcomes=outcomes)

    def to_confirm(self, asked: Asked) -> c.Command | None:
        """Yes, for a check whose tools are there."""
        return self._without_tool(asked) or super().to_confirm(asked)

    def to_set_up(self, asked: Asked) -> c.Command | None:
        """As above."""
        return self._without_tool(asked) or super().to_set_up(asked)

    def to_held(self, asked: Asked) -> c.Command | None:
        """Wait where time alone is lacking; otherwise the check cannot be done."""
        return self._without_tool(asked) or self.waits(asked) or self._cannot(asked)

    def to_check(self, asked: Asked) -> c.Command | None:
        """What was found, where the tools are there."""
        return self._without_tool(asked) or super().to_check(asked)

    def to_blocked(self, asked: Asked) -> c.Command | None:
        """A case ends here too: nobody puts right what it found."""
        del asked
        return None

    def to_conclusion(self, asked: Asked) -> c.Command | None:
        """A case ends here."""
        del asked
        return None

    def _without_tool(self, asked: Asked) -> c.Command | None:
        check = asked.knowledge.checks.get(asked.step.check)
        lacks = check is not None and any(tool in self._case.missing_tools for tool in check.tools)
        return self._cannot(asked) if lacks else None

    def _cannot(self, asked: Asked) -> c.Command:
        return c.CannotDo(**asked.given, check=asked.step.check, reason="tool missing or state not possible")


def _walked(case: Case, state: State, minutes: float, counts: Counts) -> Walked:
    ended = state.concluded
    concluded = (ended.causes or ((NOTHING_WRONG,) if ended.end == NOTHING_WRONG else ())) if ended else ()
    done = tuple(state.findings)
    agrees = None
    if case.cause is not None:
        right = 1 <= len(concluded) <= 2 and set(concluded) <= set(case.cause)
        agrees = right if case.cause else set(concluded) <= {NOTHING_WRONG}
    checks = tuple(check for check in done if state.known[check].outcomes or state.known[check].reason)
    return Walked(case.id, concluded, state.likely, checks, minutes, agrees, counts)
