"""Typed text made plain: one spelling for each mark that people write in several ways.

A closed list of characters is accepted. Everything else is refused by name, above all what cannot be seen (control,
format and bidirectional characters), because text that looks like one reading must not be another. No Unicode
compatibility folding here: it would turn "10² N·m" into "102 N·m".
"""

import re
import unicodedata

from triage.errors import QuantityRefused

LONGEST_TEXT = 60
"""Characters; the longest reading with both ends of a range spelled out stays well below."""

_PLAIN = {
    **dict.fromkeys("\u00a0\u2007\u2009\u202f", " "),
    **dict.fromkeys("−–—‐‑", "-"),
    **dict.fromkeys("’‘′", "'"),
    **dict.fromkeys("”“″", '"'),
    **dict.fromkeys("⋅•∙", "·"),
    **dict.fromkeys("º˚", "°"),
    "μ": "µ",
    "⁄": "/",
    "≈": "~",
    "℃": "°C",
    "℉": "°F",
    "½": " 1/2 ",
    "¼": " 1/4 ",
    "¾": " 3/4 ",
    "⅛": " 1/8 ",
    "⅜": " 3/8 ",
    "⅝": " 5/8 ",
    "⅞": " 7/8 ",
}
_KEPT = frozenset("·×°µ±…²⁻¹") | frozenset(map(chr, range(0x20, 0x7F)))

_SQUARED = re.compile(r"(?<=[cgm]m|·m| m)\^?2\b")
# "750 1/min", "750min-1" and "750 min⁻¹" are one unit without a figure in it.
_RECIPROCAL = re.compile(
    r"(?:(?<= )1 ?/ ?(?P<below>min|sec|s)\b"
    # Where figures or a unit follow, "s-1" is the middle of a range: 5s-10 s, 0.5s-1 s.
    r"|(?<![A-Za-z])(?P<raised>min|sec|s)(?:\^?-1(?![0-9.,]| ?(?!to\b|and\b)[A-Za-z])|⁻¹))"
)


def plain(text: str) -> str:
    """Return the text with each mark in its one plain spelling and single spaces.

    Raises:
        QuantityRefused: too long, or a character that no reading is written with.
    """
    if len(text) > LONGEST_TEXT:
        raise QuantityRefused(
            f"That is {len(text)} characters, more than any reading needs.", "Write one number and one unit."
        )
    spelled = "".join(_spell(character) for character in text)
    spelled = _RECIPROCAL.sub(lambda found: f"/{found['below'] or found['raised']}", _SQUARED.sub("²", spelled))
    return re.sub(" +", " ", spelled).strip(" ")


def _spell(character: str) -> str:
    if character in _PLAIN:
        return _PLAIN[character]
    if character in _KEPT:
        return character
    code = f"U+{ord(character):04X}"
    if unicodedata.category(character)[0] in "LNPS":
        raise QuantityRefused(f"No reading is written with the character {code}.", "Write it with plain letters.")
    raise QuantityRefused(f"There is an invisible character ({code}) in the text.", "Type the reading by hand.")
