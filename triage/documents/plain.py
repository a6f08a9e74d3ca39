"""What a word without quotes means.

YAML readers disagree about many words: `no`, `010`, `12:30`, `2024-05-06`, `1_000`. One reads text where another reads
a number, and nobody notices until a limit is off by a factor. Here only true, false, null and JSON's numbers mean
something other than text; a word on which readers disagree is refused and has to be put in quotes or written plainly.
"""

import math
import re
from typing import NamedTuple

_WORDS: dict[str, bool | None] = {"": None, "null": None, "true": True, "false": False}

_NUMBER = re.compile(r"-?(?:0|[1-9][0-9]*)(?P<fraction>\.[0-9]+)?(?P<exponent>[eE][-+]?[0-9]+)?")
_NUMBER_LENGTH = 40

_MAY_SURPRISE = re.compile(r"[-+.~<0-9]|(?:yes|no|on|off|true|false|null|inf|infinity|nan)\Z", re.IGNORECASE)


class _LookAlike(NamedTuple):
    form: re.Pattern[str]
    message: str
    hint: str


def _look_alike(form: str, message: str, hint: str) -> _LookAlike:
    return _LookAlike(re.compile(form, re.IGNORECASE), message, hint)


_LOOK_ALIKES = (
    _look_alike("yes|no|on|off", "is true or false to some readers.", "Write true or false, or put it in quotes."),
    _look_alike("true|false", "is not written in small letters.", "Write true or false, or put it in quotes."),
    _look_alike("null|~", "is nothing to some readers.", "Write null, or put it in quotes."),
    _look_alike(r"[-+]?\.?(inf|infinity|nan)", "is not a finite number.", "Give a number, or put it in quotes."),
    _look_alike("<<", "merges keys to some readers.", "Write the keys out."),
    _look_alike(
        r"[-+]?[0-9][0-9_]*(:[0-9]+)+(\.[0-9_]*)?",
        "is a count of sixties to some readers.",
        "Put a time or ratio in quotes.",
    ),
    _look_alike(
        r"[0-9]{4}-[0-9]{1,2}-[0-9]{1,2}((t|\s+)[0-9].*)?", "is a date to some readers.", "Put a date in quotes."
    ),
    _look_alike(
        r"[-+]?0[0-9][0-9_]*", "counts in eights to some readers.", "Leave out the leading zero, or put it in quotes."
    ),
    _look_alike(
        r"[-+]?(0[xob][0-9a-f_]+|([0-9][0-9_]*(\.[0-9_]*)?|\.[0-9][0-9_]*)(e[-+]?[0-9]+)?)",
        "is a number to some readers and text to others.",
        "Write it like 1000, 0.5 or 1e-6, or put it in quotes.",
    ),
)


def surprise(word: str) -> tuple[str, str] | None:
    """Say why readers disagree about a word without quotes, and how to write it; None where they agree.

    >>> surprise("12:30")
    ("'12:30' is a count of sixties to some readers.", 'Put a time or ratio in quotes.')
    >>> surprise("90 N·m")
    """
    if word in _WORDS or not _MAY_SURPRISE.match(word):
        return None
    if _NUMBER.fullmatch(word):
        if len(word) > _NUMBER_LENGTH or math.isinf(float(word)):
            return "The number is too large or has too many digits.", "Round it, or put it in quotes."
        return None
    for form, message, hint in _LOOK_ALIKES:
        if form.fullmatch(word):
            return f"'{word:.{_NUMBER_LENGTH}}' {message}", hint
    return None


def meaning(word: str) -> str | int | float | bool | None:
    """Read a word without quotes that holds no surprise.

    >>> [meaning(word) for word in ("true", "8", "1e-6", "8 mm", "")]
    [True, 8, 1e-06, '8 mm', None]
    """
    if word in _WORDS:
        return _WORDS[word]
    number = _NUMBER.fullmatch(word)
    if number is None:
        return word
    return float(word) if number["fraction"] or number["exponent"] else int(word)
