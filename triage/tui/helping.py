"""Footer and help of a session, out of the one table of words."""

from triage.present.commands import KEYS, SCREEN_WORDS, WORDS

_KEYED = tuple(sorted((word for word in (*WORDS, *SCREEN_WORDS) if word.key), key=lambda word: word.key))
_TYPED = tuple(word for word in WORDS if not word.key)


def footer_words(width: int) -> str:
    """As many keys and words as fit, the key that lists all of them always first."""
    said = f"{_KEYED[0].key} {_KEYED[0].name}"
    for more in (*(f"{word.key} {word.name}" for word in _KEYED[1:]), *(word.name for word in _TYPED)):
        if len(f"{said}  {more}") > width - 2:
            break
        said = f"{said}  {more}"
    return said


def session_help(now: str) -> tuple[str, ...]:
    """What can be done at a step.

    Args:
        now: what to press at the step on screen.
    """
    words = (f"{word.key:3} {word.name:10} {word.does}" for word in (*_KEYED, *_TYPED))
    return (
        f"Now: {now}",
        "",
        "At any moment, by word or by key:",
        *words,
        "",
        *(f"{key:9} {does}" for key, does in KEYS),
        "",
        "A step with # before its numbers takes a reading with its unit; there #1 is an answer.",
        "Where numbers need Enter, the answer cannot be taken back, or lets the engine run.",
    )
