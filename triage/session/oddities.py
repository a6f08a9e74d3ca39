"""What is odd about a session, said before it is signed off: nothing of it is blocked, all of it is said."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from triage.knowledge.models import Knowledge
from triage.session.state import Finding, State

HASTY = 0.1
"""Share of a check's minutes within which no hand has done it. From memory."""
Kind = Literal["against", "close", "other-way", "part-left", "no-torque", "hasty", "quick"]


@dataclass(frozen=True)
class Oddity:
    """One thing that is odd: of which check, part or fastener, and how many."""

    kind: Kind
    about: str = ""
    number: int = 0


def oddities(knowledge: Knowledge, state: State) -> tuple[Oddity, ...]:
    """Everything that is odd, the weightiest first."""
    return tuple(_odd(knowledge, state))


def _odd(knowledge: Knowledge, state: State) -> Iterator[Oddity]:
    if state.concluded and state.counsel and state.counsel.stands in ("not-carried", "contradicted", "at-odds"):
        yield Oddity("against")
    close = dict.fromkeys((*(state.concluded.close_calls if state.concluded else ()), *_unsettled(state)))
    yield from (Oddity("close", check) for check in close)
    both = ((state.findings[check], now) for check, now in state.after.items() if check in state.findings)
    yield from (Oddity("other-way", now.check) for before, now in both if before.said and before.way != now.way)
    yield from (Oddity("part-left", part.part) for part in state.parts_done if part.done == "left")
    yield from (Oddity("no-torque", torque.torque) for torque in state.torques_done if torque.value_nm is None)
    hasty = [one for one in (*state.findings.values(), *state.after.values()) if _is_hasty(knowledge, one)]
    if hasty:
        yield Oddity("hasty", hasty[0].check, len(hasty))
    if state.quick:
        yield Oddity("quick", number=state.quick)


def _unsettled(state: State) -> Iterator[str]:
    return (one.check for one in state.after.values() if one.verdict and not one.verdict.settled)


def _is_hasty(knowledge: Knowledge, finding: Finding) -> bool:
    check = knowledge.checks[finding.check]
    by_hand = check.way in ("feel", "measure")
    return by_hand and 0 < finding.took_ms < check.minutes * 60_000 * HASTY
