"""The one table of worded strengths, of how common causes are and of what shifts that: what words stand for in numbers.

Authors choose among words, because a finer figure would claim a knowledge that nobody has. Every number that these
words turn into comes from here.

Source: from-memory. Nobody has counted these; they are the judgement of the authors, kept an easily told step
apart.
"""

import math
from collections.abc import Mapping
from types import MappingProxyType
from typing import Final, Literal

from triage.knowledge.models import Commonness, Odds, Strength

Leak = Strength | Literal["rarely", "hardly-ever"]
"""The words for how often a level shows; only a leak is so weak as `rarely` and `hardly-ever`."""

STRENGTHS: Final[Mapping[Leak, float]] = MappingProxyType(
    {
        "nearly-always": 0.95,
        "usually": 0.80,
        "often": 0.50,
        "sometimes": 0.20,
        "seldom": 0.05,
        "rarely": 0.01,
        "hardly-ever": 0.001,
    }
)
"""Probability that a cause alone produces a level of a sign; `rarely` is the leak where none is given."""

BASE_RATES: Final[Mapping[Commonness, float]] = MappingProxyType(
    {"common": 0.10, "occasional": 0.04, "uncommon": 0.015, "rare": 0.005}
)
"""Probability that a cause is present in a vehicle whose owner complains, before anything else is known."""

ODDS: Final[Mapping[Odds, float]] = MappingProxyType(
    {"much-likelier": 4.0, "likelier": 2.0, "less-likely": 0.5, "much-less-likely": 0.25, "cannot-be": 0.0}
)
"""What a circumstance does to the odds of a cause."""

DRIVEN: Final = ((0.25, 0.25), (0.75, 0.5), (1.25, 1.0), (math.inf, 2.0))
"""Odds of a cause of wear by the share of its part's life that was driven: below a share, the factor.

No more than twice as likely however far it went: a part may have been renewed without anybody saying so.
"""
