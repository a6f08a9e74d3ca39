"""Grown trees: read, checked by every rule and walked like authored ones."""

import shutil
from functools import cache
from pathlib import Path

import pytest

from triage.documents.writing import write_text
from triage.errors import DocumentFaulty
from triage.knowledge.loading import load_knowledge
from triage.knowledge.models import PULLEYS, Knowledge, Tree
from triage.knowledge.shipped import trees_folder
from triage.knowledge.walk import walk
from triage.reasoning.advice.changeover import Minutes
from triage.reasoning.inference.network import network_of
from triage.reasoning.route.comparing import appraise, routes_of
from triage.reasoning.route.followed_ways import ways
from triage.reasoning.route.growing import grow
from triage.reasoning.route.grown_tree import left_out, tree_of
from triage.reasoning.route.routing import RoutePlanner
from triage.record.weights import Weights


@cache
def shipped() -> Knowledge:
    return load_knowledge(trees_folder())


def grown(symptom: str, pulley: str, checks: int, without: frozenset[str] = frozenset()) -> Tree:
    lacking = {check.id for check in shipped().checks.values() if without & set(check.tools)}
    planner = RoutePlanner(shipped(), symptom, pulley, Weights(), left_out(shipped(), symptom) | lacking)
    return tree_of(planner, grow(planner, lambda _checks, _ended: None, most_checks=checks))


# Twenty-five checks reach a look that closes nothing yet, because others still stand before the running engine.
@pytest.mark.parametrize(
    ("symptom", "pulley", "checks"),
    [*((symptom, "unknown", 12) for symptom in shipped().trees), ("tensioner-flutter", "solid", 25)],
)
def test_a_grown_tree_keeps_every_rule(symptom: str, pulley: str, checks: int, tmp_path: Path) -> None:
    folder = shutil.copytree(trees_folder(), tmp_path / "trees")
    tree = grown(symptom, pulley, checks)
    text = write_text(tree.model_dump(exclude_defaults=True, mode="json"))
    (folder / "symptoms" / f"{symptom}.yaml").write_text(text, encoding="utf-8")
    assert not [fault for fault in faults_of(folder) if "No tree uses the branch" not in fault]


def faults_of(folder: Path) -> list[str]:
    """Its faults; the authored tree may have been the last one to use a branch."""
    try:
        load_knowledge(folder)
    except DocumentFaulty as error:
        return [fault.message for fault in error.faults]
    return []


def test_growing_twice_comes_to_the_same() -> None:
    assert grown("shutdown-buzz", "decoupler", 10) == grown("shutdown-buzz", "decoupler", 10)


def test_a_tree_without_a_tool_does_not_ask_for_it() -> None:
    tools = {tool for node in grown("shutdown-buzz", "solid", 12, frozenset({"breaker-bar"})).nodes.values()
             if node.check for tool in shipped().checks[node.check].tools}  # fmt: skip
    assert "breaker-bar" not in tools


def test_a_look_that_could_not_be_made_keeps_the_engine_off() -> None:
    tree = grown("shutdown-buzz", "solid", 40)
    findings = {"complaint-heard": ("heard-now",), "belt-condition": ("sound",), "belt-fit": ()}
    for _ in range(40):
        place = walk(shipped(), tree, findings, "solid")
        if place.node.check is None:
            return
        check = shipped().checks[place.node.check]
        assert "running" not in check.state
        findings[check.id] = (check.normal("solid"),)


def test_a_question_with_many_answers_is_left_out() -> None:
    assert left_out(shipped(), "shutdown-buzz") == {"when-heard", "met-under"}


def test_a_tree_for_any_pulley_names_on_each_only_what_it_can_have() -> None:
    tree = grown("shutdown-buzz", "unknown", 60, frozenset({"torque-wrench"}))
    assert any(node.by_pulley for node in tree.nodes.values())
    routes = routes_of(shipped(), tree, PULLEYS)
    for pulley, route in routes.items():
        network = network_of(shipped(), pulley)
        named = {
            cause
            for way in ways(shipped(), tree.symptom, route, network, pulley, Minutes(), 1e-2)
            for cause in way.node.conclude
        }
        assert named
        assert named <= set(network.causes)
    assert 0.0 < appraise(shipped(), tree.symptom, routes, Weights(), 1e-2).right.value <= 1.0


def test_a_tree_for_one_pulley_does_not_turn_by_it() -> None:
    assert not any(node.by_pulley for node in grown("shutdown-buzz", "solid", 12).nodes.values())


def test_a_tree_for_another_pulley_is_weighed_too_and_loses_by_it() -> None:
    routes = routes_of(shipped(), grown("shutdown-buzz", "decoupler", 60), ("decoupler", "solid"))
    own, other = (
        appraise(shipped(), "shutdown-buzz", {pulley: route}, Weights(), 1e-2) for pulley, route in routes.items()
    )
    assert other.right.value < own.right.value
