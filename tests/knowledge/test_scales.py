from typing import get_args

from triage.knowledge.models import Commonness, Strength
from triage.knowledge.scales import BASE_RATES, STRENGTHS


def test_every_word_has_a_probability_and_stronger_words_have_larger_ones() -> None:
    assert tuple(STRENGTHS) == (*get_args(Strength), "rarely", "hardly-ever")
    assert tuple(BASE_RATES) == get_args(Commonness)
    for table in (STRENGTHS, BASE_RATES):
        values = list(table.values())
        assert values == sorted(values, reverse=True)
        assert all(0 < value < 1 for value in values)
