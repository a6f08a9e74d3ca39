"""Whether a case made of a session comes to what the session came to, before anybody keeps it.

A session may be on a route of its own, judged by a shop's instruments, or recorded along trees that have changed since.
"""

import json
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from triage.app.advising.adviser import Adviser
from triage.app.cases import Case, walk_case
from triage.errors import CommandRefused
from triage.knowledge.models import Knowledge
from triage.record.readings import AccuracyUsed
from triage.session.state import State


@dataclass(frozen=True)
class Difference:
    """What differs: a check with what it came to, or the conclusion where `check` is empty; None: not reached."""

    check: str
    in_session: tuple[str, ...] | None
    in_case: tuple[str, ...] | None


def differences(
    knowledge: Knowledge,
    case: dict[str, Any],
    session: State,
    accuracies: dict[str, AccuracyUsed],
    adviser: Adviser | None = None,
) -> tuple[Difference, ...]:
    """Walk the case and say what comes out otherwise than in its session; nothing where all is the same.

    Args:
        knowledge: by which cases are walked, which may be newer than the session's.
        case: as data.
        session: where the session stands.
        accuracies: of the instruments.
        adviser: says what the reasoning makes of it.

    Raises:
        CommandRefused: a case cannot tell this session at all.
    """
    if session.symptom not in knowledge.trees:
        raise CommandRefused("There is no tree for this complaint any more.", "triage show still shows the session.")
    if any("" in found.outcomes for found in session.findings.values()):
        raise CommandRefused("A reading was too close to tell, and a case has no word for that.", "Write it by hand.")
    _, job = walk_case(knowledge, Case.model_validate_json(json.dumps(case)), accuracies, adviser=adviser)
    return tuple(_unlike(session, job.state))


def _unlike(session: State, walked: State) -> Iterator[Difference]:
    for check in dict.fromkeys((*session.findings, *walked.findings)):
        one, other = (state.findings.get(check) for state in (session, walked))
        if one is None or other is None or set(one.outcomes) != set(other.outcomes):
            yield Difference(check, one.outcomes if one else None, other.outcomes if other else None)
    ends = tuple(_end(state) for state in (session, walked))
    if ends[0] != ends[1]:
        causes = (state.concluded.causes if state.concluded else None for state in (session, walked))
        yield Difference("", *causes)


def _end(state: State) -> tuple[frozenset[str], str] | None:
    """What was concluded; how it is called matters where no cause is named."""
    ended = state.concluded
    return (frozenset(ended.causes), "" if ended.causes else ended.end) if ended else None
