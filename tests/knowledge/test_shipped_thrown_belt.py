"""After a thrown belt: what lies on the bench is looked at there, and nothing with a belt on before a belt is on."""

from functools import cache

import pytest

from triage.knowledge.loading import load_knowledge
from triage.knowledge.models import PULLEYS, Knowledge
from triage.knowledge.shipped import trees_folder
from triage.knowledge.walk import walk

NEED_NO_BELT = {"debris", "tensioner-strut", "fluid-leak", "pulleys-in-sight", "mounting", "fan-drive", "pulley-type"}
"""Looks at the drive itself: they are made where the belt is off too."""


@cache
def shipped() -> Knowledge:
    return load_knowledge(trees_folder())


def asked_on_paths(fixed: dict[str, str], pulley: str) -> dict[str, list[dict[str, tuple[str, ...]]]]:
    """Each check that a path asks, with findings that lead to it; some findings are fixed."""
    tree = shipped().trees["belt-thrown"]
    asked: dict[str, list[dict[str, tuple[str, ...]]]] = {}
    waiting: list[dict[str, tuple[str, ...]]] = [{}]
    seen = set()
    while waiting:
        findings = waiting.pop()
        place = walk(shipped(), tree, findings, pulley)
        state = (place.node_id, *(findings.get(check) for check in ("belt-now", "sound-belt-on", "old-belt-condition")))
        if state in seen or place.node.check is None:
            continue
        seen.add(state)
        check = shipped().checks[place.node.check]
        asked.setdefault(check.id, []).append(findings)
        answers = [(fixed[check.id],)] if check.id in fixed else [(outcome.id,) for outcome in check.outcomes]
        waiting += [{**findings, check.id: answer} for answer in (*answers, ())]
    return asked


@pytest.mark.parametrize("pulley", PULLEYS)
def test_a_belt_that_lies_on_the_bench_is_never_asked_for_in_its_place(pulley: str) -> None:
    off = asked_on_paths({"belt-now": "off-vehicle"}, pulley)
    said = [findings for findings in off.get("belt-condition", []) if findings["belt-now"]]
    assert said == []
    assert "old-belt-condition" in off
    on = asked_on_paths({"belt-now": "on-vehicle"}, pulley)
    assert [findings for findings in on.get("old-belt-condition", []) if findings["belt-now"]] == []
    assert "belt-condition" in on


@pytest.mark.parametrize("pulley", PULLEYS)
def test_with_the_belt_off_and_not_sound_a_sound_one_is_on_before_anything_needs_it(pulley: str) -> None:
    for check_id, paths in asked_on_paths({"belt-now": "off-vehicle"}, pulley).items():
        state = shipped().states.get(shipped().checks[check_id].state)
        if state is None or state.belt == "removed" or check_id in NEED_NO_BELT:
            continue
        for findings in paths:
            sound = findings.get("old-belt-condition") == ("sound",) or findings.get("belt-condition") == ("sound",)
            looks_at_it = check_id == "belt-condition" and findings["belt-now"] == ()
            assert sound or looks_at_it or findings.get("sound-belt-on") == ("fitted",), (check_id, findings)
