"""In which order to try repairs that cannot be told apart: least expected cost until the complaint is gone.

The complaint is gone where all that made it was put right. Trying a repair costs something whether it cures or not: the
whole work where only renewing tells, or a look where that tells. What is added where it was the fault is paid once. A
repair may cure several causes, and a cause may have several repairs, so that no rule of thumb is exact; every set of
causes that can be out of the way is weighed once instead, which is exact and for a dozen repairs quick.

Source: Heckerman, Breese & Rommelse 1995 (order of repairs with looks), from memory.
"""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field
from functools import cached_property

from triage.reasoning.inference.rounding import even

Causes = frozenset[str]


@dataclass(frozen=True)
class Repair:
    """One repair that can be tried; costs in one unit, whichever it is.

    Args:
        id: what it is called.
        trial: what trying it costs in any case.
        mend: what is added where it was the fault.
        cures: the causes that it puts right, or that a look rules out.
        look: the check that tells beforehand whether it is this one; "" where only renewing tells.
    """

    id: str
    trial: float
    mend: float
    cures: Causes
    look: str = ""


@dataclass(frozen=True)
class Tries:
    """Repairs, and what they cure.

    Args:
        repairs: what can be tried, a dozen at most.
        gone: probability that the complaint is gone where these causes are out of the way [1].
    """

    repairs: Sequence[Repair]
    gone: Callable[[Causes], float]
    _best: dict[Causes, tuple[float, Repair | None]] = field(default_factory=dict, compare=False, repr=False)

    def further(self, cured: Causes) -> float:
        """Expected cost still to come in the best order when some causes are out of the way."""
        return self._from(cured & self._curable)[0]

    def best(self) -> tuple[Repair, ...]:
        """The order of least expected cost; a repair that could cure nothing any more is left out.

        >>> unit = [Repair("a", 1, 0, frozenset("12")), Repair("b", 1, 0, frozenset("23")),
        ...     Repair("c", 1, 0, frozenset("34"))]
        >>> chances = {"1": 0.20, "2": 0.25, "3": 0.40, "4": 0.15}
        >>> [one.id for one in Tries(unit, lambda causes: sum(chances[one] for one in sorted(causes))).best()]
        ['c', 'a']
        """
        order: list[Repair] = []
        while (following := self._from(cured_by(order) & self._curable)[1]) is not None:
            order.append(following)
        return tuple(order)

    def by_likelihood(self) -> tuple[Repair, ...]:
        """The order that takes the likeliest cure first, whatever it costs."""
        order: list[Repair] = []
        while following := self._likeliest(cured_by(order)):
            order.append(following)
        return tuple(order)

    def cost(self, order: Sequence[Repair]) -> float:
        """Expected cost of an order of repairs."""
        return sum(self._step(one, cured_by(order[:place])) for place, one in enumerate(order))

    def gain(self, repair: Repair, cured: Causes) -> float:
        """By how much likelier the complaint is gone with one repair more [1]."""
        return self.gone(cured | repair.cures) - self.gone(cured)

    @cached_property
    def _curable(self) -> Causes:
        return cured_by(self.repairs)

    def _likeliest(self, cured: Causes) -> Repair | None:
        gains = ((even(self.gain(one, cured)), one) for one in self.repairs)
        return max((pair for pair in gains if pair[0] > 0.0), key=lambda pair: pair[0], default=(0.0, None))[1]

    def _step(self, repair: Repair, cured: Causes) -> float:
        return repair.trial * max(0.0, 1.0 - self.gone(cured)) + repair.mend * self.gain(repair, cured)

    def _from(self, cured: Causes) -> tuple[float, Repair | None]:
        if cured not in self._best:
            helping = (one for one in self.repairs if even(self.gain(one, cured)) > 0.0)
            costs = ((self._step(one, cured) + self.further(cured | one.cures), one) for one in helping)
            self._best[cured] = min(costs, key=lambda pair: even(pair[0]), default=(0.0, None))
        return self._best[cured]


def cured_by(repairs: Iterable[Repair]) -> Causes:
    """The causes that repairs put right."""
    return frozenset[str]().union(*(one.cures for one in repairs))
