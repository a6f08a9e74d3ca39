"""Advice on the shipped knowledge: what a session records, and what it loads for it."""

import subprocess
import sys
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest

from triage.app.advising.advice import (
    CLEARLY,
    HARDLY,
    MOST_CAUSES,
    _stands,
    _unlikely,
    likely_now,
    ranked_now,
    ranking_now,
    turning_point,
)
from triage.app.advising.worthwhile import meanwhile_now
from triage.app.cases import Case, rank_case, walk_case
from triage.app.job import Job
from triage.app.shop.shop_file import Shop, accuracies
from triage.app.sound import knowledge_of
from triage.errors import TraceDamaged
from triage.knowledge.loading import load_knowledge
from triage.knowledge.models import Knowledge
from triage.knowledge.shipped import trees_folder
from triage.record.counsel import LikelyCause, Reason
from triage.record.events import AdviceGiven, ConclusionReached
from triage.session.evolving import fold


@cache
def shipped() -> Knowledge:
    return load_knowledge(trees_folder())


def case(**findings: object) -> Case:
    told = {name.replace("_", "-"): found for name, found in findings.items()}
    vehicle = {"specified_pulley": "decoupler", "cylinders": 4}
    return Case.model_validate({"id": "one", "symptom": "shutdown-buzz", "vehicle": vehicle, "findings": told})


@cache
def walked() -> Job:
    rough = case(shutdown_listen="7 s", spin_decoupler_ring="rough")
    return walk_case(shipped(), rough, accuracies(shipped(), Shop()))[1]


def test_what_the_findings_leave_no_room_for_is_recorded_with_what_speaks_most_against_it() -> None:
    state = walked().state
    assert state.counsel
    unlikely = {one.cause: one for one in state.counsel.unlikely}
    assert unlikely
    assert not set(unlikely) & {one.cause for one in state.likely}
    assert all(one.probability < HARDLY and one.against.factor <= 1 / CLEARLY for one in unlikely.values())
    # A dry belt makes no buzz and is not among them: it could not have made the complaint.
    able = shipped().signs[state.symptom].produced_by
    assert set(unlikely) <= set(able)
    assert unlikely["bracket-loose"].against.check == "mounting"


def test_only_looks_rule_out() -> None:
    state = walked().state
    assert state.counsel
    for one in state.counsel.unlikely:
        assert not one.against.circumstance
        assert shipped().checks[one.against.check].way != "ask"


def test_a_conclusion_is_followed_by_advice_in_rounded_figures() -> None:
    kinds = [type(event) for event in walked().events]
    assert kinds.count(AdviceGiven) == kinds.count(ConclusionReached) == 1
    assert kinds.index(AdviceGiven) > kinds.index(ConclusionReached)
    likely = walked().state.likely
    assert len(likely) >= MOST_CAUSES
    for one in likely:
        assert one.probability == round(one.probability, 4)
        assert all(reason.factor == float(f"{reason.factor:.3g}") for reason in one.reasons)
    assert likely[0].cause == "decoupler-bearing-worn"


def test_the_causes_of_a_conclusion_are_always_among_the_advice() -> None:
    state = walked().state
    assert state.concluded is not None
    assert set(state.concluded.causes) <= {one.cause for one in state.likely}


def test_a_replay_reads_the_advice_and_computes_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    state = walked().state
    monkeypatch.delattr("triage.reasoning.advice.ranking.explained")
    assert fold(walked().events).likely == state.likely


@pytest.mark.parametrize("field", ["likely", "checks"])
def test_advice_that_names_what_the_knowledge_lacks_is_a_damaged_trace(field: str) -> None:
    started, given = walked().events[0], next(event for event in walked().events if isinstance(event, AdviceGiven))
    assert knowledge_of((started, given), Path("sound.jsonl")) == shipped()
    named = {"likely": {"cause": "gremlins"}, "checks": {"check": "smell-it"}}[field]
    strange = getattr(given, field)[0].model_copy(update=named)
    with pytest.raises(TraceDamaged, match=next(iter(named.values()))):
        knowledge_of((started, given.model_copy(update={field: (strange,)})), Path("edited.jsonl"))


def test_advice_beside_a_conclusion_weighs_the_checks_that_are_left() -> None:
    given = next(event for event in walked().events if isinstance(event, AdviceGiven))
    assert given.stands == "carried"
    assert given.pays == any(one.saves_min > one.minutes for one in given.checks)
    per_minute = [one.saves_min / one.minutes for one in given.checks]
    assert per_minute == sorted(per_minute, reverse=True)
    assert not {one.check for one in given.checks} & set(walked().state.findings)


