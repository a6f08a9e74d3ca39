"""What a check that has not been made would tell, on the shipped knowledge."""

from functools import cache

import pytest

from triage.knowledge.loading import load_knowledge
from triage.knowledge.models import PULLEYS, Knowledge
from triage.knowledge.shipped import trees_folder
from triage.knowledge.walk import fits
from triage.reasoning.advice.outcomes_ahead import outlooks
from triage.reasoning.advice.ranking import ranked
from triage.reasoning.inference.evidence import Found

BUZZ = "shutdown-buzz"
ROUGH = Found("spin-decoupler-ring", ("rough",))


@cache
def shipped() -> Knowledge:
    return load_knowledge(trees_folder())


@pytest.mark.parametrize("pulley", PULLEYS)
def test_the_outcomes_of_every_check_are_expected_in_shares_that_add_up_to_one(pulley: str) -> None:
    findings = (Found("belt-condition", ("sound",)),)
    seen = 0
    for check in shipped().checks.values():
        normal = check.outcome(check.normal(pulley))
        told = [outcome for outcome in check.outcomes if outcome is not normal and not outcome.says_nothing]
        tells = check.sign or (told and all(outcome.sign for outcome in told))
        # Where the first answer is "not sure", none of them stands for "nothing of all this".
        if check.several or not tells or (normal and normal.says_nothing) or not fits(shipped(), check.id, pulley):
            continue
        expected = outlooks(shipped(), BUZZ, findings, pulley, check.id)
        assert sum(one.chance for one in expected) == pytest.approx(1.0, abs=1e-3), check.id  # rounded
        seen += 1
    assert seen > 15


def test_an_outcome_leads_to_the_ranking_that_it_would_give() -> None:
    (rough,) = [one for one in outlooks(shipped(), BUZZ, (), "decoupler", ROUGH.check) if one.outcome == "rough"]
    top = ranked(shipped(), BUZZ, (ROUGH,), "decoupler").likely[0]
    now = {one.cause: one.probability for one in ranked(shipped(), BUZZ, (), "decoupler").likely}
    assert rough.cause == top.cause
    assert rough.after == pytest.approx(top.probability)
    assert rough.before == pytest.approx(now[top.cause])


def test_a_finding_of_the_check_itself_is_passed_over() -> None:
    with_it = outlooks(shipped(), BUZZ, (ROUGH,), "decoupler", ROUGH.check)
    assert with_it == outlooks(shipped(), BUZZ, (), "decoupler", ROUGH.check)


def test_an_outcome_that_cannot_be_has_no_chance() -> None:
    slips = Found("decoupler-drive-feel", ("slips",))
    holds = outlooks(shipped(), BUZZ, (slips,), "unknown", "clutch-drive-feel")[0]
    assert (holds.outcome, holds.chance, holds.cause) == ("holds", 0.0, "")


def test_findings_that_contradict_each_other_promise_nothing() -> None:
    findings = (Found("decoupler-drive-feel", ("slips",)), Found("clutch-drive-feel", ("holds",)))
    assert outlooks(shipped(), BUZZ, findings, "unknown", "belt-condition") == ()
