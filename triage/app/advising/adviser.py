"""Who says what the reasoning makes of a session. A session runs without: advice changes no step."""

from collections.abc import Iterator
from typing import Protocol

from triage.app.advising.advice import advice, turning_point
from triage.app.advising.costs import repair_advice
from triage.app.advising.own_route import own_route
from triage.knowledge.models import Knowledge
from triage.record.events import (
    CheckAnswered,
    CheckNotDone,
    ConclusionReached,
    Event,
    FactCorrected,
    OwnRouteEnded,
    ReadingTaken,
    RenewalTold,
)
from triage.session.commands import Advise, Command
from triage.session.state import State

ENDS = (ConclusionReached, OwnRouteEnded, RenewalTold)
"""After these the conclusion is weighed."""
TURNING = (CheckAnswered, ReadingTaken, CheckNotDone, FactCorrected)
"""After these it is said where checks pay no more, or again."""
Happened = tuple[Event, ...]


class Standing(Protocol):
    """A session that goes on with each command that is carried out."""

    @property
    def knowledge(self) -> Knowledge:
        """What it uses."""

    @property
    def state(self) -> State:
        """Where it stands."""


class Adviser(Protocol):
    """Says what is to be recorded of the reasoning."""

    def follow(self, happened: Happened, session: Standing, at_ms: int) -> Iterator[Command]:
        """What follows at once on what has just happened; each command is carried out before the next is asked for."""

    def turns(self, happened: Happened, session: Standing) -> bool:
        """Whether checks may have come to pay no more, or again, so that `turned` is to be asked soon."""

    def turned(self, session: Standing, at_ms: int) -> Advise | None:
        """The advice where they have; None otherwise."""


class AtConclusions:
    """Weighs conclusions, and takes a route of the session's own: enough where nobody works, as for recorded cases."""

    def follow(self, happened: Happened, session: Standing, at_ms: int) -> Iterator[Command]:
        """An own route where a tree ends for want of a check; then what a conclusion is worth, and its repairs."""
        if session.state.concluded and _one_of(happened, ConclusionReached):
            route = own_route(session.knowledge, session.state, at_ms)
            if route:
                yield route
        if _weighed(happened, session):
            yield advice(session.knowledge, session.state, at_ms)
            yield repair_advice(session.knowledge, session.state, at_ms)

    def turns(self, happened: Happened, session: Standing) -> bool:
        """Nobody is told."""
        del happened, session
        return False

    def turned(self, session: Standing, at_ms: int) -> Advise | None:
        """Nobody is told."""
        del session, at_ms
        return None


class AllAlong(AtConclusions):
    """Says at each answer, too, where checks have come to pay no more, or again."""

    def turns(self, happened: Happened, session: Standing) -> bool:
        """After an answer that came to no conclusion, as long as anything is searched for."""
        return session.state.stage == "finding" and _one_of(happened, *TURNING) and not _weighed(happened, session)

    def turned(self, session: Standing, at_ms: int) -> Advise | None:
        """The advice where checks have come to pay no more, or again."""
        return turning_point(session.knowledge, session.state, at_ms)


def _weighed(happened: Happened, session: Standing) -> bool:
    searching = session.state.stage == "finding" and session.state.concluded is not None
    return searching and _one_of(happened, *ENDS)


def _one_of(happened: Happened, *kinds: type[Event]) -> bool:
    return any(isinstance(event, kinds) for event in happened)
