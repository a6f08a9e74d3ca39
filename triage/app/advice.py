"""Asks the reasoning what a session's findings make likely, and hands it to the session as rounded figures.

The reasoning is loaded when it is first asked: numbers in rows are slow to load, and a session begins without them.
"""

from typing import TYPE_CHECKING

from triage.knowledge.models import Knowledge
from triage.session.commands import Advise
from triage.session.events import LikelyCause, Reason
from triage.session.state import State

if TYPE_CHECKING:
    from triage.reasoning.evidence import Found
    from triage.reasoning.outlook import Prospect
    from triage.reasoning.ranking import Likely

MOST_CAUSES = 5
"""How many causes are explained, besides those of a conclusion."""
PLACES = 4
WHO = "reasoning"
"""From whom advice is in a trace."""


def advice(knowledge: Knowledge, state: State, at_ms: int) -> Advise:
    """What the findings so far make likely, as a command."""
    return Advise(at_ms=at_ms, who=WHO, likely=likely_now(knowledge, state))


def likely_now(knowledge: Knowledge, state: State) -> tuple[LikelyCause, ...]:
    """The likeliest causes after the findings made before any repair, and what each finding does to them."""
    from triage.reasoning.ranking import explained

    concluded = state.concluded.causes if state.concluded else ()
    return tuple(
        LikelyCause(
            cause=one.cause,
            probability=round(one.probability, PLACES),
            before=one.before,
            reasons=tuple(Reason(check=why.check, factor=float(f"{why.factor:.3g}")) for why in one.reasons),
        )
        for one in explained(knowledge, state.symptom, _found(state), state.pulley, MOST_CAUSES, concluded)
    )


def ranking_now(knowledge: Knowledge, state: State) -> tuple[tuple[str, float], ...]:
    """Every cause that the vehicle can have with its probability after the findings so far, the likeliest first."""
    return tuple((one.cause, round(one.probability, PLACES)) for one in ranked_now(knowledge, state))


def ranked_now(knowledge: Knowledge, state: State) -> "tuple[Likely, ...]":
    """The same with base rates and in full figures."""
    from triage.reasoning.ranking import ranked

    return ranked(knowledge, state.symptom, _found(state), state.pulley)


def prospects_now(knowledge: Knowledge, state: State, check_id: str) -> "dict[str, Prospect]":
    """What each outcome of a check would do to the ranking, by outcome."""
    from triage.reasoning.outlook import prospects

    expected = prospects(knowledge, state.symptom, _found(state), state.pulley, check_id)
    return {one.outcome: one for one in expected}


def _found(state: State) -> "list[Found]":
    from triage.reasoning.evidence import Found

    return [
        Found(finding.check, finding.outcomes, finding.verdict.probabilities if finding.verdict else ())
        for finding in state.findings.values()
    ]
