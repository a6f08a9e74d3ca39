"""Asks the reasoning what a session's findings make likely and which checks are worth it, as rounded figures.

The reasoning is loaded when it is first asked: numbers in rows are slow to load, and a session begins without them.
"""

from typing import TYPE_CHECKING, Literal

from triage.app.advising.known import found_in, shifts_in
from triage.app.advising.worthwhile import meanwhile_now, worth_now
from triage.knowledge.models import Knowledge
from triage.record.counsel import REASONING, LikelyCause, Outlook, Reason, UnlikelyCause
from triage.session.commands import Advise
from triage.session.state import State

if TYPE_CHECKING:
    from triage.reasoning.advice.ranking import Ranking

MOST_CAUSES = 5
"""How many causes are explained, besides those of a conclusion."""
MOST_CHECKS = 5
"""How many checks are recorded, the best for their minutes."""
CLEARLY = 10.0**0.5
"""A cause is clearly likelier than another from this ratio of their odds on. Source: after Jeffreys, from memory."""
HARDLY = 0.01
"""Probability below which a cause is told as ruled out, or nearly; a judgement, from memory."""
Asked = Literal["", "likely", "worth", "tell"]
Stands = Literal["", "carried", "not-carried", "contradicted", "at-odds"]


def advice(knowledge: Knowledge, state: State, at_ms: int, asked: Asked = "") -> Advise:
    """What the findings so far make likely, and which checks are worth their minutes, as a command."""
    causes, unlisted = _explained(knowledge, state, len(knowledge.causes))
    checks, pays = worth_now(knowledge, state)
    stood_by = state.concluded.causes if state.concluded else ()
    likely = tuple(one for at, one in enumerate(causes) if at < MOST_CAUSES or one.cause in stood_by)
    return Advise(
        at_ms=at_ms,
        who=REASONING,
        likely=likely,
        unlisted=unlisted,
        checks=checks[:MOST_CHECKS],
        pays=pays,
        stands=_stands(state, likely),
        asked=asked,
        unlikely=_unlikely(knowledge, tuple(one for one in causes if one not in likely)),
        meanwhile=meanwhile_now(knowledge, state)[:MOST_CHECKS],
        about=state.step.check if asked == "tell" else "",
        outlooks=outlooks_now(knowledge, state) if asked == "tell" else (),
    )


def looked_at(knowledge: Knowledge, reason: Reason) -> bool:
    """Whether somebody looked: what is asked, what was complained of and how far it was driven rule out nothing."""
    return bool(reason.check) and not reason.circumstance and knowledge.checks[reason.check].way != "ask"


def _unlikely(knowledge: Knowledge, causes: tuple[LikelyCause, ...]) -> tuple[UnlikelyCause, ...]:
    """Those of the causes that are ruled out, or nearly, each by the look that speaks most against it."""
    told = []
    for one in causes:
        looks = (reason for reason in one.reasons if looked_at(knowledge, reason))
        most = min(looks, key=lambda reason: reason.factor, default=None)
        if most and one.probability < HARDLY and most.factor <= 1 / CLEARLY:
            told.append(UnlikelyCause(cause=one.cause, probability=one.probability, before=one.before, against=most))
    return tuple(told)


def turning_point(knowledge: Knowledge, state: State, at_ms: int) -> Advise | None:
    """The advice where checks have just come to pay no more, or to pay again; None where that is as it was said."""
    if state.stage != "finding":
        return None
    _, pays = worth_now(knowledge, state)
    said_enough = state.counsel is not None and state.counsel.pays is False
    return advice(knowledge, state, at_ms) if pays == said_enough else None


def likely_now(knowledge: Knowledge, state: State, most: int = MOST_CAUSES) -> tuple[LikelyCause, ...]:
    """The likeliest causes after the findings made before any repair, and what speaks for and against each."""
    return _explained(knowledge, state, most)[0]


def _explained(knowledge: Knowledge, state: State, most: int) -> tuple[tuple[LikelyCause, ...], float | None]:
    from triage.reasoning.advice.ranking import explained

    concluded = state.concluded.causes if state.concluded else ()
    found, shifts = found_in(state), shifts_in(knowledge, state)
    ranking = explained(knowledge, state.symptom, found, state.pulley, most, concluded, shifts)
    return ranking.likely, ranking.unlisted


def _stands(state: State, likely: tuple[LikelyCause, ...]) -> Stands:
    """How findings and conclusion go together: carried from the probability at which putting a cause right pays."""
    if state.concluded is None:
        return ""
    if not likely:
        return "at-odds"
    stood_by = [one for one in likely if one.cause in state.concluded.causes]
    if not stood_by:
        return ""
    if any(one.probability >= state.weights.pays_from(one.cause) for one in stood_by):
        return "carried"
    top, best = likely[0], max(stood_by, key=lambda one: one.probability)
    clearly = top.probability * (1 - best.probability) >= CLEARLY * best.probability * (1 - top.probability)
    return "contradicted" if clearly and top.probability >= state.weights.pays_from(top.cause) else "not-carried"


def ranking_now(knowledge: Knowledge, state: State) -> tuple[tuple[str, float], ...]:
    """Every cause that the vehicle can have, with the probability that it made the complaint, the likeliest first."""
    return tuple((one.cause, one.probability) for one in ranked_now(knowledge, state).likely)


def ranked_now(knowledge: Knowledge, state: State) -> "Ranking":
    """The same with whether each is there, and with what is not listed."""
    from triage.reasoning.advice.ranking import ranked

    return ranked(knowledge, state.symptom, found_in(state), state.pulley, shifts_in(knowledge, state))


def outlooks_now(knowledge: Knowledge, state: State) -> tuple[Outlook, ...]:
    """What each outcome of the check on screen would do to the ranking."""
    from triage.reasoning.advice.outcomes_ahead import outlooks

    check, shifts = state.step.check, shifts_in(knowledge, state)
    return outlooks(knowledge, state.symptom, found_in(state), state.pulley, check, shifts) if check else ()
