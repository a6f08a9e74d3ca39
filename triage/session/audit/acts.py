"""What an audit keeps of each act, so that it knows what stands where one is taken back."""

from copy import deepcopy
from dataclasses import dataclass
from typing import Protocol

from triage.knowledge.models import Knowledge, Remedy
from triage.record import events as e
from triage.session.acts import ACTS, ANEW, MOST_ACTS, WITH_IT, about, by_itself, of_closing

_OF_ACTS = ("gate", "facts", "looked_up", "stage", "says", "causes", "left", "layout", "put_right", "told")
"""What an act may have changed of the search and the repair; nothing of what was confirmed is among it."""


@dataclass(frozen=True)
class Kept:
    """An act, and what stood before it."""

    kind: str
    about: tuple[str, ...]
    clock_ms: int
    before: dict[str, object]
    remedies: tuple[str, ...]


class Books(Protocol):
    """Whose acts are kept."""

    knowledge: Knowledge
    acts: list[Kept]
    last: e.Event | None
    remedies: list[Remedy]
    ready: set[str]


def remember(ledger: Books, event: e.Event) -> None:
    """Keep what stands before an act that is no half of the act before."""
    if event.kind not in ACTS or by_itself(event) or _goes_with(ledger, event):
        return
    before = {name: deepcopy(getattr(ledger, name)) for name in _OF_ACTS}
    remedies = tuple(one.id for one in ledger.remedies)
    kept = Kept(event.kind, about(event), event.clock_ms, before, remedies)
    ledger.acts = [*ledger.acts[1 - MOST_ACTS :], kept]


def _goes_with(ledger: Books, event: e.Event) -> bool:
    act, last = ledger.acts[-1] if ledger.acts else None, ledger.last
    if act is None or act.clock_ms != event.clock_ms:
        return False
    if isinstance(event, e.FindingTakenBack):
        return act.kind in WITH_IT
    if of_closing(event):
        return act.kind == e.CheckAnswered.kind
    anew = isinstance(event, e.CheckAnswered | e.FindingTold | e.ReadingTaken) and isinstance(
        last, e.FindingTakenBack | e.ReadingThrownAway
    )
    return anew and act.kind in ANEW and act.about == about(event)


def restore(ledger: Books, event: e.ActUndone) -> None:
    """Take the last act back; what forbids running, and what is to be looked at again, stays so."""
    if not ledger.acts:
        return
    kept = ledger.acts.pop()
    for name, value in kept.before.items():
        setattr(ledger, name, value)
    ledger.remedies = [ledger.knowledge.remedies[one] for one in kept.remedies]
    if kept.kind == e.SetUpFinished.kind:
        ledger.ready -= set(event.about)
