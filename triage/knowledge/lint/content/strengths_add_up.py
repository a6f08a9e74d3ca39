"""What one cause does to one sign adds up to at most one.

**Why.** The strengths of the levels are probabilities of things that exclude each other; what is left is the normal
level.

**Passes.** `worn-bearing: {rough: usually, locked: sometimes}`: 0.80 and 0.20.

**Fails.** `{rough: usually, locked: often}`: 1.30. Also a strength for the normal level, the first, which gets what
is left.
"""

from collections.abc import Iterator, Mapping
from typing import Final

from triage.errors import Fault
from triage.knowledge.models import Knowledge, Sign
from triage.knowledge.origins import Origins, Path
from triage.knowledge.scales import STRENGTHS, Leak

_ROUNDING: Final = 1e-9


def find(knowledge: Knowledge, origins: Origins) -> Iterator[Fault]:
    """Name every cause whose strengths exceed one, and every strength of a normal level."""
    for sign in knowledge.signs.values():
        yield from _excess(sign.leak, ("signs", sign.id, "leak"), sign, origins)
        for cause, strengths in sign.produced_by.items():
            yield from _excess(strengths, ("signs", sign.id, "produced_by", cause), sign, origins)


def _excess(strengths: Mapping[str, Leak], path: Path, sign: Sign, origins: Origins) -> Iterator[Fault]:
    total = sum(STRENGTHS[strength] for strength in strengths.values())
    if total > 1 + _ROUNDING:
        yield Fault(origins.place(*path), f"The strengths add up to {total:.2f}.", "Choose weaker words: at most 1.")
    if sign.levels and sign.levels[0] in strengths:
        place = origins.place_of_key(*path, sign.levels[0])
        yield Fault(place, f"'{sign.levels[0]}' is the normal level and gets what is left.", "Take it away.")
