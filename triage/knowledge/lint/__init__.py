"""What holds between the things that the trade knows, one rule a module.

The docstring of a rule's module is its manual page: why the rule is there, what passes, what fails. docs/made/rules.md
is made from these pages. A rule looks at knowledge of which each item has the right shape; items that were not
readable are missing, so a rule says nothing about what it cannot find, except the rule about unknown ids.
"""

from collections.abc import Callable, Iterator, Mapping
from types import MappingProxyType
from typing import Final

from triage.errors import Fault
from triage.knowledge.lint.content import (
    anywhere_only_asked,
    circumstances_conditioned,
    counted_once,
    facts_have_words,
    figures_parse,
    ids_known,
    instrument_measures,
    levels_match,
    numbers_sourced,
    outcomes_signed,
    proof_said,
    strengths_add_up,
    ways_told_apart,
    zones_ascend,
)
from triage.knowledge.lint.safety import (
    consumed_while_stopped,
    endings_marked,
    gate_before_running,
    hands_in_set_up,
    remedies_while_stopped,
    rounds_in_one_state,
    rounds_in_order,
    running_stays_closed,
    states_confirmed,
)
from triage.knowledge.lint.trees import (
    all_pulleys_turned,
    cannot_given,
    concluded_makes_complaint,
    few_conclusions,
    no_circles,
    node_has_one_job,
    nodes_reachable,
    outcomes_followed,
    repeat_in_tree,
    skip_when_needed,
)
from triage.knowledge.models import Knowledge
from triage.knowledge.origins import Origins

Rule = Callable[[Knowledge, Origins], Iterator[Fault]]

_MODULES = (
    ids_known,
    node_has_one_job,
    outcomes_followed,
    cannot_given,
    skip_when_needed,
    all_pulleys_turned,
    nodes_reachable,
    no_circles,
    few_conclusions,
    concluded_makes_complaint,
    repeat_in_tree,
    gate_before_running,
    running_stays_closed,
    anywhere_only_asked,
    hands_in_set_up,
    rounds_in_one_state,
    rounds_in_order,
    endings_marked,
    consumed_while_stopped,
    circumstances_conditioned,
    facts_have_words,
    counted_once,
    remedies_while_stopped,
    states_confirmed,
    outcomes_signed,
    proof_said,
    levels_match,
    strengths_add_up,
    zones_ascend,
    instrument_measures,
    ways_told_apart,
    figures_parse,
    numbers_sourced,
)

RULES: Final[Mapping[str, Rule]] = MappingProxyType(
    {module.__name__.rpartition(".")[2].replace("_", "-"): module.find for module in _MODULES}
)
"""Every rule by its name."""


def lint(knowledge: Knowledge, origins: Origins) -> Iterator[Fault]:
    """Find everything that breaks a rule.

    Args:
        knowledge: what could be read.
        origins: where it stands in its files.
    """
    for find in RULES.values():
        yield from find(knowledge, origins)
