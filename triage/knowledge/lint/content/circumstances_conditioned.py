"""A circumstance has one condition, and odds that go with it.

**Why.** With two conditions nobody could say which of them shifted a cause; without odds it would say nothing.

**Passes.** One of `pulley`, `answered`, `told`, `without` and `life`. Odds such as `odds: {belt-worn: less-likely}`;
with `life` the causes alone, `wears: [belt-worn]`, because the distance driven gives the odds. An outcome that its
check has.

**Fails.** A circumstance with none or two of these, with `odds` beside `life`, with `wears` or `part` beside the
others, with neither, or with an outcome that the check does not have.
"""

from collections.abc import Iterator

from triage.errors import Fault
from triage.knowledge.models import Circumstance, Knowledge
from triage.knowledge.origins import Origins

CONDITIONS = ("pulley", "answered", "told", "without", "life")


def find(knowledge: Knowledge, origins: Origins) -> Iterator[Fault]:
    """Name every circumstance whose condition and odds do not go together."""
    for circumstance in knowledge.circumstances.values():
        place = origins.place("circumstances", circumstance.id)
        given = [name for name in CONDITIONS if getattr(circumstance, name)]
        if len(given) != 1 or len(circumstance.answered) > 1 or len(circumstance.told) > 1:
            told = ", ".join(given) or "none"
            yield Fault(place, f"A circumstance has one condition; here stands {told}.", "Give one of them.")
        elif not _goes_together(circumstance):
            hint = "Give 'wears' with 'life', 'odds' with the others; 'part' goes with 'life' alone."
            yield Fault(place, "What it shifts does not go with its condition.", hint)
        yield from _strange_outcome(knowledge, circumstance, origins)


def _goes_together(circumstance: Circumstance) -> bool:
    if circumstance.life:
        return bool(circumstance.wears) and not circumstance.odds
    return bool(circumstance.odds) and not circumstance.wears and not circumstance.part


def _strange_outcome(knowledge: Knowledge, circumstance: Circumstance, origins: Origins) -> Iterator[Fault]:
    for check_id, outcome in circumstance.answered.items():
        check = knowledge.checks.get(check_id)
        if check and not check.outcome(outcome):
            known = ", ".join(one.id for one in check.outcomes)
            place = origins.place("circumstances", circumstance.id, "answered", check_id)
            yield Fault(place, f"'{check_id}' has no outcome '{outcome}'.", f"It has: {known}.")
