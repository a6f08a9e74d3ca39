"""What must come before a check on any route, on the shipped trees."""

from functools import cache

import pytest

from triage.knowledge.loading import load_knowledge
from triage.knowledge.models import PULLEYS, Knowledge
from triage.knowledge.precautions import NOT_DONE, Precautions
from triage.knowledge.shipped import trees_folder

LOOKED = {"complaint-heard": "heard-now", "belt-condition": "sound", "belt-fit": "correct", "fluid-leak": "none"}
TURNED = dict.fromkeys(("spin-idler", "spin-tensioner-pulley", "spin-alternator", "spin-water-pump"), "smooth")
TURNED |= {"spin-decoupler-ring": "smooth", "crank-coupling": "right", "heard-at-rest": "silent"}
BESIDE = {"spin-steering-pump": "smooth", "spin-compressor": "smooth"}
LOOKED |= {"debris": "none", "fan-drive": "right", "pulleys-in-sight": "nothing-in-sight"}


@cache
def shipped() -> Knowledge:
    return load_knowledge(trees_folder())


def running(checks: frozenset[str]) -> set[str]:
    knowledge = shipped()
    states = {check: knowledge.states.get(knowledge.checks[check].state) for check in checks}
    return {check for check, state in states.items() if state and state.engine == "running"}


@pytest.mark.parametrize("symptom", shipped().trees)
def test_nothing_runs_before_the_drive_was_looked_at(symptom: str) -> None:
    limits = Precautions(shipped(), shipped().trees[symptom], "decoupler")
    assert not running(limits.open_after({}))
    assert not running(limits.open_after({"complaint-heard": "heard-now"}))
    assert not running(limits.open_after({**LOOKED, "belt-fit": NOT_DONE, "mounting": "sound"}))
    assert not running(limits.open_after({**LOOKED, "fluid-leak": "leak", "mounting": "sound"}))


@pytest.mark.parametrize("pulley", PULLEYS)
def test_after_a_sound_look_the_engine_may_run(pulley: str) -> None:
    limits = Precautions(shipped(), shipped().trees["shutdown-buzz"], pulley)
    # What was heard turns the way before anything is taken apart, so it is asked first.
    by_hand = {**TURNED, "whirr-only": "other-noise", "pulley-security": "tight", "damper-condition": "sound"}
    assert "shutdown-listen" in limits.open_after({**LOOKED, "mounting": "sound", **by_hand})


def test_a_run_without_the_belt_waits_until_no_pulley_is_loose() -> None:
    limits = Precautions(shipped(), shipped().trees["shutdown-buzz"], "solid")
    looked = {**LOOKED, "mounting": "sound"}
    assert "belt-off-run" not in limits.open_after(looked)
    assert "belt-off-run" in limits.open_after(
        {**looked, **TURNED, **BESIDE, "pulley-security": "tight", "damper-condition": "sound"}
    )
    assert not running(limits.open_after({**looked, "pulley-security": "loose"}))


def test_a_thrown_belt_is_asked_about_overheating_first_and_never_runs() -> None:
    tree = shipped().trees["belt-thrown"]
    limits = Precautions(shipped(), tree, "decoupler")
    assert limits.open_after({}) == {"overheated"}
    everything = {check: shipped().checks[check].normal("decoupler") for check in limits.checks}
    assert not running(limits.open_after(everything))


def test_what_needs_a_belt_waits_for_one_after_a_belt_was_thrown() -> None:
    limits = Precautions(shipped(), shipped().trees["belt-thrown"], "solid")
    asked = {"overheated": "no-overheating", "complaint-heard": "heard-now"}
    assert "belt-fit" not in limits.open_after(asked)
