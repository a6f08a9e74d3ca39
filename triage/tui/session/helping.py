"""Footer and help of a session, out of the one table of words."""

from triage.present.commands import KEYS, SCREEN_WORDS, WORDS
from triage.present.text import wrapped

_KEYED = tuple(sorted((word for word in (*WORDS, *SCREEN_WORDS) if word.key), key=lambda word: int(word.key[1:])))
_TYPED = tuple(word for word in WORDS if not word.key)


def footer_words(width: int) -> str:
    """As many keys and words as fit, the key that lists all of them always first."""
    said = f"{_KEYED[0].key} {_KEYED[0].name}"
    for more in (*(f"{word.key} {word.name}" for word in _KEYED[1:]), *(word.name for word in _TYPED)):
        if len(f"{said}  {more}") > width - 2:
            break
        said = f"{said}  {more}"
    return said


def session_help(now: str, width: int) -> tuple[str, ...]:
    """What can be done at a step.

    Args:
        now: what to press at the step on screen.
        width: characters a line.
    """
    words = [line for word in (*_KEYED, *_TYPED) for line in wrapped(word.does, width, f"{word.key:3} {word.name:10} ")]
    keys = [line for key, does in KEYS for line in wrapped(does, width, f"{key:14} ")]
    return (
        *wrapped(now, width, "Now: "),
        "",
        "At any moment, by word or by key:",
        *words,
        "",
        "Further keys:",
        *keys,
        "",
        "A # before the numbers: a reading is wanted with its unit; there #1 is an answer.",
        "Numbers that need Enter: the answer cannot be taken back, or lets the engine run.",
    )
