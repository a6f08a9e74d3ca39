"""Whatever ends a confirmation is marked where it is done.

**Why.** What was confirmed stands until something happens that ends it. A step that turns, stops, lifts or drives the
vehicle, or lets the ignition on, ends what was confirmed of it; only a mark tells the session so.

**Passes.** A check or remedy whose steps have the engine turned over, with `does: [turned]`; one that is switched
off as a part of the check and has `does: [stop]`.

**Fails.** Such steps without the mark.
"""

import re
from collections.abc import Iterator, Mapping
from types import MappingProxyType
from typing import Final

from triage.errors import Fault
from triage.knowledge.models import Check, Ending, Knowledge, Remedy
from triage.knowledge.origins import Origins, Path

WORDS: Final[Mapping[Ending, re.Pattern[str]]] = MappingProxyType(
    {
        "turned": re.compile(r"\b(turned|turn the engine|turn it) over\b", re.IGNORECASE),
        "stop": re.compile(r"\bswitche[sd] off (at|from) (that speed|\d)", re.IGNORECASE),
        "lifted": re.compile(r"\b(lift|raise|lower|jack up) the (vehicle|car)\b", re.IGNORECASE),
        "driven": re.compile(
            r"\b(road test|test drive|drive the (vehicle|car)|push the (vehicle|car))\b", re.IGNORECASE
        ),
        "ignition-on": re.compile(r"\bignition (is )?(switched )?on\b", re.IGNORECASE),
    }
)
"""Words by which a step does what ends something."""


def find(knowledge: Knowledge, origins: Origins) -> Iterator[Fault]:
    """Name every check and remedy whose steps end something without the mark."""
    for check in knowledge.checks.values():
        yield from _unmarked(check, origins, ("checks", check.id))
    for remedy in knowledge.remedies.values():
        yield from _unmarked(remedy, origins, ("remedies", remedy.id))


def _unmarked(one: Check | Remedy, origins: Origins, path: Path) -> Iterator[Fault]:
    text = " ".join(one.steps)
    for ending, words in WORDS.items():
        found = words.search(text)
        if found and ending not in one.does:
            message = f"{one.id} does what ends confirmations, '{found[0]}', and is not marked."
            yield Fault(origins.place(*path), message, f"Add 'does: [{ending}]'.")
