"""The knowledge that comes with the program: sound, and every path of every tree ends, whatever is found."""

from collections.abc import Iterator
from functools import cache

import pytest

from triage.drive.bay.formulas import FORMULAS
from triage.knowledge.loading import load_knowledge
from triage.knowledge.models import PULLEYS, Knowledge, Node, Tree
from triage.knowledge.shipped import demos_folder, trees_folder
from triage.knowledge.walk import fits, walk

LOOKS = {"belt-condition", "belt-fit", "fluid-leak", "mounting", "pulleys-in-sight"}
"""What is looked at before the engine runs; where one of them could not be looked at, it must not run."""
SYMPTOMS = sorted(path.stem for path in (trees_folder() / "symptoms").glob("*.yaml"))


@cache
def shipped() -> Knowledge:
    return load_knowledge(trees_folder())


def tree_of(name: str) -> Tree:
    return shipped().trees[name]


def test_the_shipped_folders_exist() -> None:
    assert (trees_folder() / "sources.yaml").is_file()
    assert demos_folder().is_dir()


def test_the_shipped_knowledge_has_no_faults_and_its_trees_are_named_like_their_files() -> None:
    assert sorted(shipped().trees) == SYMPTOMS
    assert SYMPTOMS


def test_every_check_is_made_by_a_tree_or_proves_a_remedy() -> None:
    knowledge = shipped()
    made = {node.check for tree in knowledge.trees.values() for node in tree.nodes.values()}
    made |= {check for remedy in knowledge.remedies.values() for check in remedy.repeat}
    made |= {tree.complaint.now for tree in knowledge.trees.values() if tree.complaint}
    assert set(knowledge.checks) - made == set()


def test_every_formula_of_a_reading_exists_and_takes_its_parts() -> None:
    ways = [(check, way) for check in shipped().checks.values() if check.reading for way in check.reading.ways]
    calculated = [(check, way) for check, way in ways if way.formula]
    assert calculated
    for check, way in calculated:
        formula = FORMULAS[way.formula or ""]
        assert [part.kind for part in way.parts] == [part.kind for part in formula.parts], check.id
        assert check.reading
        assert check.reading.kind == formula.result_kind, check.id


def test_no_bar_goes_to_the_alternator_before_its_battery_is_isolated() -> None:
    knowledge = shipped()
    at_the_alternator = {
        check.id: check.state for check in knowledge.checks.values() if "pulley-tool-set" in check.tools
    }
    for remedy in knowledge.remedies.values():
        if remedy.threaded_pulley or any("alternator" in torque.what.lower() for torque in remedy.torques):
            at_the_alternator[remedy.id] = remedy.state
    assert {"overrun-torque", "renew-decoupler-pulley", "renew-alternator"} <= set(at_the_alternator)
    assert [name for name, state in at_the_alternator.items() if knowledge.states[state].battery != "isolated"] == []


