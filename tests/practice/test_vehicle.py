"""A vehicle in practice: drawn alike from a seed, one with itself, and as frequent as the knowledge says."""

import dataclasses
import random
import subprocess
import sys
from itertools import permutations

import pytest

from tests.bench import independent
from tests.bench import practise_many as many
from tests.sizes import few_or_all
from triage.errors import CommandRefused
from triage.knowledge.models import Knowledge
from triage.practice.answers import Answers, zone_bounds
from triage.practice.chance import share
from triage.practice.exercise import Setting
from triage.practice.levels import HARDEST, LEVELS
from triage.practice.vehicle import Vehicle, drawn

SEEDS = range(few_or_all(60, 1000))


def test_numbers_are_drawn_alike_on_any_machine() -> None:
    assert [share("belt", 1), share("belt", 2)] == [0.9509295622827738, 0.8477241513198326]


def test_the_same_seed_gives_the_same_vehicle_in_another_process(knowledge: Knowledge) -> None:
    program = (
        "from triage.knowledge.loading import load_knowledge; from triage.knowledge.shipped import trees_folder;"
        "from triage.practice.vehicle import drawn; knowledge = load_knowledge(trees_folder());"
        "print([drawn(knowledge, '', 1 + seed % 5, seed) for seed in range(10)])"
    )
    told = subprocess.run(
        [sys.executable, "-c", program], capture_output=True, text=True, check=True, env={"PYTHONHASHSEED": "7"}
    )
    assert told.stdout.strip() == str([drawn(knowledge, "", 1 + seed % 5, seed) for seed in range(10)])


def test_other_seeds_give_other_vehicles(knowledge: Knowledge) -> None:
    assert len({drawn(knowledge, "belt-squeal", 1, seed).faults for seed in range(40)}) > 3


def test_a_vehicle_is_as_its_level_says_and_has_what_such_a_vehicle_can_have(knowledge: Knowledge) -> None:
    for _, vehicle in many.vehicles(knowledge, SEEDS):
        level = LEVELS[vehicle.level - 1]
        assert vehicle.sound or len(vehicle.faults) in level.faults
        assert vehicle.sound == (not vehicle.made)
        assert set(vehicle.made) <= set(vehicle.faults) & set(knowledge.signs[vehicle.symptom].produced_by)
        for cause in vehicle.faults:
            assert vehicle.pulley in (knowledge.causes[cause].only_for or (vehicle.pulley,))
        assert vehicle.there or vehicle.sound or level.intermittent
        assert len(vehicle.lacking) <= level.lacking


def test_harder_levels_have_two_faults_nothing_at_all_and_complaints_that_come_and_go(knowledge: Knowledge) -> None:
    drawn_ones = [one for _, one in many.vehicles(knowledge, range(300))]
    hardest = [one for one in drawn_ones if one.level == HARDEST]
    easiest = [one for one in drawn_ones if one.level == 1]
    assert {len(one.faults) for one in hardest} == {0, 2}
    assert any(not one.there for one in hardest)
    assert any(one.lacking for one in hardest)
    assert all(len(one.faults) == 1 and one.there and not one.lacking for one in easiest)


def test_nothing_that_a_vehicle_shows_contradicts_anything_else(setting: Setting) -> None:
    for seed, vehicle in many.vehicles(setting.knowledge, SEEDS):
        assert many.contradictions(setting, vehicle, random.Random(seed), questions=80) == []


def test_what_a_vehicle_shows_does_not_hang_on_the_order_of_the_questions(setting: Setting) -> None:
    vehicle = drawn(setting.knowledge, "belt-squeal", 3, 5)
    checks = ("belt-condition", "belt-wear", "tensioner-travel")
    shown = {
        tuple(sorted((check, answers.shown(check)) for check in order))
        for order in permutations(checks)
        for answers in [Answers(setting.knowledge, vehicle, setting.accuracies)]
    }
    assert len(shown) == 1


def test_answers_are_as_frequent_as_the_strengths_say(setting: Setting) -> None:
    tried, odd = many.improbable(setting, ["belt-squeal", "bearing-rumble"], many=few_or_all(400, 4000), most=25)
    assert tried == 25
    assert odd == []


def test_that_test_of_frequencies_sees_a_strength_that_is_wrong(
    setting: Setting, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setitem(independent.PUSH, "usually", 0.70)
    _, odd = many.improbable(setting, ["belt-squeal", "bearing-rumble"], many=2000, most=25)
    assert odd


def test_readings_scatter_around_one_value_by_what_the_instrument_is_off(setting: Setting) -> None:
    knowledge = setting.knowledge
    check = next(one for one in knowledge.checks.values() if one.reading and not one.reading.formula)
    assert check.reading is not None
    vehicle = drawn(knowledge, "shutdown-buzz", 1, 1)
    answers = Answers(knowledge, vehicle, setting.accuracies)
    shown = answers.shown(check.id)
    accuracy = setting.accuracies[check.reading.instrument]
    assert shown.value is not None
    width = accuracy.relative * shown.value + accuracy.absolute
    readings = [answers.reading(shown, number) for number in range(200)]
    assert len(set(readings)) == 200
    assert all(abs(one - shown.value) <= width * (1 + 1e-12) for one in readings)
    assert abs(sum(readings) / 200 - shown.value) < width / 5


def test_a_measured_value_lies_in_the_zone_of_its_outcome(setting: Setting) -> None:
    for _, vehicle in many.vehicles(setting.knowledge, range(40)):
        answers = Answers(setting.knowledge, vehicle, setting.accuracies)
        for check in setting.knowledge.checks.values():
            shown = answers.shown(check.id) if not check.only_for or vehicle.pulley in check.only_for else None
            if shown is None or shown.value is None or check.reading is None:
                continue
            bounds = zone_bounds(check.reading, shown.outcomes[0])
            assert bounds is not None
            assert bounds[0] <= shown.value <= bounds[1]


def test_a_complaint_that_comes_and_goes_shows_nothing_until_a_test_brings_it_on(setting: Setting) -> None:
    knowledge = setting.knowledge
    tree = next(one for one in knowledge.trees.values() if one.complaint)
    assert tree.complaint is not None
    brings = next(
        one.id
        for one in knowledge.checks.values()
        if any(out.complaint == "there" for out in one.outcomes)
        and one.id not in (tree.complaint.met, tree.complaint.now)
    )
    needs = next(one for one in knowledge.checks.values() if one.needs_complaint)
    cause = next(iter(knowledge.signs[tree.symptom].produced_by))
    vehicle = Vehicle("k", tree.symptom, 5, "decoupler", 1e8, (cause,), (cause,), there=False)
    answers = Answers(knowledge, vehicle, setting.accuracies)
    assert answers.shown(needs.id).outcomes == ()
    assert answers.shown(needs.id, (brings,)).outcomes
    never = Answers(knowledge, dataclasses.replace(vehicle, provoked=False), setting.accuracies)
    assert never.shown(needs.id, (brings,)).outcomes == ()


def test_a_complaint_that_hardly_any_vehicle_has_is_refused(knowledge: Knowledge) -> None:
    symptom = next(iter(knowledge.trees))
    sign = knowledge.signs[symptom].model_copy(update={"produced_by": {}})
    poorer = knowledge.model_copy(update={"signs": {**knowledge.signs, symptom: sign}})
    with pytest.raises(CommandRefused, match="Hardly any vehicle"):
        drawn(poorer, symptom, 1, 0)
