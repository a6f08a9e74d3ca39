"""The known word that a mistyped one was probably meant to be."""

import difflib
from collections.abc import Iterable

_LISTED = 8
"""More known words than this only fill the screen."""


def nearest(word: str, known: Iterable[str]) -> str:
    """Ask whether the nearest known word was meant; list the known ones where they are few and none is near.

    >>> nearest("belt-conditon", ["belt-condition", "belt-width"])
    "Did you mean 'belt-condition'?"
    >>> nearest("noise", ["left", "right"])
    'Known: left, right.'
    """
    words = list(known)
    close = difflib.get_close_matches(word[:60], words, n=1)
    if close:
        return f"Did you mean '{close[0]}'?"
    return f"Known: {', '.join(words)}." if 0 < len(words) <= _LISTED else ""
