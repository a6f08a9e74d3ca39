"""What a search may end with, what that costs where it is wrong, and what counts as one and the same fault.

What is to be found is what made the complaint: a fault that cannot make it costs nothing where it stays in. A
conclusion names one cause. Where the proof of the repair says that the complaint is still there, a second one may be
put right.
"""

from collections.abc import Iterator
from itertools import permutations

import numpy as np

from triage.knowledge.models import Knowledge
from triage.reasoning.losses import Losses
from triage.reasoning.network import Network, Numbers
from triage.reasoning.possibilities import Possibilities
from triage.reasoning.rounding import compared

MOST_TRIED = 6
"""The likeliest causes, of which any two may be put right one after the other. Source: from-memory."""


def ends_of(knowledge: Knowledge, symptom: str, network: Network, listed: Possibilities) -> Iterator[tuple[int, ...]]:
    """Nothing, each cause that can make the complaint, and the likeliest of them two by two."""
    sign = knowledge.signs.get(symptom)
    relevant = [at for at, cause in enumerate(network.causes) if sign is None or cause in sign.produced_by]
    yield ()
    yield from ((at,) for at in relevant)
    yield from permutations(_likeliest(listed, relevant)[:MOST_TRIED], 2)


def _likeliest(listed: Possibilities, relevant: list[int]) -> list[int]:
    shares = compared((listed.weights[:, None] * listed.faults).sum(axis=0))
    return sorted(relevant, key=lambda at: (-float(shares[at]), at))


def cost_of(faults: Numbers, end: tuple[int, ...], relevant: list[int], losses: Losses) -> Numbers:
    """What an end costs in each possibility [min].

    Its causes are put right one after the other until the proof says that the complaint is gone: those before cost a
    sound part, and a vehicle that has none of them, but another fault behind its complaint, comes back.
    """
    missed, cost = np.ones(len(faults)), np.zeros(len(faults))
    for cause in end:
        missed = missed * (1.0 - faults[:, cause])
        cost += missed * losses.for_nothing_min[cause]
    return np.asarray(cost + missed * (faults[:, relevant] * losses.left_in_min[relevant]).max(axis=1))


def groups_of(listed: Possibilities, relevant: list[int]) -> Numbers:
    """One group for each fault that may stand behind the complaint: the likeliest in its set leads; one without any."""
    order = _likeliest(listed, relevant)
    present = np.column_stack([listed.faults[:, order], np.ones(len(listed.faults))]) > 0.0
    return np.asarray(np.eye(len(order) + 1)[present.argmax(axis=1)].T)
