"""Characters that have no business in a document: those not seen, and those that change how others are seen."""

import re
from collections.abc import Iterator

_UNWANTED = re.compile(
    "["
    "\x00-\x09\x0b\x0c\x0e-\x1f\x7f-\x9f"  # control characters, the tab among them
    "\u00ad\u061c\u200b\u200e\u200f\u2060-\u2069\ufff9-\ufffb\U000e0000-\U000e007f"  # unseen, or turning the line round
    "\u2028-\u202e"  # line ends of some readers only, and more that turn the line round
    "\ufeff\ufffe\uffff"  # byte order mark, in both orders
    "\ud800-\udfff"  # bytes that are not UTF-8, the way Python carries them along
    "]"
    "|\r(?!\n)"
)

_BYTE_CARRIERS = range(0xDC80, 0xDD00)


def unwanted(text: str) -> Iterator[tuple[int, str]]:
    """Find each unwanted character, with its position in the text counted from 0."""
    return ((found.start(), found[0]) for found in _UNWANTED.finditer(text))


def blanked(text: str) -> str:
    """Put a harmless character in the place of each unwanted one, so that lines and columns stay as they are."""
    return _UNWANTED.sub(lambda found: " " if found[0] == "\t" else "\ufffd", text)


def complaint(character: str) -> tuple[str, str]:
    r"""Say what is wrong with an unwanted character and what to do.

    >>> complaint("\x1b")
    ('The character U+001B does not show on a screen.', 'Leave it out.')
    """
    number = ord(character)
    if character == "\t":
        return "A tab stands here.", "Use spaces."
    if character == "\ufeff":
        return "A byte order mark stands here.", "Save the file as UTF-8 without a byte order mark."
    if number in _BYTE_CARRIERS:
        return f"The byte 0x{number & 0xFF:02X} is not UTF-8.", "Save the file as UTF-8."
    return f"The character U+{number:04X} does not show on a screen.", "Leave it out."
