"""What a page that a person asks for reads: what is recorded, else what the reasoning makes of the findings now."""

from collections.abc import Mapping
from dataclasses import replace
from types import MappingProxyType
from typing import Final, NamedTuple

from triage.app.advising.advice import Asked, advice, likely_now, outlooks_now
from triage.app.advising.costs import costs_now
from triage.knowledge.models import Knowledge
from triage.record.payloads import Counsel
from triage.session.commands import Advise
from triage.session.state import State

ASKED: Final[Mapping[str, Asked]] = MappingProxyType({"likely": "likely", "worth": "worth", "tell": "tell"})
"""Words whose pages show advice."""


class Reading(NamedTuple):
    """The state as a page reads it, and the advice to record because it shows it; None where nothing is to be kept."""

    state: State
    record: Advise | None = None


def reading_of(knowledge: Knowledge, state: State, word: str, at_ms: int) -> Reading:
    """What the page of a word reads.

    Args:
        knowledge: what the session uses.
        state: where it stands.
        word: what names the page.
        at_ms: now.
    """
    asked = ASKED.get(word)
    if word == "costs" and not state.concluded and state.closed != "turned-away":
        return Reading(replace(state, costs=costs_now(knowledge, state)))
    if asked is None or _is_kept(state, asked):
        return Reading(state)
    if state.stage != "finding":
        return Reading(_with_what_is_not_recorded(knowledge, state, asked))
    given = advice(knowledge, state, at_ms, asked)
    return Reading(replace(state, counsel=given, fresh=True), given)


def _is_kept(state: State, asked: Asked) -> bool:
    """Whether the last advice says what the page shows; there is nothing to keep of a step without a check."""
    if asked != "tell":
        return state.fresh
    about = state.counsel.about if state.counsel and state.fresh else ""
    return state.step.check in ("", about)


def _with_what_is_not_recorded(knowledge: Knowledge, state: State, asked: Asked) -> State:
    """Where the search is over, nothing is recorded any more, and a conclusion has its own advice."""
    if asked == "tell":
        told = Counsel(likely=(), about=state.step.check, outlooks=outlooks_now(knowledge, state))
        return replace(state, counsel=told, fresh=True)
    if asked == "likely" and not state.concluded and state.closed != "turned-away":
        return replace(state, counsel=Counsel(likely=likely_now(knowledge, state)), fresh=True)
    return state
