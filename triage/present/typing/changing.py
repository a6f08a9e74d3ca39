"""What happened at the vehicle that nobody asked about, in numbered words; and that somebody is alone."""

from triage.errors import CommandRefused
from triage.knowledge.models import Ending, Knowledge
from triage.present.said.safety import CHANGED
from triage.present.typing.correcting import Stamp
from triage.present.typing.results import Ask, Result
from triage.session import commands as c
from triage.session.state import State

CHOICES: tuple[Ending, ...] = (
    "driven",
    "lifted",
    "brake-touched",
    "joined",
    "key-left",
    "key-found",
    "ignition-on",
    "turned",
    "lead-on",
    "lead-off",
    "belt-moved",
    "hands-in",
    "left-seat",
    "another-bay",
)


def something_changed(_knowledge: Knowledge, _state: State, stamp: Stamp, rest: tuple[str, ...]) -> Result:
    """What has happened, by number."""
    at_ms, who = stamp
    if not rest:
        rows = (f"{number} {CHANGED[one]}" for number, one in enumerate(CHOICES, 1))
        return Ask("\n".join(("What has happened? Its number.", *rows)))
    said = rest[0].strip()
    if not (said.isascii() and said.isdecimal() and 1 <= int(said[:4]) <= len(CHOICES)):
        raise CommandRefused("That is none of these.", f"Type a number from 1 to {len(CHOICES)}.")
    return c.SayChanged(at_ms=at_ms, who=who, what=CHOICES[int(said) - 1])


def alone_said(_knowledge: Knowledge, state: State, stamp: Stamp, _rest: tuple[str, ...]) -> Result:
    """Nobody else is there; said once more, somebody came."""
    at_ms, who = stamp
    return c.SayAlone(at_ms=at_ms, who=who, alone=not state.alone)


def engine_off(_knowledge: Knowledge, _state: State, stamp: Stamp, _rest: tuple[str, ...]) -> Result:
    """The engine is off and all is still."""
    at_ms, who = stamp
    return c.EndRun(at_ms=at_ms, who=who)
