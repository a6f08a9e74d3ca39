"""Why the engine is to be switched off now, in words."""

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

from triage.knowledge.models import Knowledge
from triage.session.state import State

_BECAUSE: Final[Mapping[str, str]] = MappingProxyType(
    {
        "aged": "What was confirmed for the running engine has grown old.",
        "clock-jumped": "The clock of this computer jumped: nobody knows how old the confirmations are.",
        "corrected": "An earlier answer was put right: everything is confirmed anew.",
        "handed-over": "The session was handed over while the engine counted as running.",
        "not-saved": "Nothing can be saved now: nothing goes on at a running engine.",
        "paused": "The session was left while the engine counted as running.",
        "refused": "Something that the running engine needs is not so.",
    }
)
_NOT_CONFIRMED = "Nobody has confirmed what the running engine needs."


def why_off(knowledge: Knowledge, state: State) -> str:
    """Why a running engine is to be switched off: what is not so, or why what was confirmed has ended."""
    denied = knowledge.confirmations.get(state.held)
    return f"Not so: {denied.ask}" if denied else _BECAUSE.get(state.ended, _NOT_CONFIRMED)
