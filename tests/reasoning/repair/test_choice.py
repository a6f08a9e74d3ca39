"""Which repair pays, on the shipped knowledge with prices made up for the tests."""

from functools import cache

import pytest

from triage.knowledge.loading import load_knowledge
from triage.knowledge.models import Knowledge
from triage.knowledge.shipped import trees_folder
from triage.reasoning.repair.choice import repair_choice
from triage.reasoning.repair.suspects import SuspectVehicle
from triage.record.prices import Prices, RepairChoice, VisitCost
from triage.record.wear import Weibull

KM = 1000.0
PARTS = {
    "belt": 50.0,
    "tensioner": 120.0,
    "tensioner-pulley": 30.0,
    "alternator-pulley": 90.0,
    "pulley-cap": 5.0,
    "alternator": 400.0,
    "idler": 30.0,
}
PULLEY, BEARING = "decoupler-bearing-worn", "alternator-bearing-worn"


@cache
def shipped() -> Knowledge:
    return load_knowledge(trees_folder())


def prices(**more: object) -> Prices:
    lives = {part: Weibull(shape=4.0, scale=200_000 * KM) for part in ("belt", "tensioner", "alternator-pulley")}
    lives["alternator"] = Weibull(shape=4.0, scale=300_000 * KM)
    given = {"currency": "EUR", "hour_rate": 100.0, "breakdown": 250.0, "parts": PARTS, "lives": lives}
    return Prices.model_validate({**given, "kept_m": 100_000 * KM, **more})


def chosen(
    chances: dict[str, float],
    *,
    given: Prices | None = None,
    concluded: str = PULLEY,
    made: tuple[str, ...] = (),
    driven_km: float | None = None,
) -> RepairChoice:
    every = {cause: chances.get(cause, 0.0) for cause in shipped().causes}
    using = given or prices()
    ages = dict.fromkeys(using.lives, driven_km * KM) if driven_km is not None else {}
    behind = {*shipped().signs["shutdown-buzz"].produced_by, concluded}
    whole = sum(chance for cause, chance in every.items() if cause in behind)

    def gone(causes: frozenset[str]) -> float:
        """As if one cause alone could have made the complaint, so that shares can be checked by hand."""
        return sum(every[cause] for cause in sorted(causes & behind)) / whole if whole else 0.0

    vehicle = SuspectVehicle("shutdown-buzz", tuple(every), gone, frozenset({concluded} - {""}), made, ages)
    return repair_choice(shipped(), vehicle, using)


def visit(choice: RepairChoice, *remedies: str) -> VisitCost:
    return next(one for one in choice.visits if set(one.remedies) == set(remedies))


def test_the_pulley_alone_pays_while_the_alternator_is_sound() -> None:
    choice = chosen({PULLEY: 0.9, BEARING: 0.02})
    assert choice.visits[0].remedies == ("renew-decoupler-pulley",)
    pulley, whole = visit(choice, "renew-decoupler-pulley"), visit(choice, "renew-alternator")
    assert pulley.total < whole.total
    assert pulley.now == pytest.approx(100 * (8 + 20 + 60 + 20) / 60 + 95)
    assert whole.now == pytest.approx(100 * (8 + 20 + 60 + 15) / 60 + 400, abs=0.01)
    assert whole.cures > pulley.cures


def test_the_whole_alternator_pays_where_its_own_bearing_is_as_likely() -> None:
    choice = chosen({PULLEY: 0.5, BEARING: 0.5}, given=prices(hour_rate=300.0), made=("spin-alternator",))
    assert choice.visits[0].remedies == ("renew-alternator",)
    assert choice.visits[0].cures == pytest.approx(1.0)
    assert choice.visits[0].further == 0.0
    assert choice.tries[0].remedy == "renew-alternator"


def test_the_whole_alternator_pays_where_the_alternator_is_old_too() -> None:
    young, old = (chosen({PULLEY: 1.0}, driven_km=km) for km in (40.0, 290_000.0))
    assert "renew-alternator" not in young.visits[0].remedies
    assert "renew-alternator" in old.visits[0].remedies


def test_worn_parts_are_renewed_with_the_rest_and_new_ones_are_not() -> None:
    given = prices(lives={part: prices().lives[part] for part in ("belt", "tensioner")})
    worn, new = (chosen({PULLEY: 1.0}, given=given, driven_km=km) for km in (180_000.0, 10_000.0))
    assert {"renew-belt", "renew-tensioner"} <= set(worn.visits[0].remedies)
    assert new.visits[0].remedies == ("renew-decoupler-pulley",)
    alone = visit(worn, "renew-decoupler-pulley")
    assert worn.visits[0].total < alone.total
    labour_of_their_own = 100 * (15 + 20) / 60
    assert worn.visits[0].now - alone.now == pytest.approx(170.0 + labour_of_their_own, abs=0.02)


def test_nothing_is_renewed_for_longer_than_the_vehicle_is_kept() -> None:
    choice = chosen({PULLEY: 1.0}, given=prices(kept_m=500 * KM), driven_km=130_000.0)
    assert choice.visits[0].remedies == ("renew-decoupler-pulley",)


def test_without_an_age_nothing_is_said_of_worn_parts() -> None:
    choice = chosen({PULLEY: 1.0})
    assert choice.worn == ()
    assert {one.ahead for one in choice.visits} == {0.0}


