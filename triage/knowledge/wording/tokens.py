"""A text cut into plain words: small letters, no accents, no signs."""

import re
import unicodedata
from typing import Final

_WORD: Final = re.compile(r"\d+(?:\.\d+)?v?|[a-z]+")
_DRAWN_OUT: Final = re.compile(r"(.)\1{2,}")
_TOGETHER: Final = {
    "a/c": "ac",
    "can't": "cannot",
    "cant": "cannot",
    "won't": "wont",
    "air-con": "aircon",
    "o.k.": "ok",
}


def tokens(text: str) -> list[str]:
    """Cut a text into words.

    >>> tokens("SQUEEEEALS, when the A/C's on – 12.4V!")
    ['squeeals', 'when', 'the', 'acs', 'on', '12.4v']
    """
    plain = unicodedata.normalize("NFKD", text).casefold().replace("’", "'")
    for written, meant in _TOGETHER.items():
        plain = plain.replace(written, meant)
    plain = "".join(character for character in plain if not unicodedata.combining(character)).replace("'", "")
    return _WORD.findall(_DRAWN_OUT.sub(r"\1\1", plain))
