"""An exercise: what may be done, what it takes, what is held dangerous, and how it ends."""

import pytest

from triage.knowledge.models import Knowledge
from triage.knowledge.rounds import is_running
from triage.practice.allowed import refusal
from triage.practice.exercise import Exercise, Setting
from triage.practice.safety import Stands
from triage.practice.vehicle import Vehicle, drawn
from triage.reasoning.advice.changeover import ARRIVED, Standing, minutes_of


def at(setting: Setting, *causes: str, symptom: str = "belt-squeal", **more: object) -> Exercise:
    vehicle = Vehicle("k", symptom, 1, "decoupler", 1e8, causes, causes, **more)  # type: ignore[arg-type]
    return Exercise(setting, vehicle)


def followed(exercise: Exercise, most: int = 60) -> Exercise:
    """Go along the tree and judge everything as it is."""
    for _ in range(most):
        checks = exercise.of_tree()
        if not checks:
            break
        refused = refusal(exercise, checks)
        if refused:
            for check in checks:
                exercise.judge(check, ())
            continue
        for shown in exercise.go(checks).shown:
            exercise.judge(shown.check, shown.outcomes)
    return exercise


def a_running(exercise: Exercise) -> str:
    return next(one for one in exercise.checks if is_running(exercise.knowledge, exercise.knowledge.checks[one]))


def test_the_tree_leads_to_an_end_for_every_complaint(setting: Setting) -> None:
    for symptom in setting.knowledge.trees:
        exercise = followed(Exercise(setting, drawn(setting.knowledge, symptom, 1, 4)))
        node = exercise.place().node
        assert node.conclude or node.end


def test_minutes_are_those_of_checks_and_change_overs(setting: Setting) -> None:
    exercise = followed(at(setting, "noise-not-from-drive", symptom="bearing-rumble"))
    minutes, spent, starts = minutes_of(setting.weights), 0.0, 0
    how: Standing = ARRIVED
    for gone in exercise.course:
        assert gone.stood == how
        spent += minutes.of_go(setting.knowledge, [setting.knowledge.checks[one] for one in gone.checks], how)
        now: Standing = setting.knowledge.states.get(setting.knowledge.checks[gone.checks[-1]].state, how)
        set_up = any(setting.knowledge.checks[one].set_up for one in gone.checks)
        starts += now.engine == "running" and (how.engine == "stopped" or how.belt != now.belt or set_up)
        how = now
    assert exercise.minutes == pytest.approx(spent)
    assert exercise.starts == starts > 0


def test_a_start_before_the_looks_is_a_safety_error_and_is_not_made(setting: Setting) -> None:
    exercise = at(setting, "belt-worn")
    refused = refusal(exercise, [a_running(exercise)])
    assert refused is not None
    assert refused.unsafe is not None
    assert refused.unsafe.harm
    assert exercise.starts == 0


def test_what_closes_running_keeps_the_engine_off_whatever_it_was_taken_for(setting: Setting) -> None:
    knowledge = setting.knowledge
    check = next(
        one for one in knowledge.checks.values() if any(o.closes_running for o in one.outcomes) and one.untouched
    )
    bad = next(one for one in check.outcomes if one.closes_running)
    exercise = at(setting, "belt-worn", fixed={check.id: (bad.id,)})
    exercise.go([check.id])
    exercise.judge(check.id, (check.outcomes[0].id,))
    refused = refusal(exercise, [a_running(exercise)])
    assert refused is not None
    assert refused.unsafe is not None
    assert refused.unsafe.harm == bad.closes_running
    assert "Look again" in refused.why


def test_a_round_beside_a_running_engine_ends_at_what_closes_running(setting: Setting) -> None:
    knowledge = setting.knowledge
    running = next(
        one
        for one in knowledge.rounds.values()
        if knowledge.states[one.state].engine == "running" and len(one.checks) > 1
    )
    first = knowledge.checks[running.checks[0]]
    bad = next(one for one in first.outcomes if one.closes_running)
    exercise = at(setting, "belt-worn", fixed={first.id: (bad.id,)})
    assert exercise.go(running.checks).checks == running.checks[:1]


def test_a_tool_that_is_lent_out_makes_its_check_impossible(setting: Setting) -> None:
    exercise = at(setting, "belt-worn")
    check = next(one for one in exercise.checks if setting.knowledge.checks[one].tools)
    lacking = at(setting, "belt-worn", lacking=setting.knowledge.checks[check].tools)
    refused = refusal(lacking, [check])
    assert refused is not None
    assert refused.not_done == (check,)
    assert refused.unsafe is None


def test_the_complaint_is_gone_when_all_that_made_it_is_put_right(setting: Setting) -> None:
    causes = ("belt-worn", "tensioner-weak")
    remedies = [setting.knowledge.causes[one].remedy for one in causes]
    one = at(setting, *causes)
    one.repaired(causes[:1], remedies[:1])
    both = at(setting, *causes)
    both.repaired(causes, remedies)
    assert one.ended is not None
    assert both.ended is not None
    assert (one.ended.gone, both.ended.gone) == (False, True)
    assert (one.for_nothing(), both.for_nothing()) == ((), ())


def test_a_good_part_that_is_renewed_is_named(setting: Setting) -> None:
    exercise = at(setting, "belt-worn")
    other = setting.knowledge.causes["alternator-bearing-worn"].remedy
    exercise.repaired(("alternator-bearing-worn",), (other,))
    assert exercise.for_nothing() == (other,)


def test_the_proof_shows_whether_it_is_gone(setting: Setting) -> None:
    check = setting.knowledge.checks[setting.knowledge.trees["belt-squeal"].repeat]
    for done, wanted in ((("renew-belt",), "proves"), ((), "disproves")):
        exercise = at(setting, "belt-worn")
        exercise.repaired(("belt-worn",), done)
        before = exercise.minutes
        exercise.prove()
        assert exercise.ended is not None
        assert [check.proof(one, "decoupler") for one in exercise.ended.proof] == [wanted]
        assert exercise.minutes > before


def test_a_complaint_that_was_never_there_is_proved_by_nothing(setting: Setting) -> None:
    exercise = at(setting, "belt-worn", there=False, provoked=False)
    exercise.repaired(("belt-worn",), ("renew-belt",))
    assert exercise.prove() == ()


def test_another_look_shows_the_same_and_takes_its_minutes(setting: Setting) -> None:
    exercise = at(setting, "belt-worn")
    (shown,) = exercise.go(["belt-condition"]).shown
    first, before = exercise.perceived(shown), exercise.minutes
    assert exercise.again(shown) == first
    assert exercise.minutes == before + setting.knowledge.checks["belt-condition"].minutes


def test_what_protects_ends_as_in_a_session(knowledge: Knowledge) -> None:
    running = next(one for one in knowledge.states.values() if (one.engine, one.belt) == ("running", "fitted"))
    stopped = next(one for one in knowledge.states.values() if (one.engine, one.near) == ("stopped", "hands-in"))
    look = knowledge.checks["belt-condition"]
    safe = Stands().come_to(knowledge, stopped, look.model_copy(update={"untouched": False}))
    assert not safe.lacking(knowledge, stopped)
    ran = safe.left_for(knowledge, running).come_to(knowledge, running, look)
    again = {one.group for one in ran.left_for(knowledge, stopped).lacking(knowledge, stopped)}
    assert {"still", "key"} <= again
    assert {"cannot-roll", "people"}.isdisjoint(again)
