"""The network of a vehicle."""

from functools import cache

import numpy as np
import pytest

from triage.knowledge.loading import load_knowledge
from triage.knowledge.models import PULLEYS, Cause, Knowledge, Sign
from triage.knowledge.scales import BASE_RATES, STRENGTHS
from triage.knowledge.shipped import trees_folder
from triage.reasoning.advice.ranking import ranked
from triage.reasoning.inference.evidence import Found
from triage.reasoning.inference.network import network_of


@cache
def shipped() -> Knowledge:
    return load_knowledge(trees_folder())


def small() -> Knowledge:
    cause = Cause(id="worn", name="Worn", part="belt", meaning="-", commonness="common", remedy="renew")
    clutch = cause.model_copy(update={"id": "bound", "commonness": "rare", "only_for": ("decoupler",)})
    drag = Sign.model_validate(
        {
            "id": "drag",
            "name": "Drag",
            "levels": ("free", "borderline", "stiff"),
            "leak": {"borderline": "seldom"},
            "produced_by": {"bound": {"borderline": "sometimes", "stiff": "often"}},
        }
    )
    empty: dict[str, dict[str, object]] = {name: {} for name in Knowledge.model_fields}
    causes = {"worn": cause, "bound": clutch}
    return Knowledge.model_validate({**empty, "causes": causes, "signs": {"drag": drag}})


def test_words_become_the_figures_of_the_one_table() -> None:
    network = network_of(small(), "decoupler")
    assert network.causes == ("worn", "bound")
    assert network.base_rates.tolist() == [BASE_RATES["common"], BASE_RATES["rare"], 1.0]
    worn, bound, leak = network.chances["drag"].T.tolist()
    assert worn == [1.0, 0.0, 0.0]
    assert bound == pytest.approx([0.3, STRENGTHS["sometimes"], STRENGTHS["often"]])
    assert leak == pytest.approx([0.94, STRENGTHS["seldom"], STRENGTHS["rarely"]])


@pytest.mark.parametrize("pulley", ["solid", "unknown"])
def test_a_fault_of_a_part_that_the_vehicle_has_not_is_left_out(pulley: str) -> None:
    network = network_of(small(), pulley)
    assert network.causes == ("worn",)
    assert network.chances["drag"].shape == (3, 2)


@pytest.mark.parametrize(("pulley", "stiff"), [("decoupler", 0.0), ("one-way-clutch", STRENGTHS["often"])])
def test_a_strength_holds_only_for_the_pulley_types_that_it_is_kept_to(pulley: str, stiff: float) -> None:
    knowledge = small()
    kept = knowledge.signs["drag"].model_copy(update={"only_for": {"bound": ("one-way-clutch",)}})
    bound = knowledge.causes["bound"].model_copy(update={"only_for": ()})
    causes, signs = {**knowledge.causes, "bound": bound}, {"drag": kept}
    network = network_of(knowledge.model_copy(update={"causes": causes, "signs": signs}), pulley)
    assert network.chances["drag"][2, 1] == stiff


@pytest.mark.parametrize("pulley", ["solid", "isolator"])
def test_behind_a_pulley_that_stops_the_rotor_no_alternator_buzzes_on(pulley: str) -> None:
    found = [Found("shutdown-listen", ("buzzing",)), Found("coast-down", ("stops-at-once",))]
    ranking = ranked(shipped(), "shutdown-buzz", found, pulley)
    assert ranking.likely[0].cause == "noise-not-from-drive"
    assert all(one.cause != "alternator-bearing-worn" or one.probability < 0.01 for one in ranking.likely)


@pytest.mark.parametrize("pulley", PULLEYS)
def test_every_column_of_the_shipped_network_adds_up_to_one(pulley: str) -> None:
    for sign, columns in network_of(shipped(), pulley).chances.items():
        assert columns.sum(axis=0) == pytest.approx(np.ones(columns.shape[1])), sign
        assert columns.min() >= 0, sign
