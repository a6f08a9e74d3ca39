"""Patterns of words in a complaint."""

import pytest

from triage.knowledge.wording.patterns import Finder


@pytest.mark.parametrize(
    ("said", "named"),
    [
        ("turn the engine off", ["off"]),
        ("turning it off", ["off"]),
        ("turn the old red car off", []),
        ("off turn", []),
        ("turn wheel", ["steering"]),
        ("wheel", ["wheel"]),
        ("wheels", []),
        ("a squealing noise", ["squeal"]),
        ("no squealing", []),
        ("not really a squeal", []),
        ("not only a squeal", ["squeal"]),
        ("", []),
    ],
)
def test_a_pattern_is_found_in_its_order_near_together_and_not_negated(said: str, named: list[str]) -> None:
    finder = Finder({"wheel": ["wheel"], "steering": ["turn- wheel"], "off": ["turn- off"], "squeal": ["squeal-|howl"]})
    assert list(finder.find(said.split())) == named


def test_a_longer_pattern_uses_its_words_up() -> None:
    finder = Finder({"wheel": ["wheel"], "steering": ["steering wheel"]})
    assert finder.find(["steering", "wheel"]) == {"steering": [0]}
    assert finder.find(["steering", "wheel", "wheel"]) == {"steering": [0], "wheel": [2]}
