"""What an event comes to in words: a line for the record, and what a face says at once."""

from typing import NamedTuple


class Words(NamedTuple):
    """An event in words.

    Args:
        line: for the record; empty for what only matters to the program, or is said in another place.
        aloud: what a face says at once to whoever is at the key.
    """

    line: str = ""
    aloud: tuple[str, ...] = ()
