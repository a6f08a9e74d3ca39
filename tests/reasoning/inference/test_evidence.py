"""What findings say about signs."""

import pytest

from triage.knowledge.models import Check, Figure, Knowledge, Outcome, Reading, Sign, Zone
from triage.reasoning.inference.evidence import NOTHING, Alternative, Found, complaint, leading, meaning, together

ABSENT, PRESENT = (1.0, 0.0), (0.0, 1.0)


def knowledge(*checks: Check) -> Knowledge:
    names = ("torn", "wet", "worn", "coasts", "stops")
    signs = {name: Sign(id=name, name=name) for name in names}
    signs["drag"] = Sign(id="drag", name="drag", levels=("free", "borderline", "stiff"))
    empty: dict[str, dict[str, object]] = {name: {} for name in Knowledge.model_fields}
    return Knowledge.model_validate({**empty, "signs": signs, "checks": {check.id: check for check in checks}})


def check(*outcomes: Outcome, **more: object) -> Check:
    base = {
        "id": "look",
        "name": "Look",
        "way": "look",
        "question": "?",
        "why": "-",
        "minutes": 1.0,
        "state": "stopped",
    }
    return Check.model_validate({**base, "outcomes": outcomes, **more})


def outcome(name: str, sign: str | None = None, *, says_nothing: bool = False) -> Outcome:
    return Outcome(id=name, words=name, sign=sign, says_nothing=says_nothing)


BELT = (outcome("sound"), outcome("is-torn", "torn"), outcome("is-wet", "wet"), outcome("is-worn", "worn"))


def signs(told: Check, *outcomes: str, pulley: str = "solid", zones: tuple[float, ...] = ()) -> object:
    said = meaning(knowledge(told), Found("look", outcomes, zones), pulley)
    assert len(said) == 1
    assert said[0].weight == 1.0
    return said[0].signs


@pytest.mark.parametrize(
    ("told", "expected"),
    [
        ("sound", {"torn": ABSENT, "wet": ABSENT, "worn": ABSENT}),
        ("is-torn", {"torn": PRESENT}),
        ("is-wet", {"torn": ABSENT, "wet": PRESENT}),
        ("is-worn", {"torn": ABSENT, "wet": ABSENT, "worn": PRESENT}),
    ],
)
def test_an_outcome_rules_out_what_comes_before_it_and_leaves_the_rest_open(told: str, expected: object) -> None:
    assert signs(check(*BELT), told) == expected


def test_the_outcomes_of_a_check_add_up_to_one() -> None:
    chances = {"torn": 0.3, "wet": 0.6, "worn": 0.2}
    total = 0.0
    for told in BELT:
        (one,) = meaning(knowledge(check(*BELT)), Found("look", (told.id,)), "solid")
        product = 1.0
        for sign, (absent, present) in one.signs.items():
            product *= absent * (1 - chances[sign]) + present * chances[sign]
        total += product
    assert total == pytest.approx(1.0)


def test_what_says_nothing_and_what_could_not_be_done_is_no_evidence() -> None:
    told = check(*BELT, outcome("cannot-tell", says_nothing=True))
    assert meaning(knowledge(told), Found("look", ()), "solid") == NOTHING
    assert meaning(knowledge(told), Found("look", ("cannot-tell",)), "solid") == NOTHING
    several = check(*BELT, outcome("cannot-tell", says_nothing=True), several=True)
    assert meaning(knowledge(several), Found("look", ("cannot-tell",)), "solid") == NOTHING


def test_the_vehicle_decides_which_outcome_is_normal() -> None:
    told = check(outcome("coasts", "coasts"), outcome("stops", "stops"), normal_for={"solid": "stops"})
    assert signs(told, "stops", pulley="solid") == {"coasts": ABSENT}
    assert signs(told, "coasts", pulley="solid") == {"coasts": PRESENT}
    assert signs(told, "stops", pulley="decoupler") == {"stops": PRESENT}
    assert signs(told, "coasts", pulley="decoupler") == {"stops": ABSENT}