class Explorer:
    """Walks a tree as a session does, over every outcome and "could not be done", each state of the walk once.

    What has been found is remembered only so far as it can still matter: a check that stands at several nodes keeps
    where its finding leads from those further down.
    """

    def __init__(self, tree: Tree, pulley: str) -> None:
        self.tree, self.pulley = tree, pulley
        self.nodes: set[str] = set()
        self.answered: set[tuple[str, str]] = set()
        self.ends = 0
        self.unsafe: list[str] = []
        self.seen: set[tuple[object, ...]] = set()

    def explore(self) -> None:
        waiting: list[dict[str, tuple[str, ...]]] = [{}]
        while waiting:
            waiting += self.step(waiting.pop())

    def step(self, findings: dict[str, tuple[str, ...]]) -> Iterator[dict[str, tuple[str, ...]]]:
        place = walk(shipped(), self.tree, findings, self.pulley)
        passed = list(self.trail(findings))
        assert passed[-1] == place.node_id
        self.nodes.update(passed)
        kept = tuple((node_id, self.leads(node_id, findings)) for node_id in self.ahead(place.node_id, findings))
        looked, closed = self.gates(findings)
        blind = any(not outcomes for check, outcomes in findings.items() if check in LOOKS)
        state = (place.node_id, kept, looked, closed, blind)
        if state in self.seen:
            return
        self.seen.add(state)
        if place.node.check is None:
            assert place.node.conclude or place.node.end
            self.ends += 1
            return
        check = shipped().checks[place.node.check]
        vehicle = shipped().states.get(check.state)
        if vehicle is not None and vehicle.engine == "running" and (closed or blind or not looked):
            self.unsafe.append(f"{place.node_id}: {findings}")
        assert check.id not in findings
        for outcome in check.outcomes:
            self.answered.add((check.id, outcome.id))
            yield {**findings, check.id: (outcome.id,)}
        yield {**findings, check.id: ()}

    def trail(self, findings: dict[str, tuple[str, ...]]) -> Iterator[str]:
        """Every node from the start to where the walk stands, also those that a finding made earlier passes."""
        node_id: str | None = self.tree.start
        while node_id is not None:
            yield node_id
            node = self.tree.nodes[node_id]
            if node.check is not None and not fits(shipped(), node.check, self.pulley):
                node_id = node.skip
            else:
                node_id = self.by_pulley(node) or self.leads(node_id, findings)

    def by_pulley(self, node: Node) -> str | None:
        return next((lead for kind, lead in node.by_pulley.items() if kind == self.pulley), None)

    def ahead(self, start: str, findings: dict[str, tuple[str, ...]]) -> list[str]:
        """Every node that the walk can still come to; a finding already made leaves one way on."""
        seen: set[str] = set()
        waiting = [start]
        while waiting:
            node_id = waiting.pop()
            if node_id not in seen:
                seen.add(node_id)
                waiting += self.ways(node_id, findings)
        return sorted(seen)

    def ways(self, node_id: str, findings: dict[str, tuple[str, ...]]) -> list[str]:
        node = self.tree.nodes[node_id]
        if node.check is not None and not fits(shipped(), node.check, self.pulley):
            return [node.skip or ""]
        lead = self.by_pulley(node) or self.leads(node_id, findings)
        return [lead] if lead else [*node.next.values(), *([node.cannot] if node.cannot else [])]

    def leads(self, node_id: str, findings: dict[str, tuple[str, ...]]) -> str | None:
        """Where a finding already made leads from a node further down."""
        node = self.tree.nodes[node_id]
        if node.check not in findings:
            return None
        outcomes = findings[node.check]
        return node.next[outcomes[0]] if outcomes else node.cannot

    def gates(self, findings: dict[str, tuple[str, ...]]) -> tuple[bool, bool]:
        """Whether the stopped belt was looked at, and whether a finding has closed running."""
        found = [
            (shipped().checks[check], shipped().checks[check].outcome(outcome))
            for check, outcomes in findings.items()
            for outcome in outcomes
        ]
        looked = any(
            check.id == "belt-condition" and outcome is not None and not outcome.says_nothing
            for check, outcome in found
        )
        return looked, any(outcome is not None and outcome.closes_running is not None for _, outcome in found)


@pytest.mark.parametrize("symptom", SYMPTOMS)
def test_every_path_ends_and_no_running_check_stands_before_its_gates(symptom: str) -> None:
    tree = tree_of(symptom)
    nodes: set[str] = set()
    answered: set[tuple[str, str]] = set()
    for pulley in PULLEYS:
        explorer = Explorer(tree, pulley)
        explorer.explore()
        assert explorer.ends > 0
        assert explorer.unsafe == []
        nodes |= explorer.nodes
        answered |= explorer.answered
    assert set(tree.nodes) == nodes
    made = {node.check for node in tree.nodes.values() if node.check}
    assert answered == {(check, outcome.id) for check in made for outcome in shipped().checks[check].outcomes}
