"""The one table of worded strengths and of how common causes are: what the words stand for as probabilities.

Authors choose among words, because a finer figure would claim a knowledge that nobody has. Every number that these
words turn into comes from here.

Source: from-memory. Nobody has counted these; they are the judgement of the authors, kept an easily told step
apart.
"""

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final, Literal

from triage.knowledge.models import Commonness, Strength

Leak = Strength | Literal["rarely"]
"""The words for how often a level shows; only a leak is so weak as `rarely`."""

STRENGTHS: Final[Mapping[Leak, float]] = MappingProxyType(
    {"nearly-always": 0.95, "usually": 0.80, "often": 0.50, "sometimes": 0.20, "seldom": 0.05, "rarely": 0.01}
)
"""Probability that a cause alone produces a level of a sign; `rarely` is the leak where none is given."""

BASE_RATES: Final[Mapping[Commonness, float]] = MappingProxyType(
    {"common": 0.10, "occasional": 0.04, "uncommon": 0.015, "rare": 0.005}
)
"""Probability that a cause is present in a vehicle whose owner complains, before anything else is known."""