def test_where_several_may_be_named_the_others_are_absent() -> None:
    told = check(*BELT, several=True)
    assert signs(told, "is-torn", "is-worn") == {"torn": PRESENT, "wet": ABSENT, "worn": PRESENT}
    assert signs(told, "sound") == {"torn": ABSENT, "wet": ABSENT, "worn": ABSENT}


LEVELLED = check(outcome("free"), outcome("borderline"), outcome("stiff"), sign="drag")
LIMITS = (Figure(text="1", source="invented"), Figure(text="2", source="invented"))


def test_what_a_tree_goes_by_is_the_first_that_shows_where_several_may_be_named() -> None:
    told = check(*BELT, several=True)
    assert leading(knowledge(told), "look", "is-wet", "solid") == {"torn": ABSENT, "wet": PRESENT}


def test_a_normal_answer_that_says_nothing_still_goes_with_signs_that_are_absent() -> None:
    told = check(outcome("not-sure", says_nothing=True), outcome("is-torn", "torn"))
    assert leading(knowledge(told), "look", "not-sure", "solid") == {"torn": ABSENT}


def reading(*outcomes: str) -> Reading:
    zones = tuple(
        Zone(outcome=told, below=limit)
        for told, limit in zip(outcomes, (*LIMITS[: len(outcomes) - 1], None), strict=True)
    )
    return Reading(kind="torque", parts=(), instrument="wrench", zones=zones)


def test_the_outcome_of_a_levelled_sign_is_its_level() -> None:
    assert signs(LEVELLED, "borderline") == {"drag": (0.0, 1.0, 0.0)}


def test_a_reading_near_a_limit_speaks_for_both_its_zones() -> None:
    told = LEVELLED.model_copy(update={"reading": reading("free", "borderline", "stiff")})
    assert signs(told, "borderline", zones=(0.3, 0.7, 0.0)) == {"drag": (0.3, 0.7, 0.0)}


def test_a_level_that_no_zone_reaches_is_ruled_out_by_a_reading() -> None:
    told = LEVELLED.model_copy(update={"reading": reading("free", "stiff")})
    assert signs(told, "stiff", zones=(0.1, 0.9)) == {"drag": (0.1, 0.0, 0.9)}


def test_zones_with_signs_of_their_own_are_alternatives() -> None:
    told = check(*BELT[:3], reading=reading("sound", "is-torn", "is-wet"))
    assert meaning(knowledge(told), Found("look", ("sound",), (0.2, 0.8, 0.0)), "solid") == (
        Alternative(0.2, {"torn": ABSENT, "wet": ABSENT}),
        Alternative(0.8, {"torn": PRESENT}),
    )


def test_zones_that_differ_in_one_sign_alone_are_told_in_one() -> None:
    told = check(*BELT[:3], reading=reading("sound", "is-torn", "is-wet"))
    assert meaning(knowledge(told), Found("look", ("sound",), (0.2, 0.3, 0.5)), "solid") == (
        Alternative(1.0, {"torn": ABSENT, "wet": (0.2, 0.5)}),
        Alternative(0.3, {"torn": PRESENT}),
    )


def test_evidence_about_one_sign_is_multiplied() -> None:
    one, other = (
        Alternative(0.5, {"drag": (0.2, 0.8, 0.0)}),
        Alternative(0.5, {"drag": (0.5, 0.5, 1.0), "wet": PRESENT}),
    )
    assert together([(one,), (other,)]) == (Alternative(0.25, {"drag": (0.1, 0.4, 0.0), "wet": PRESENT}),)


def test_evidence_that_contradicts_itself_leaves_nothing() -> None:
    assert together([(Alternative(1.0, {"wet": PRESENT}),), (Alternative(1.0, {"wet": ABSENT}),)]) == ()


def test_the_complaint_is_its_own_sign() -> None:
    assert complaint(knowledge(), "wet") == (Alternative(1.0, {"wet": PRESENT}),)
    assert complaint(knowledge(), "not-a-sign") == NOTHING
