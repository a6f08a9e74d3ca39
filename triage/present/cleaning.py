"""The one cleaner: text from files and other people is shown on a terminal, never acted on by it.

Notes, names and traces come from other machines. A terminal obeys what stands in them: it moves the cursor, renames the
window, fills the clipboard, or turns the reading direction round so that one text looks like another.
"""

import re
from typing import Final

_UNSEEN: Final = re.compile(
    "["
    "\x00-\x09\x0b-\x1f\x7f-\x9f"  # control characters of seven and eight bits, ESC, OSC, CSI and DCS among them
    "\u00ad\u034f\u061c\u115f\u1160\u17b4\u17b5\u180e\u3164\uffa0"  # not seen
    "\u200b-\u200f\u2028-\u202e\u2060-\u206f"  # not seen, ending the line, or turning its direction round
    "\ufeff\ufff9-\uffff\U000e0000-\U000e0fff"
    "\ud800-\udfff"  # halves of characters, which no terminal can be sent
    "]"
)


def clean(text: str) -> str:
    r"""Make everything visible that a terminal would act on; line feeds stay, a tab becomes a space.

    The sequence behind an escape character stays as the harmless text that it is without it.

    >>> clean("a\x1b[31mb\tc\u202ed")
    'a‹1B›[31mb c‹202E›d'
    """
    return _UNSEEN.sub(_visible, text)


def clean_line(text: str) -> str:
    r"""Clean a text that has one line of its own: a line feed in it would pass for the next line.

    >>> clean_line("job 7\nsigned off")
    'job 7‹0A›signed off'
    """
    return clean(text).replace("\n", "‹0A›")


def shortened(text: str, most: int) -> str:
    r"""Clean a text for a column, and cut it where it is longer.

    >>> shortened("R-1042 of this morning", 10)
    'R-1042 of…'
    """
    line = clean_line(text)
    return line if len(line) <= most else f"{line[: most - 1].rstrip()}…"


def _visible(found: re.Match[str]) -> str:
    return " " if found[0] == "\t" else f"‹{ord(found[0]):02X}›"
