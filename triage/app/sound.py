"""How far a trace can be trusted: whether it can be told, and whether somebody may work on from it."""

from collections.abc import Sequence
from itertools import islice
from pathlib import Path
from typing import NamedTuple

from triage.errors import TraceDamaged, TraceUnsafe
from triage.knowledge.holds_together import flaws
from triage.knowledge.models import Knowledge
from triage.record.events import Event, RulesInstalled, SessionStarted
from triage.session.audit import Names, Objection, objections

ORIGINAL = "Ask for the original; nothing in it was changed."
_READ_ONLY = (
    "Look at it with triage show, and start a new session for this vehicle. triage verify names every such line."
)
MOST_TOLD = 100
"""One line that was taken out can make many others impossible; so many are told."""


class Told(NamedTuple):
    """How far a trace can be told.

    Args:
        knowledge: what travels in it, under the interlocks that were installed last.
        lines: how many of its lines can be told.
        stranger: what is wrong with the next one; "" where nothing is.
    """

    knowledge: Knowledge
    lines: int
    stranger: str


def told(events: Sequence[Event], path: Path) -> Told:
    """See how far a trace can be told.

    Raises:
        TraceDamaged: it does not begin with the start of a session, or its knowledge does not hold together.
    """
    if not events or not isinstance(events[0], SessionStarted):
        raise TraceDamaged(f"{path.name} does not begin with the start of a session.", "Choose another trace.")
    knowledge = events[0].knowledge
    flaw = next(flaws(knowledge), "")
    if flaw:
        raise TraceDamaged(f"{path.name} is damaged. The knowledge in line 1 does not hold together: {flaw}", ORIGINAL)
    names = Names(knowledge)
    for line, event in enumerate(events, 1):
        if isinstance(event, RulesInstalled):
            knowledge = knowledge.under(event.interlocks)
            names = Names(knowledge)
        stranger = next(names.strangers(event), "")
        if stranger:
            return Told(knowledge, line - 1, f"Line {line} names {stranger}, which its knowledge does not hold.")
    return Told(knowledge, len(events), "")


def knowledge_of(events: Sequence[Event], path: Path) -> Knowledge:
    """The knowledge that travels in a trace of which everything can be told.

    Raises:
        TraceDamaged: it does not begin with the start of a session, its knowledge does not hold together, or an event
            names what is not in it.
    """
    knowledge, _, stranger = told(events, path)
    if stranger:
        raise TraceDamaged(f"{path.name} is damaged. {stranger}", ORIGINAL)
    return knowledge


def refuse_unsafe(events: Sequence[Event], path: Path) -> None:
    """Let nobody work on from a trace that this program could not have written.

    Raises:
        TraceUnsafe: it can be read only; the message names the first line.
    """
    first = next(objections(events), None)
    if first:
        raise TraceUnsafe(f"{path.name} can be read, and cannot be gone on with. {first.reason}", _READ_ONLY)


def unsafe_notices(events: Sequence[Event]) -> tuple[str, ...]:
    """What whoever reads a trace is told first, where nobody may work on from it."""
    first = next(objections(events), None)
    return (f"This session can be read, and cannot be gone on with. {first.reason}",) if first else ()


def told_objections(events: Sequence[Event]) -> tuple[Objection, ...]:
    """The objections against a trace, as many as are told."""
    return tuple(islice(objections(events), MOST_TOLD))