def test_beside_a_conclusion_stand_the_looks_that_pay_while_the_belt_is_off() -> None:
    # A rough idler seldom makes the buzz, so that there may be something else while the belt is off for it.
    # In a round all of it would have been turned already.
    apart = shipped().model_copy(update={"rounds": {}})
    state = walk_case(apart, case(spin_idler="rough"), accuracies(shipped(), Shop()))[1].state
    meanwhile = meanwhile_now(shipped(), state)
    assert meanwhile
    for one in meanwhile:
        check = shipped().checks[one.check]
        needed = shipped().states[check.state]
        assert (needed.engine, needed.belt) == ("stopped", "removed")
        assert one.minutes == check.minutes < one.saves_min
    assert meanwhile_now(shipped(), replace(state, concluded=None)) == ()
    first = shipped().checks[meanwhile[0].check]
    uses_up = {**shipped().checks, first.id: first.model_copy(update={"consumes": ("a new cap",)})}
    for_nothing = replace(state, weights=state.weights.model_copy(update={"change_over_min": {"used_up": 0.0}}))
    spared = meanwhile_now(shipped().model_copy(update={"checks": uses_up}), for_nothing)
    assert [one.check for one in spared] == [one.check for one in meanwhile[1:]]


def test_distance_driven_and_earlier_renewals_count() -> None:
    far = replace(walked().state, facts={**walked().state.facts, "odometer": 3e8})
    renewed = replace(far, renewed_at_m={"alternator-pulley": 2.9e8})
    chances = [
        next(likely.present for likely in ranked_now(shipped(), one).likely if likely.cause == "decoupler-bearing-worn")
        for one in (walked().state, far, renewed)
    ]
    first, second, third = (chance or 0.0 for chance in chances)
    assert second > first > third
    reasons = {why.circumstance for one in likely_now(shipped(), far) for why in one.reasons}
    assert reasons & set(shipped().circumstances)


def test_the_ranking_and_its_reasons_name_the_same_figures() -> None:
    state = walked().state
    ranking = dict(ranking_now(shipped(), state))
    assert len(ranking) == len(shipped().causes)
    assert {one.cause: one.probability for one in likely_now(shipped(), state)}.items() <= ranking.items()


def test_ranking_a_case_takes_only_what_it_lists() -> None:
    used = accuracies(shipped(), Shop())
    listed = rank_case(shipped(), case(spin_decoupler_ring="rough"), used)
    assert listed.likely[0].cause == "decoupler-bearing-worn"
    assert listed != ranked_now(shipped(), walked().state)


def test_a_reading_near_a_limit_ranks_between_its_two_outcomes() -> None:
    used = accuracies(shipped(), Shop())
    chances = [
        next(
            one.probability
            for one in rank_case(shipped(), case(shutdown_listen=found), used).likely
            if one.cause == "decoupler-bearing-worn"
        )
        for found in ("short", "5.0 s", "buzzing")
    ]
    assert chances == sorted(chances)
    assert len(set(chances)) == 3


def test_nothing_heavy_is_loaded_before_the_first_advice() -> None:
    script = "import sys, triage.app.cases, triage.present.typing.interpreting; print('numpy' in sys.modules)"
    shown = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, check=True)
    assert shown.stdout == "False\n"


@pytest.mark.parametrize(("clearly", "stands"), [(False, "not-carried"), (True, "contradicted")])
def test_only_what_is_clearly_likelier_contradicts_a_conclusion(clearly: bool, stands: str) -> None:
    state = walked().state
    assert state.concluded
    stood_by, other = state.concluded.causes[0], "belt-condition"
    pays = state.weights.pays_from(stood_by)
    below = pays / 20 if clearly else pays * 0.99
    named = state.likely[0].model_copy(update={"cause": stood_by, "probability": below})
    ahead = named.model_copy(update={"cause": other, "probability": max(pays, state.weights.pays_from(other)) * 1.01})
    assert _stands(state, (ahead, named)) == stands


@pytest.mark.parametrize(("probability", "told"), [(HARDLY / 2, True), (HARDLY * 2, False)])
def test_what_is_still_likely_is_not_told_as_ruled_out(probability: float, *, told: bool) -> None:
    against = Reason(check="mounting", factor=0.01)
    one = LikelyCause(cause="bracket-loose", probability=probability, before=0.1, reasons=(against,))
    assert bool(_unlikely(shipped(), (one,))) == told


def test_how_likely_something_unlisted_made_the_complaint_is_recorded() -> None:
    counsel = walked().state.counsel
    assert counsel is not None
    assert counsel.unlisted is not None
    assert 0.0 < counsel.unlisted < 1.0


@pytest.mark.parametrize(("pays", "said"), [(True, False), (False, True)])
def test_it_is_said_where_checks_come_to_pay_no_more_and_where_they_pay_again(
    monkeypatch: pytest.MonkeyPatch, *, pays: bool, said: bool
) -> None:
    monkeypatch.setattr("triage.app.advising.advice.worth_now", lambda *_: ((), pays))
    state = walked().state
    assert state.counsel is not None
    paid_so_far, not_any_more = (
        replace(state, counsel=state.counsel.model_copy(update={"pays": paid})) for paid in (True, False)
    )
    assert bool(turning_point(shipped(), paid_so_far, 0)) == said
    assert bool(turning_point(shipped(), not_any_more, 0)) != said
