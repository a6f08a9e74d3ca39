"""The YAML parser's complaints in words that help; after one of them it reads no further."""

from typing import NamedTuple

import yaml

from triage.documents.document import LineColumn

STOPPED = "Reading stopped here, so there may be more."


class _Explanation(NamedTuple):
    found_in: str
    message: str
    hint: str


# In order: the first whose words are found in the parser's own complaint is taken. Both parsers are covered, the one
# in C and the one in Python, which word some complaints differently.
_EXPLANATIONS = (
    _Explanation("nesting depth", "Brackets, lists or keys are nested far too deep.", "Write it flatter."),
    _Explanation("end of stream", "The quote that opens here is never closed.", "Close it, or leave it out."),
    _Explanation("or ']'", "The list that opens here is not closed, or a comma is missing.", "Close it with ']'."),
    _Explanation("or '}'", "The keys that open here are not closed, or a comma is missing.", "Close them with '}'."),
    _Explanation("expected ':'", "There is no colon after the key.", "Write 'key: value', or indent running text."),
    _Explanation("mapping values", "A key cannot stand here.", "Put text with ': ' in quotes, or indent it anew."),
    _Explanation("entries are not", "A list cannot begin on this line.", "Begin it on the next line, or use quotes."),
    _Explanation("start any token", "Text cannot begin like this.", "Put the text in quotes."),
    _Explanation("escape", "This backslash stands for no character.", "In single quotes a backslash is itself."),
    _Explanation("anchor", "'&' begins an anchor, which is not read.", "Put text that begins with '&' in quotes."),
    _Explanation("alias", "'*' begins an alias, which is not read.", "Put text that begins with '*' in quotes."),
    _Explanation("tag", "'!' begins a tag, which is not read.", "Put text that begins with '!' in quotes."),
    _Explanation("block scalar", "Text stands on the line of '|' or '>'.", "Begin the text on the next line."),
    _Explanation("node content", "A value is missing here.", "Put text that begins with ',', ']' or '}' in quotes."),
    _Explanation("document start", "Text goes on after its end.", "Mend the quotes or the indentation."),
    _Explanation("directive", "'%' begins a directive, which is not read.", "Leave the line out."),
    _Explanation("incompatible", "'%' begins a directive, which is not read.", "Leave the line out."),
    _Explanation("while parsing a block", "This does not line up with what stands above.", "Mend the indentation."),
)

_OPENED_EARLIER = ("end of stream", "or ']'", "or '}'", "expected ':'")
"""Complaints that are met further down than where the mistake was made."""


def explain(error: Exception, last_mark: LineColumn) -> tuple[LineColumn, str, str]:
    """Say where the parser gave up, why, and what to do.

    Args:
        error: what the parser raised.
        last_mark: where it was last seen well, for errors that do not say where they happened.

    Returns:
        mark, message and hint.
    """
    complaint = f"{getattr(error, 'problem', None) or error} {getattr(error, 'context', None) or ''}"
    for found_in, message, hint in _EXPLANATIONS:
        if found_in in complaint:
            return _mark(error, complaint, last_mark), message, f"{hint} {STOPPED}"
    return _mark(error, complaint, last_mark), "The text cannot be read as YAML from here on.", STOPPED


def _mark(error: Exception, complaint: str, last_mark: LineColumn) -> LineColumn:
    if not isinstance(error, yaml.MarkedYAMLError):
        return last_mark
    opened = error.context_mark if any(words in complaint for words in _OPENED_EARLIER) else None
    mark = opened or error.problem_mark
    return (mark.line + 1, mark.column + 1) if mark else last_mark
