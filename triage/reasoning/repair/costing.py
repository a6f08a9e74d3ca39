"""What a remedy costs: labour that it shares with others, its own labour, and its parts."""

from collections.abc import Iterable
from dataclasses import dataclass

from triage.knowledge.models import Figure, Knowledge, Remedy
from triage.record.prices import Prices
from triage.units import parse_quantity

SECONDS_IN_HOUR = 3600.0


@dataclass(frozen=True)
class Costing:
    """Costs of remedies in a shop's currency, or in hours of labour where it has no prices."""

    knowledge: Knowledge
    prices: Prices

    @property
    def in_hours(self) -> bool:
        """Whether there are no prices."""
        return not self.prices.currency

    def labour(self, hours: float) -> float:
        """Cost of labour."""
        return hours if self.in_hours else hours * self.prices.hour_rate

    def access(self, access_id: str) -> float:
        """Hours to open and close something [h]."""
        return self._hours(access_id, self.knowledge.accesses[access_id].hours)

    def own(self, remedy: Remedy) -> float:
        """Hours of a remedy beyond its access [h]."""
        return self._hours(remedy.id, remedy.hours)

    def together(self, remedies: Iterable[Remedy]) -> float:
        """Hours of remedies in one visit, each access once [h]."""
        done = tuple(remedies)
        opened = {access for remedy in done for access in remedy.access}
        return sum(map(self.own, done)) + sum(map(self.access, opened))

    def parts(self, remedy: Remedy) -> float:
        """Price of the parts that a remedy renews; nothing where there are no prices."""
        return 0.0 if self.in_hours else sum(self.prices.parts[part] for part in renewed(remedy))

    def whole(self, remedy: Remedy) -> float:
        """Cost of a remedy in a visit of its own."""
        return self.labour(self.together([remedy])) + self.parts(remedy)

    def known(self, remedy: Remedy) -> bool:
        """Whether labour and prices of a remedy are known."""
        return (remedy.hours is not None or remedy.id in self.prices.hours) and not self.unpriced(remedy)

    def unpriced(self, remedy: Remedy) -> tuple[str, ...]:
        """The parts that lack a price."""
        lacking = tuple(part for part in renewed(remedy) if part not in self.prices.parts)
        return () if self.in_hours else lacking

    def _hours(self, name: str, figure: Figure | None) -> float:
        if name in self.prices.hours:
            return self.prices.hours[name]
        return parse_quantity(figure.text, "time").value / SECONDS_IN_HOUR if figure else 0.0


def renewed(remedy: Remedy) -> tuple[str, ...]:
    """The parts that are bought for a remedy."""
    return tuple(part.id for part in remedy.parts if part.todo == "renew")
