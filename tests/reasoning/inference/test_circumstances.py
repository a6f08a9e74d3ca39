"""What is known of a vehicle, and what it does to the odds of causes."""

from functools import cache

import pytest

from triage.knowledge.loading import load_knowledge
from triage.knowledge.models import Knowledge
from triage.knowledge.shipped import trees_folder
from triage.reasoning.advice.ranking import explained, ranked
from triage.reasoning.inference.circumstances import VehicleFacts, shifts_of
from triage.reasoning.inference.evidence import Found
from triage.reasoning.inference.network import network_of

KM = 1000.0


@cache
def shipped() -> Knowledge:
    return load_knowledge(trees_folder())


def belt_worn(vehicle: VehicleFacts) -> float:
    return shifts_of(shipped(), vehicle, ()).get("belt-life", {}).get("belt-worn", 1.0)


# The life of a belt is 120,000 km.
@pytest.mark.parametrize(("km", "factor"), [(0, 0.25), (50_000, 0.5), (120_000, 1.0), (149_000, 1.0), (200_000, 2.0)])
def test_the_share_of_a_life_that_was_driven_gives_the_odds(km: float, factor: float) -> None:
    assert belt_worn(VehicleFacts("solid", km * KM)) == factor


def test_a_part_that_was_renewed_counts_from_there() -> None:
    assert belt_worn(VehicleFacts("solid", 200_000 * KM, {"belt": 190_000 * KM})) == 0.25
    assert belt_worn(VehicleFacts("solid", 200_000 * KM, {"idler": 190_000 * KM})) == 2.0


def test_without_an_odometer_no_distance_counts() -> None:
    assert belt_worn(VehicleFacts("solid", None)) == 1.0


def test_answers_pulley_type_and_layout_shift_causes() -> None:
    told = (Found("recent-work", ("belt-replaced",)),)
    parts = frozenset({"crank", "alternator", "upper-idler", "compressor"})
    shifts = shifts_of(shipped(), VehicleFacts("unknown", parts=parts), told)
    assert set(shifts) == {
        "belt-renewed-lately",
        "drive-without-fan",
        "pulley-type-not-known",
        "drive-without-water-pump",
        "drive-without-steering-pump",
    }
    assert shifts["belt-renewed-lately"] == {"belt-worn": 0.25, "belt-damaged": 0.5}


def test_a_vehicle_of_which_nothing_is_known_is_not_shifted() -> None:
    assert shifts_of(shipped(), VehicleFacts("decoupler"), (Found("recent-work", ()),)) == {}


def test_odds_are_multiplied_and_stay_probabilities() -> None:
    network = network_of(
        shipped(), "solid", {"a": {"belt-worn": 2.0}, "b": {"belt-worn": 3.0, "idler-bearing-worn": 0}}
    )
    rates = dict(zip(network.causes, network.base_rates.tolist(), strict=False))
    assert rates["belt-worn"] == pytest.approx(6 / 9 / (6 / 9 + 1))  # odds of 1 to 9 six times as high
    assert rates["idler-bearing-worn"] == 0.0


def test_a_part_that_the_drive_has_not_is_never_the_cause() -> None:
    shifts = shifts_of(shipped(), VehicleFacts("solid", parts=frozenset({"crank", "alternator"})), ())
    likely = {one.cause: one for one in ranked(shipped(), "bearing-rumble", (), "solid", shifts).likely}
    assert likely["idler-bearing-worn"].probability == 0.0
    assert likely["idler-bearing-worn"].before > 0.0


def test_a_circumstance_is_a_reason_with_its_factor() -> None:
    shifts = shifts_of(shipped(), VehicleFacts("solid", 300_000 * KM), ())
    (one,) = [
        one
        for one in explained(shipped(), "belt-squeal", (), "solid", 30, shifts=shifts).likely
        if one.cause == "belt-worn"
    ]
    (reason,) = [reason for reason in one.reasons if reason.circumstance == "belt-life"]
    # Nothing else hangs on it but the complaint, so it is close to the factor of the base rate.
    assert reason.factor == pytest.approx(2.0, rel=0.3)
    assert one.before == 0.1
