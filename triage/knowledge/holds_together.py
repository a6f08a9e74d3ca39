"""Whether knowledge that came in a trace holds together, so that a session can be told and gone on with.

A trace may come from an older release, or from somebody's editor. It is not held to every rule for trees: only to those
without which a walk would find no next step, a reading no zone, or a period no length.
"""

from collections.abc import Iterator

from triage.errors import Place
from triage.knowledge.lint.content import (
    circumstances_conditioned,
    figures_parse,
    ids_known,
    instrument_measures,
    levels_match,
    strengths_add_up,
    ways_told_apart,
    zones_ascend,
)
from triage.knowledge.lint.trees import (
    all_pulleys_turned,
    cannot_given,
    no_circles,
    node_has_one_job,
    outcomes_followed,
    repeat_in_tree,
    skip_when_needed,
)
from triage.knowledge.models import Knowledge
from triage.knowledge.origins import Origins

_RULES = (
    ids_known,
    node_has_one_job,
    outcomes_followed,
    cannot_given,
    skip_when_needed,
    all_pulleys_turned,
    no_circles,
    repeat_in_tree,
    circumstances_conditioned,
    levels_match,
    strengths_add_up,
    zones_ascend,
    instrument_measures,
    ways_told_apart,
    figures_parse,
)
_TABLES = (
    "sources",
    "tools",
    "hazards",
    "confirmations",
    "states",
    "causes",
    "circumstances",
    "signs",
    "checks",
    "remedies",
    "trees",
    "accesses",
    "rounds",
)


class _NoFile(Origins):
    """Knowledge that stands in no file: its places are its own paths."""

    def __init__(self, knowledge: Knowledge) -> None:
        super().__init__({(table, item): None for table in _TABLES for item in getattr(knowledge, table)})  # type: ignore[misc]

    def place(self, *path: str | int) -> Place:
        return Place(".".join(map(str, path)), 1, 1)

    place_of_key = place


def flaws(knowledge: Knowledge) -> Iterator[str]:
    """Name what does not hold together, a sentence each; nothing where a session can be told."""
    for table in _TABLES:
        for name, item in getattr(knowledge, table).items():
            called = item.symptom if table == "trees" else item.id
            if called != name:
                yield f"What stands as '{name}' among its {table} calls itself '{called}'."
    for rule in _RULES:
        yield from (f"{fault.message} ({fault.place.file})" for fault in rule.find(knowledge, _NoFile(knowledge)))