def test_another_suspect_is_done_in_the_same_visit_where_that_saves_the_labour() -> None:
    chances = {"tensioner-pulley-bearing-worn": 0.5, "idler-bearing-worn": 0.5}
    looked = ("spin-idler", "spin-tensioner-pulley")
    cheap, dear = (
        chosen(chances, given=given, concluded="idler-bearing-worn", made=looked)
        for given in (prices(parts={**PARTS, "tensioner-pulley": price}) for price in (2.0, 90.0))
    )
    assert set(cheap.visits[0].remedies) == {"renew-idler", "renew-tensioner-pulley"}
    assert cheap.visits[0].hours == pytest.approx((20 + 10 + 15) / 60, abs=0.005)
    assert dear.visits[0].remedies == ("renew-idler",)


def test_a_check_that_was_not_made_is_looked_at_first() -> None:
    chances = {PULLEY: 0.6, BEARING: 0.4}
    open_, made = (chosen(chances, made=one) for one in ((), ("spin-alternator",)))
    looks = [{one.remedy: one.look for one in choice.tries}["renew-alternator"] for choice in (open_, made)]
    assert looks == ["spin-alternator", ""]
    assert open_.expected < made.expected


def test_a_cause_that_cannot_produce_the_complaint_is_not_behind_it() -> None:
    with_it = chosen({PULLEY: 0.9, "charging-circuit-fault": 0.9})
    assert with_it.tries == chosen({PULLEY: 0.9}).tries


def test_without_prices_labour_is_weighed_and_no_money_named() -> None:
    choice = chosen({PULLEY: 0.6, BEARING: 0.4}, given=Prices(), made=("spin-alternator",))
    assert choice.currency == ""
    assert {one.parts for one in choice.tries} == {0.0}
    assert choice.tries[0].remedy == "renew-decoupler-pulley"
    # Only a price tells a part from the whole: without one the alternator is no way to renew its pulley.
    assert all(one.remedies != ("renew-alternator",) for one in choice.visits)


def test_a_repair_without_a_price_is_named_and_not_weighed() -> None:
    given = prices(parts={part: price for part, price in PARTS.items() if part != "pulley-cap"})
    choice = chosen({PULLEY: 0.6, "noise-not-from-drive": 0.4}, given=given)
    lacking = {one.remedy: one.unpriced for one in choice.not_weighed}
    assert lacking["renew-decoupler-pulley"] == ("pulley-cap",)
    assert lacking["look-elsewhere"] == ()
    assert "renew-decoupler-pulley" not in {one.remedy for one in choice.tries}


def test_the_shops_own_labour_comes_before_that_of_the_trees() -> None:
    own = chosen({PULLEY: 1.0}, given=prices(hours={"alternator-out": 0.0, "renew-decoupler-pulley": 0.5}))
    assert own.visits[0].hours == pytest.approx(28 / 60 + 0.5, abs=0.005)


def test_a_part_that_this_vehicle_lacks_is_never_renewed() -> None:
    fitting = {cause.id: 0.1 for cause in shipped().causes.values() if not cause.only_for}
    ages = dict.fromkeys(prices().lives, 250_000 * KM)
    vehicle = SuspectVehicle(
        "bearing-rumble", tuple(fitting), lambda some: 0.1 * len(some), frozenset({BEARING}), (), ages
    )
    choice = repair_choice(shipped(), vehicle, prices())
    named = {one.remedy for one in choice.tries} | {one for visit in choice.visits for one in visit.remedies}
    assert "renew-alternator" in named
    assert "renew-decoupler-pulley" not in named


def test_nothing_is_tried_instead_of_what_cannot_be_weighed() -> None:
    choice = chosen({"noise-not-from-drive": 0.7, BEARING: 0.3}, concluded="noise-not-from-drive")
    assert (choice.tries, choice.visits) == ((), ())
    assert [one.remedy for one in choice.not_weighed] == ["look-elsewhere"]


def test_a_solid_pulley_does_not_age() -> None:
    fitting = tuple(cause.id for cause in shipped().causes.values() if not cause.only_for)
    ages = dict.fromkeys(prices().lives, 250_000 * KM)
    weak = "tensioner-weak"
    vehicle = SuspectVehicle("belt-squeal", fitting, lambda some: float(weak in some), frozenset({weak}), (), ages)
    choice = repair_choice(shipped(), vehicle, prices())
    assert {one.part for one in choice.worn} == {"belt", "tensioner"}


def test_an_old_part_that_is_only_suspected_is_not_renewed_for_its_age() -> None:
    chances = {"bracket-loose": 0.9, BEARING: 0.1}
    choice = chosen(chances, concluded="bracket-loose", made=("spin-alternator",), driven_km=250_000.0)
    assert "renew-alternator" not in choice.visits[0].remedies
    assert {one.part for one in choice.worn} == {"belt"}


def test_nothing_is_weighed_where_the_findings_contradict_each_other() -> None:
    choice = repair_choice(
        shipped(), SuspectVehicle("shutdown-buzz", (), lambda _some: 0.0, frozenset(), (), {}), prices()
    )
    assert (choice.tries, choice.visits, choice.not_weighed) == ((), (), ())


def test_every_cause_of_the_drive_can_be_weighed_or_is_said_not_to_be() -> None:
    for cause in shipped().causes:
        choice = chosen({cause: 1.0}, concluded=cause, given=Prices())
        remedy = shipped().causes[cause].remedy
        told = {one.remedy for one in choice.tries} | {one.remedy for one in choice.not_weighed}
        assert remedy in told
