"""Numbers and shares as they are typed in practice."""

import re
from collections.abc import Sequence
from typing import Final

from triage.errors import CommandRefused

_NUMBERS: Final = re.compile(r"#?\d{1,3}(?:[\s,;]+#?\d{1,3})*")
_PAIR: Final = re.compile(r"#?(\d{1,3})\s*[:= ]\s*(\d{1,3})\s*%?")
HUNDRED: Final = 100


def are_numbers(line: str) -> bool:
    """Whether a line is numbers alone.

    >>> are_numbers("1, 3 #4"), are_numbers("1 belt")
    (True, False)
    """
    return bool(_NUMBERS.fullmatch(line.strip()))


def numbers(line: str, most: int) -> tuple[int, ...]:
    """The places that a line names, from 0, each once.

    Raises:
        CommandRefused: one of them is none from 1 to `most`.

    >>> numbers("3 1, 3", 4)
    (2, 0)
    """
    named = [int(one) for one in re.findall(r"\d+", line)]
    if not are_numbers(line) or any(not 1 <= one <= most for one in named):
        raise CommandRefused("That is not among the numbers.", f"Type numbers from 1 to {most}, such as: 1 3")
    return tuple(dict.fromkeys(one - 1 for one in named))


def shares(line: str, names: Sequence[str]) -> dict[str, float]:
    """What is held likely, by name, out of pairs of a number and percent.

    Raises:
        CommandRefused: it is no such line, or a share is above 100 %.

    >>> shares("1 60, 2 20%", ("a", "b"))
    {'a': 0.6, 'b': 0.2}
    """
    pairs = [(int(at), int(percent)) for at, percent in _PAIR.findall(line)]
    rest = _PAIR.sub("", line).strip(" ,;%")
    if not pairs or rest or any(not 1 <= at <= len(names) or percent > HUNDRED for at, percent in pairs):
        hint = "Type the number of a cause and percent, such as: 2 60, 5 20. Enter alone passes."
        raise CommandRefused("That is no number with percent.", hint)
    return {names[at - 1]: percent / HUNDRED for at, percent in pairs}
