"""A numbered answer as it is typed."""

from triage.errors import CommandRefused
from triage.present.shapes import Choice


def chosen(choices: tuple[Choice, ...], line: str) -> str:
    """The id of the choice that a line names by number or by id.

    Raises:
        CommandRefused: it names none.
    """
    said = line.strip().lower()
    if said.isascii() and said.isdecimal() and 1 <= int(said[:4]) <= len(choices):
        return choices[int(said) - 1].id
    by_id = next((choice.id for choice in choices if said in (choice.id, choice.words.lower())), None)
    if by_id is None:
        raise CommandRefused("That is not one of the answers.", f"Type a number from 1 to {len(choices)}.")
    return by_id
