"""A way through a tree to a run with a time limit, for walk_commands.py: by chance hardly any session comes so far."""

import random

from triage.knowledge.models import Check, Knowledge, Tree
from triage.knowledge.tree_edges import edges
from triage.knowledge.walk import walk

FAR = 1000
"""More checks than any tree has in a row."""
DIVES = 300
OFF = 0.15
"""How often any answer is tried: a node may ask again what an earlier one has answered, so no rule always arrives."""
Plan = dict[str, tuple[str, ...]]


def plan_toward_a_run(rng: random.Random, knowledge: Knowledge, tree: Tree, pulley: str) -> Plan:
    """The outcomes, by check, that lead to a run with a time limit; empty where no way was found."""
    left = _checks_left(knowledge, tree)
    if left[tree.start] >= FAR:
        return {}
    dives = (_dived(rng, knowledge, tree, pulley, left) for _ in range(DIVES))
    return next((plan for plan in dives if plan), {})


def _dived(rng: random.Random, knowledge: Knowledge, tree: Tree, pulley: str, left: dict[str, int]) -> Plan:
    plan: Plan = {}
    while True:
        place = walk(knowledge, tree, plan, pulley)
        check = knowledge.checks.get(place.node.check or "")
        if check is None or left[place.node_id] >= FAR:
            return {}
        if is_timed(knowledge, check):
            return plan
        free = [outcome.id for outcome in check.outcomes if not (outcome.closes_running or outcome.says_nothing)]
        free = free or [check.outcomes[0].id]
        shortest = min(free, key=lambda outcome: left[place.node.next[outcome]])
        plan[check.id] = (rng.choice(free) if rng.random() < OFF else rng.choice([check.normal(pulley), shortest]),)


def is_timed(knowledge: Knowledge, check: Check) -> bool:
    """Whether a check is made in a run with a time limit."""
    target = knowledge.states.get(check.state)
    return target is not None and target.run_limit is not None


def _checks_left(knowledge: Knowledge, tree: Tree) -> dict[str, int]:
    """How many nodes are at least on the way from each node to a timed run."""
    timed = {one.id for one in knowledge.checks.values() if is_timed(knowledge, one)}
    left = {at: 0 if node.check in timed else FAR for at, node in tree.nodes.items()}
    for _ in tree.nodes:
        for at, node in tree.nodes.items():
            left[at] = min(left[at], 1 + min((left[edge.target] for edge in edges(node)), default=FAR))
    return left
