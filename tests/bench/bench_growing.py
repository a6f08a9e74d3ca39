"""How long growing each shipped tree takes, and how far from the lower bound it ends.

python tests/bench/bench_growing.py [SYMPTOM…]
"""

import sys
import time

from triage.knowledge.loading import load_knowledge
from triage.knowledge.models import Knowledge
from triage.knowledge.shipped import trees_folder
from triage.reasoning.bounding import lower_bound
from triage.reasoning.growing import grow, totals
from triage.reasoning.grown_tree import left_out, tree_of
from triage.reasoning.looking_ahead import most_telling
from triage.reasoning.rivals import greedy
from triage.reasoning.searching import Vehicle, search_of

PULLEY = "unknown"
HEADINGS = (
    "symptom",
    "nodes",
    "CPU s",
    "wall s",
    "minutes",
    "loss",
    "together",
    "one step",
    "gain alone",
    "bound",
    "at most",
)


def quiet(_checks: int, _ended: float) -> None:
    """Say nothing."""


def row(knowledge: Knowledge, symptom: str) -> tuple[str, ...]:
    """One symptom's row of the table; times are of search, growing, writing and bound together."""
    began = time.process_time(), time.perf_counter()
    search = search_of(knowledge, Vehicle(symptom, PULLEY, left_out=left_out(knowledge, symptom)))
    grown = grow(search.problem, search.root, quiet)
    tree = tree_of(knowledge, symptom, PULLEY, search, grown)
    bound = lower_bound(search.problem, search.root, search.turns)
    took = time.process_time() - began[0], time.perf_counter() - began[1]
    found = totals(search.problem, grown)
    steps = [totals(search.problem, grow(search.problem, search.root, quiet, one)) for one in (greedy, most_telling)]
    cost = found.minutes + found.loss
    return (
        symptom,
        str(len(tree.nodes)),
        *(f"{seconds:.1f}" for seconds in took),
        f"{found.minutes:.1f}",
        f"{found.loss:.1f}",
        f"{cost:.1f}",
        *(f"{step.minutes + step.loss:.1f}" for step in steps),
        f"{bound.cost_min:.1f} ± {1.96 * bound.error_min:.1f}",
        f"{cost - bound.cost_min:.1f}",
    )


def main() -> None:
    """Print the table."""
    knowledge = load_knowledge(trees_folder())
    print("|", " | ".join(HEADINGS), "|")
    print("|", " | ".join("---" for _ in HEADINGS), "|")
    for symptom in sys.argv[1:] or knowledge.trees:
        print("|", " | ".join(row(knowledge, symptom)), "|", flush=True)


if __name__ == "__main__":
    main()
