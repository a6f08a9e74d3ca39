"""How long what a person writes may be; said when it is typed, not when everything else has been asked."""

LONGEST_TEXT = 2000
"""Characters: a page of a notebook. From memory: what is longer was pasted by mistake, or belongs into a file."""


def too_long(text: str) -> str:
    """Why a text is not taken, and what to do; empty where it is short enough."""
    if len(text) <= LONGEST_TEXT:
        return ""
    return f"That is {len(text)} characters. Keep it within {LONGEST_TEXT}; the rest can follow as notes."
