"""A numbered answer as it is typed: by its number, with or without a # before it, or by its words."""

from triage.errors import CommandRefused
from triage.present.shapes import Choice


def chosen(choices: tuple[Choice, ...], line: str) -> str:
    """The id of the choice that a line names by number or by id.

    Raises:
        CommandRefused: it names none.
    """
    said = line.strip().lower()
    marked = said.startswith("#")
    number = said.removeprefix("#").strip()
    if number.isascii() and number.isdecimal() and 1 <= int(number[:4]) <= len(choices):
        return choices[int(number) - 1].id
    by_id = next((choice.id for choice in choices if said in (choice.id, choice.words.lower())), None)
    if by_id is None:
        mark = "#" if marked else ""
        raise CommandRefused("That is not one of the answers.", f"Type a number from {mark}1 to {mark}{len(choices)}.")
    return by_id
