"""A number in a text has a source.

**Why.** Whoever reads a figure on a screen may ask where it comes from.

**Passes.** Digits in the texts of a check, a confirmation or a remedy that has `sources`.

**Fails.** Digits in one without `sources`, or in a text of a cause, a hazard, a vehicle state or a node, which
cannot name any.
"""

import re
from collections.abc import Iterator
from typing import Final

from triage.documents import Model
from triage.errors import Fault
from triage.knowledge.models import Knowledge
from triage.knowledge.origins import Origins, Path

_PROSE: Final = {
    "checks": ("name", "question", "why", "steps", "hazards", "consumes", "outcomes", "reading", "set_up"),
    "confirmations": ("ask", "why"),
    "remedies": ("name", "steps", "cautions", "if_left", "parts", "torques"),
    "accesses": ("name",),
    "causes": ("name", "part", "meaning"),
    "circumstances": ("words",),
    "rounds": ("name",),
    "hazards": ("harm",),
    "states": ("words",),
    "trees": ("name", "nodes"),
}
"""The fields with texts for people, by section."""

_TEXTS: Final = frozenset({"words", "closes_running", "ask", "name", "why", "what", "because", "parts", "other_ways"})
"""Within a field that holds parts, what holds such texts."""

_DIGIT: Final = re.compile(r"[0-9]")


def find(knowledge: Knowledge, origins: Origins) -> Iterator[Fault]:
    """Name the first number without a source of each text."""
    for section, fields in _PROSE.items():
        for item_id, item in getattr(knowledge, section).items():
            if getattr(item, "sources", ()):
                continue
            hint = "Add 'sources:'." if "sources" in type(item).model_fields else "Say it without a number."
            for field in fields:
                for path, text in _texts(getattr(item, field), (section, item_id, field)):
                    if _DIGIT.search(text):
                        yield Fault(origins.place(*path), f"'{_cut(text)}' has a number without a source.", hint)


def _texts(value: object, path: Path) -> Iterator[tuple[Path, str]]:
    match value:
        case str():
            yield path, value
        case tuple():
            for position, part in enumerate(value):
                yield from _texts(part, (*path, position))
        case dict():
            for key, part in value.items():
                yield from _texts(part, (*path, key))
        case Model():
            for name in type(value).model_fields:
                part = getattr(value, name)
                if name in _TEXTS and isinstance(part, str | tuple):
                    yield from _texts(part, (*path, name))


def _cut(text: str) -> str:
    number = _DIGIT.search(text)
    start = max(0, number.start() - 20) if number else 0
    return text[start : start + 40].strip()
