"""What wrong ends cost and how long checks take, out of a shop file."""

from functools import cache
from pathlib import Path

import pytest

from triage.app.shop.shop_file import read_shop
from triage.errors import DocumentFaulty
from triage.knowledge.loading import load_knowledge
from triage.knowledge.models import Knowledge
from triage.knowledge.shipped import trees_folder
from triage.record.weights import Weights

SOUND = """\
losses:
  part_for_nothing: "90 min"
  causes:
    belt-damaged: {fault_left_in: "12 h"}
minutes:
  change_over: {belt_off: "0.25 h"}
  checks: {bearing-listen: "10 min"}
"""


@cache
def shipped() -> Knowledge:
    return load_knowledge(trees_folder())


def weights(folder: Path, text: str) -> Weights:
    path = folder / "shop.yaml"
    path.write_text(text, encoding="utf-8")
    return read_shop(path, shipped()).weights


def test_times_are_read_as_people_write_them_and_the_rest_keeps_its_default(tmp_path: Path) -> None:
    used = weights(tmp_path, SOUND)
    assert used == Weights(
        source="shop file",
        for_nothing_min=90.0,
        left_in_by_cause={"belt-damaged": 720.0},
        change_over_min={"belt_off": 15.0},
        checks_min={"bearing-listen": 10.0},
    )
    assert used.left_in("belt-worn") == Weights().left_in_min


def test_a_shop_that_says_nothing_has_the_defaults(tmp_path: Path) -> None:
    assert weights(tmp_path, 'reviewer: "Kim"\n') == Weights()


@pytest.mark.parametrize(
    ("old", "new", "message"),
    [
        ("belt-damaged", "belt-damage", 'There is no cause "belt-damage".'),
        ("belt_off", "belt-off", 'There is no turn of the vehicle "belt-off".'),
        ("bearing-listen", "bearings", 'There is no check "bearings".'),
        ('"90 min"', '"90 mm"', "“mm” is a unit of a length, not of a time."),
        ('"12 h"', '"0 h"', "“0 h” is too little."),
    ],
)
def test_what_cannot_be_is_refused_with_its_place(tmp_path: Path, old: str, new: str, message: str) -> None:
    with pytest.raises(DocumentFaulty) as refused:
        weights(tmp_path, SOUND.replace(old, new))
    (fault,) = refused.value.faults
    assert fault.message == message
