"""First words of a command that mean more than its usual argument, such as `run` in `triage drive run`."""

import argparse

_RESERVED = "reserved_words"


def reserve(parser: argparse.ArgumentParser, word: str, description: str) -> argparse.ArgumentParser:
    """Give a word behind a command a parser of its own.

    Args:
        parser: the command's.
        word: what is typed first.
        description: what help says of it.

    Returns:
        the parser for what follows the word.
    """
    own = type(parser)(prog=f"{parser.prog} {word}", description=description)
    parser.set_defaults(**{_RESERVED: {**reserved_words(parser), word: own}})
    return own


def reserved_words(parser: argparse.ArgumentParser) -> dict[str, argparse.ArgumentParser]:
    """The words of a command that have a parser of their own."""
    return parser.get_default(_RESERVED) or {}
