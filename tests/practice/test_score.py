"""The score: against the reference, in expectation, each part for what it is."""

import random
from dataclasses import replace

import pytest

from tests.bench import practise_many as many
from tests.bench.practise_learners import concluded, judged, reference, tree_follower
from tests.sizes import few_or_all
from triage.practice.exercise import Exercise, Setting
from triage.practice.hints import PRICES_MIN, hint
from triage.practice.score import PARTS, Scorer, reference_way
from triage.practice.vehicle import Vehicle, drawn
from triage.present.practising.debrief import debrief

CHANCE = random.Random(0)


def at(setting: Setting, seed: int, symptom: str = "belt-squeal", level: int = 1) -> Exercise:
    return Exercise(setting, drawn(setting.knowledge, symptom, level, seed))


def test_the_reference_itself_loses_nothing(setting: Setting) -> None:
    for _, vehicle in many.vehicles(setting.knowledge, range(few_or_all(8, 200))):
        exercise = Exercise(setting, vehicle)
        reference(exercise, CHANCE)
        score = Scorer(exercise).score()
        assert score.of("check") == pytest.approx(0.0, abs=1e-9)
        assert score.of("judgement") == pytest.approx(0.0, abs=1e-9)
        assert score.of("conclusion") == pytest.approx(0.0, abs=1e-6)
        assert score.total_min == pytest.approx(0.0, abs=1e-6)


def test_steps_and_parts_each_add_up_to_the_total(setting: Setting) -> None:
    exercise = at(setting, 4)
    tree_follower(exercise, CHANCE)
    score = Scorer(exercise).score()
    assert len(score.steps) > 5
    assert score.total_min == pytest.approx(sum(score.of(part) for part in PARTS))


def test_luck_does_not_count_only_what_was_seen_and_done(setting: Setting) -> None:
    checks = ("complaint-heard", "belt-condition", "belt-wear", "tensioner-travel")
    totals = []
    for cause in ("belt-worn", "groove-fouled"):
        fixed = {check: (setting.knowledge.checks[check].normal("decoupler"),) for check in checks}
        vehicle = Vehicle("k", "belt-squeal", 1, "decoupler", 1e8, (cause,), (cause,), fixed=fixed)
        exercise = Exercise(setting, vehicle)
        for check in checks:
            judged(exercise, (check,))
        exercise.repaired(("belt-worn",), ("renew-belt",))
        totals.append(Scorer(exercise).score().total_min)
    assert totals[0] == pytest.approx(totals[1])


def test_a_check_that_tells_nothing_costs_its_minutes_and_change_over(setting: Setting) -> None:
    plain, dear = at(setting, 4), at(setting, 4)
    for exercise in (plain, dear):
        judged(exercise, ("complaint-heard",))
    idle = next(
        one.id
        for one in setting.knowledge.checks.values()
        if one.id in dear.checks and one.way == "ask" and one.id not in (*dear.precautions.guards, "complaint-heard")
    )
    judged(dear, (idle,))
    (step,) = [one for one in Scorer(dear).course.steps() if one.checks == (idle,)]
    assert step.regret_min <= setting.knowledge.checks[idle].minutes + 1e-9


def test_what_is_misjudged_is_lost_in_judgement(setting: Setting) -> None:
    fixed = {"belt-wear": ("worn",), "belt-condition": ("worn",)}
    vehicle = Vehicle("k", "belt-squeal", 1, "decoupler", 1e8, ("belt-worn",), ("belt-worn",), fixed=fixed)
    right, wrong = Exercise(setting, vehicle), Exercise(setting, vehicle)
    for exercise in (right, wrong):
        for check in ("complaint-heard", "belt-condition", "belt-wear"):
            judged(exercise, (check,))
    for check in fixed:
        wrong.judge(check, (setting.knowledge.checks[check].normal("decoupler"),))
    concluded(right, ("belt-worn",))
    concluded(wrong, ())
    assert Scorer(right).score().of("judgement") == pytest.approx(0.0)
    lost = Scorer(wrong).score()
    assert lost.of("judgement") > 30.0
    assert lost.of("conclusion") == pytest.approx(0.0)


def test_a_conclusion_that_the_findings_do_not_carry_is_charged_as_one(setting: Setting) -> None:
    exercise = at(setting, 4)
    reference(exercise, CHANCE)
    assert exercise.ended is not None
    other = next(one for one in exercise.nameable() if one not in exercise.ended.causes)
    remedy = setting.knowledge.causes[other].remedy
    exercise.ended = replace(exercise.ended, causes=(other,), remedies=(remedy,), proved="x")
    score = Scorer(exercise).score()
    assert score.of("conclusion") > 0.0
    assert score.of("check") == pytest.approx(0.0)
    assert score.of("repair") == pytest.approx(0.0)


def test_a_repair_without_proof_is_charged_for_what_may_come_back(setting: Setting) -> None:
    exercise = at(setting, 4)
    reference(exercise, CHANCE)
    assert exercise.ended is not None
    assert Scorer(exercise).score().of("proof") == 0.0
    exercise.ended = replace(exercise.ended, proved="", proof=())
    assert Scorer(exercise).score().of("proof") >= 0.0


def test_beliefs_are_scored_against_what_made_it(setting: Setting) -> None:
    exercise = at(setting, 4)
    (made,) = exercise.vehicle.made
    exercise.believe({made: 1.0})
    exercise.believe({})
    concluded(exercise, ())
    sure, silent = Scorer(exercise).score().brier
    assert sure == 0.0
    assert silent == pytest.approx(1 / len(exercise.nameable()))


def test_hints_go_from_open_causes_to_the_next_check_and_have_their_price(setting: Setting) -> None:
    exercise = at(setting, 4)
    judged(exercise, ("complaint-heard",))
    first, second, third = (hint(exercise, step) for step in range(3))
    assert first.causes
    assert second.checks
    assert third.checks or third.ends
    exercise.hint_min = sum(PRICES_MIN)
    concluded(exercise, ())
    assert Scorer(exercise).score().of("hints") == sum(PRICES_MIN)


def test_trying_again_begins_with_what_was_found_by_then(setting: Setting) -> None:
    exercise = at(setting, 4)
    tree_follower(exercise, CHANCE)
    anew = exercise.again_from(3)
    assert anew.made == dict(exercise.course[3].before)
    assert anew.stands.how == exercise.course[3].stood
    assert anew.minutes == pytest.approx(sum(one.minutes for one in exercise.course[:3]))


def test_the_moment_at_which_the_truth_was_ruled_out_is_named(setting: Setting) -> None:
    vehicle = Vehicle(
        "k", "belt-squeal", 1, "decoupler", 1e8, ("belt-worn",), ("belt-worn",), fixed={"belt-wear": ("worn",)}
    )
    exercise = Exercise(setting, vehicle)
    for check in ("complaint-heard", "belt-wear"):
        judged(exercise, (check,))
    concluded(exercise, ())
    assert Scorer(exercise).score().lost_at is None
    told = "\n".join(debrief(exercise).lines)
    assert "ruled out" not in told


def test_the_debrief_sets_both_ways_side_by_side_and_names_the_dearest_step(setting: Setting) -> None:
    exercise = at(setting, 9, symptom="bearing-rumble", level=4)
    tree_follower(exercise, CHANCE)
    told = debrief(exercise)
    text = "\n".join(told.lines)
    assert "Your way beside that of the reference" in text
    assert text.count("you: ") == text.count("it:  ") >= len(reference_way(exercise).goes)
    if told.score.worst and round(told.score.worst.regret_min) >= 1:
        assert "Most was lost at" in text
