"""Misspelled words."""

import pytest

from triage.knowledge.wording.spelling import Speller

SPELLER = Speller(["squeal", "tensioner", "belt", "light"], ["lights", "sequel"])


@pytest.mark.parametrize(
    ("written", "meant"),
    [
        ("sqeal", "squeal"),
        ("squael", "squeal"),
        ("sqealing", "squeal"),
        ("squealing", "squealing"),
        ("tentioneer", "tensioner"),
        ("blet", "belt"),
        ("best", "best"),
        ("bolt", "bolt"),
        ("night", "night"),
        ("sequel", "sequel"),
        ("lights", "lights"),
        ("12.4v", "12.4v"),
        ("x", "x"),
    ],
)
def test_a_word_is_mended_only_when_it_is_near_and_not_a_word_of_its_own(written: str, meant: str) -> None:
    assert SPELLER.correct([written]) == [meant]
