"""What the author of a tree makes sure of before each check, read from the tree, for whoever plans another route.

Precautions are the checks with an outcome that forbids a running engine, and those that tell nothing of causes and so
stand in a tree for the order of the work alone. A planned route may make a check only where the tree leads to it
through the precautions made so far, each with the outcome that it had; what the author asks in between is free.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

from triage.knowledge.models import Check, Knowledge, Node, Tree
from triage.knowledge.rounds import TRACKING
from triage.knowledge.tree_edges import Edge, edges, reached
from triage.knowledge.vehicle import Vehicle
from triage.knowledge.walk import fits, pulley_of

NOT_DONE = ""
"""Stands for "could not be done" among the outcomes."""

NodeEdge = tuple[str, Edge]
"""A node and a way on from it."""


@dataclass(frozen=True)
class Precautions:
    """The precautions of one tree on one vehicle.

    Args:
        knowledge: checks and vehicle states.
        tree: the authored tree.
        vehicle: what is told of it, or its specified pulley type alone.
    """

    knowledge: Knowledge
    tree: Tree
    vehicle: Vehicle | str

    @cached_property
    def checks(self) -> tuple[str, ...]:
        """The tree's checks that fit the vehicle, each once, in the order of its nodes."""
        made = dict.fromkeys(node.check for node in self.tree.nodes.values() if node.check)
        return tuple(check for check in made if check and fits(self.knowledge, check, self.vehicle))

    def open_after(self, made: Mapping[str, str]) -> frozenset[str]:
        """The checks that may be made now, those made already among them.

        Args:
            made: the outcome of each check so far, of several the first; `NOT_DONE` where it could not be done.
        """
        mine = ((self.knowledge.checks[check], outcome) for check, outcome in made.items() if check in self.checks)
        told = (check.outcome(outcome) for check, outcome in mine)
        shut = any(outcome and outcome.closes_running for outcome in told)
        found: set[str] = set()
        for kind in ("removed", "fitted", "running"):
            if kind == "running" and shut:
                continue
            closed = {way for guard in self.guards if self._counts(guard, kind) for way in self._closed(guard, made)}
            there = reached(self.tree, [self.tree.start], closed=closed | self._impossible)
            checks = {self.tree.nodes[node_id].check or "" for node_id in there}
            found |= {check for check in checks & set(self.checks) if self._kind(check) == kind}
        return frozenset(found)

    @cached_property
    def guards(self) -> dict[str, Check]:
        """The precautions; the look at the running belt comes first in each run by itself, whatever a tree says."""
        # Under which condition a complaint was met names it, and turns no way.
        named = (TRACKING, self.tree.complaint.under if self.tree.complaint else "")
        checks = {check: self.knowledge.checks[check] for check in self.checks if check not in named}
        return {check: one for check, one in checks.items() if _closes(one) or _tells_nothing(one)}

    def _kind(self, check: str) -> str:
        """How the drive stands for a check; what only asks goes with what is made while the belt is off."""
        state = self.knowledge.states.get(self.knowledge.checks[check].state)
        if state is None:
            return "removed"
        return "running" if state.engine == "running" else state.belt

    def _counts(self, guard: str, kind: str) -> bool:
        """Whether a precaution counts for checks of a kind: all of them before the engine runs."""
        if kind == "running" or _tells_nothing(self.guards[guard]) or self.guards[guard].way == "ask":
            return True
        return kind == "fitted" and self._kind(guard) == "fitted"

    def _closed(self, guard: str, made: Mapping[str, str]) -> list[NodeEdge]:
        """The ways on from a precaution that were not gone: all of them while it was not made."""
        nodes = ((node_id, node) for node_id, node in self.tree.nodes.items() if node.check == guard)
        ways = [(node_id, edge) for node_id, node in nodes for edge in edges(node)]
        return [way for way in ways if made.get(guard) != (way[1].choice if way[1].by == "outcome" else NOT_DONE)]

    @cached_property
    def _impossible(self) -> set[NodeEdge]:
        """The ways that this vehicle never takes."""
        ways = ((node_id, node, edge) for node_id, node in self.tree.nodes.items() for edge in edges(node))
        return {(node_id, edge) for node_id, node, edge in ways if not self._possible(node, edge)}

    def _possible(self, node: Node, edge: Edge) -> bool:
        if edge.by == "pulley":
            return edge.choice == pulley_of(self.vehicle)
        if node.check is None or fits(self.knowledge, node.check, self.vehicle):
            return edge.by != "skip"
        return edge.by == ("skip" if node.skip else "cannot")


def _closes(check: Check) -> bool:
    return any(outcome.closes_running for outcome in check.outcomes)


def _tells_nothing(check: Check) -> bool:
    return not check.sign and not any(outcome.sign for outcome in check.outcomes)
