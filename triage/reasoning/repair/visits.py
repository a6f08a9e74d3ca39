"""What to renew in one visit: every set of works is weighed, so that labour which works share is paid once.

The cost of a set is what it costs now, what is expected for further tries where it does not cure, and what the worn
parts that are left in are expected to cost sooner than new ones would. Without shared labour a part is renewed when it
has reached its own best age; with it, sharing can only make a set cheaper.
"""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import chain, combinations


@dataclass(frozen=True)
class Work:
    """One piece of work.

    Args:
        id: what it is called.
        access: what has to be open for it; shared with other works.
        cost: its own labour and parts, without the access.
        renews: the parts that are new afterwards.
        cures: the causes that are out of the way afterwards.
    """

    id: str
    access: frozenset[str]
    cost: float
    renews: frozenset[str]
    cures: frozenset[str] = frozenset()


@dataclass(frozen=True)
class Visit:
    """A set of works and its expected cost.

    Args:
        works: ids, in the order in which they were given.
        now: labour and parts of this visit.
        further: expected cost of what is tried next where it does not cure.
        ahead: what worn parts that are left in are expected to cost sooner than new ones.
    """

    works: tuple[str, ...]
    now: float
    further: float
    ahead: float

    @property
    def total(self) -> float:
        """All of it."""
        return self.now + self.further + self.ahead


def cost_now(works: Iterable[Work], access_cost: Mapping[str, float]) -> float:
    """Cost of works that are done in one visit: each access is opened once."""
    done = tuple(works)
    opened = frozenset[str]().union(*(work.access for work in done))
    return sum(work.cost for work in done) + sum(access_cost[one] for one in sorted(opened))


def visits(
    works: Sequence[Work],
    access_cost: Mapping[str, float],
    ahead: Mapping[str, float],
    further: Callable[[frozenset[str]], float],
) -> Iterator[Visit]:
    """Every set of works, doing nothing included.

    Args:
        works: what could be done, a dozen at most.
        access_cost: cost of each access.
        ahead: by part, what it is expected to cost sooner than a new one when it is left in.
        further: expected cost of what is tried next when these causes are out of the way.
    """
    for chosen in chain.from_iterable(combinations(works, size) for size in range(len(works) + 1)):
        renewed = frozenset[str]().union(*(work.renews for work in chosen))
        cured = frozenset[str]().union(*(work.cures for work in chosen))
        left_in = sum(cost for part, cost in ahead.items() if part not in renewed)
        yield Visit(tuple(work.id for work in chosen), cost_now(chosen, access_cost), further(cured), left_in)
