"""The checks that several rules make on what was given."""

from triage.errors import CommandRefused
from triage.session.lengths import too_long
from triage.session.state import State


def expect_step(state: State, *kinds: str) -> None:
    """Refuse a command that answers another step than the one on screen.

    Raises:
        CommandRefused: the session asks something else.
    """
    if state.step.kind not in kinds:
        raise CommandRefused("That is not what is asked now.", "Look at the step on screen and answer it.")


def words(text: str, what: str) -> str:
    """Free words, trimmed.

    Raises:
        CommandRefused: nothing was written, or too much.
    """
    if not text.strip():
        raise CommandRefused(f"{what} is empty.", "Write a few words.")
    return may_be_empty(text, what)


def may_be_empty(text: str, what: str) -> str:
    """The same, where nothing need be written.

    Raises:
        CommandRefused: too much was written.
    """
    reason = too_long(text)
    if reason:
        raise CommandRefused(f"{what} is too long.", reason)
    return text.strip()
