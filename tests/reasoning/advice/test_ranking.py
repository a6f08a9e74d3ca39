"""Rankings of causes and what speaks for and against them, on the shipped knowledge."""

from functools import cache
from itertools import pairwise

import pytest

from triage.knowledge.loading import load_knowledge
from triage.knowledge.models import Knowledge
from triage.knowledge.shipped import trees_folder
from triage.reasoning.advice.ranking import FAINT, explained, ranked
from triage.reasoning.inference.evidence import Found

BUZZ = "shutdown-buzz"
ROUGH = Found("spin-decoupler-ring", ("rough",))
SLIPS = Found("decoupler-drive-feel", ("slips",))


@cache
def shipped() -> Knowledge:
    return load_knowledge(trees_folder())


def test_every_cause_that_the_vehicle_can_have_is_ranked_from_the_likeliest_down() -> None:
    likely = ranked(shipped(), BUZZ, (ROUGH,), "decoupler").likely
    assert {one.cause for one in likely} == set(shipped().causes)
    assert [one.probability for one in likely] == sorted((one.probability for one in likely), reverse=True)
    assert likely[0].cause == "decoupler-bearing-worn"


def test_a_solid_pulley_has_no_clutch_that_could_fail() -> None:
    assert not any("decoupler" in one.cause for one in ranked(shipped(), BUZZ, (), "solid").likely)


def test_what_could_not_be_done_changes_nothing() -> None:
    undone = Found("shutdown-listen", ())
    assert ranked(shipped(), BUZZ, (ROUGH, undone), "decoupler") == ranked(shipped(), BUZZ, (ROUGH,), "decoupler")


def test_two_faults_can_be_likely_at_once() -> None:
    findings = (ROUGH, Found("bearing-listen", ("idler",)), Found("spin-idler", ("rough",)))
    likely = {one.cause: one.present for one in ranked(shipped(), BUZZ, findings, "decoupler").likely}
    assert (likely["decoupler-bearing-worn"] or 0.0) > 0.5
    assert (likely["idler-bearing-worn"] or 0.0) > 0.5


def test_a_fault_that_is_there_need_not_have_made_the_complaint() -> None:
    (idler,) = [
        one
        for one in ranked(shipped(), BUZZ, (Found("spin-idler", ("rough",)),), "decoupler").likely
        if one.cause == "idler-bearing-worn"
    ]
    assert idler.present is not None
    assert idler.present > 0.9
    assert idler.probability < 0.3


def test_findings_that_contradict_each_other_leave_no_ranking() -> None:
    holds = Found("clutch-drive-feel", ("holds",))
    assert ranked(shipped(), BUZZ, (SLIPS, holds), "unknown").likely == ()
    assert explained(shipped(), BUZZ, (SLIPS, holds), "unknown", 3).likely == ()


def test_a_factor_is_what_one_finding_does_to_the_odds() -> None:
    findings = (ROUGH, Found("shutdown-listen", ("buzzing",)))
    top = explained(shipped(), BUZZ, findings, "decoupler", 1).likely[0]
    assert {reason.check for reason in top.reasons} == {"spin-decoupler-ring", "shutdown-listen"}
    for reason in top.reasons:
        rest = tuple(found for found in findings if found.check != reason.check)
        without = {one.cause: one.probability for one in ranked(shipped(), BUZZ, rest, "decoupler").likely}[top.cause]
        odds = without / (1 - without) * reason.factor
        assert odds / (1 + odds) == pytest.approx(top.probability, rel=0.01)  # of rounded figures


def test_a_finding_that_hardly_changes_the_odds_is_no_reason() -> None:
    findings = (ROUGH, Found("belt-condition", ("sound",)))
    every = explained(shipped(), BUZZ, findings, "decoupler", len(shipped().causes))
    factors = [reason.factor for one in every.likely for reason in one.reasons]
    assert factors
    assert not [factor for factor in factors if 1 / FAINT < factor < FAINT]


def test_causes_that_are_equally_likely_stand_in_the_authors_order() -> None:
    order = list(shipped().causes)
    likely = ranked(shipped(), BUZZ, (ROUGH,), "decoupler").likely
    for one, other in pairwise(likely):
        assert (-one.probability, order.index(one.cause)) < (-other.probability, order.index(other.cause))


def test_the_strongest_reason_comes_first_and_a_finding_can_speak_against() -> None:
    findings = (ROUGH, Found("cap-contents", ("clean",)))
    top = explained(shipped(), BUZZ, findings, "decoupler", 1).likely[0]
    assert top.reasons[0].factor > 1
    assert {reason.check: reason.factor < 1 for reason in top.reasons}["cap-contents"]
