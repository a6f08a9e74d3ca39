"""What hangs on a fact of the vehicle names words that the fact may have.

**Why.** A check that needs a word that nobody can answer is never made, and a circumstance of one never holds.

**Passes.** `needs: {drives: [steering-pump]}`, `told: {tightening: [screw, stretch]}`.

**Fails.** `needs: {drives: [power-steering]}`, or a fact that is a number.
"""

from collections.abc import Iterator

from triage.errors import Fault
from triage.knowledge.models import Knowledge
from triage.knowledge.nearest import nearest
from triage.knowledge.origins import Origins
from triage.knowledge.vehicle import WORDS


def find(knowledge: Knowledge, origins: Origins) -> Iterator[Fault]:
    """Name every word that its fact cannot have."""
    named = [("checks", one.id, "needs", one.needs) for one in knowledge.checks.values()]
    named += [("circumstances", one.id, "told", one.told) for one in knowledge.circumstances.values()]
    for section, item, key, facts in named:
        for fact, words in facts.items():
            known = WORDS.get(fact, {})
            for position, word in enumerate(words):
                if word not in known:
                    place = origins.place(section, item, key, fact, position)
                    hint = nearest(word, list(known)) if known else "Only facts that are words can be named."
                    yield Fault(place, f"The fact '{fact}' is never '{word}'.", hint)
