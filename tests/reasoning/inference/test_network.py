"""The network of a vehicle."""

from functools import cache

import numpy as np
import pytest

from triage.knowledge.loading import load_knowledge
from triage.knowledge.models import PULLEYS, Cause, Knowledge, Sign
from triage.knowledge.scales import BASE_RATES, STRENGTHS
from triage.knowledge.shipped import trees_folder
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


@pytest.mark.parametrize("pulley", PULLEYS)
def test_every_column_of_the_shipped_network_adds_up_to_one(pulley: str) -> None:
    for sign, columns in network_of(shipped(), pulley).chances.items():
        assert columns.sum(axis=0) == pytest.approx(np.ones(columns.shape[1])), sign
        assert columns.min() >= 0, sign
