"""The part of the shop file that holds prices, the shop's own labour times, and how long parts last.

repair:
  source: "price list of October"
  currency: "EUR"
  hour_rate: 96
  breakdown: 260
  prices: {belt: 42, tensioner: 118}
  hours: {renew-belt: "12 min", alternator-out: "45 min"}
  kept: "100 000 km"
  lives:
    belt: {shape: 4.5, scale: "170 000 km"}
    idler: {longest: "320 000 km"}
"""

from collections.abc import Iterator
from functools import partial
from typing import Annotated

from pydantic import Field

from triage.app.shop.entries import strangers, unreadable
from triage.documents import Document, Model
from triage.errors import Fault, QuantityRefused
from triage.knowledge.models import Id, Knowledge, Text
from triage.reasoning.repair.costing import SECONDS_IN_HOUR
from triage.record.prices import Prices
from triage.record.wear import Life, Uniform, Weibull
from triage.units import parse_quantity

SECTION = "repair"
Money = Annotated[float, Field(ge=0.0, le=1e9)]


class PartLife(Model):
    """How long a part lasts: shape and scale of a Weibull life, or the longest of a uniform one."""

    shape: float | None = Field(default=None, gt=1.0, le=50.0)
    scale: Text | None = None
    longest: Text | None = None

    def life(self) -> Life:
        """As the reasoning takes it.

        Raises:
            TriageError: a distance cannot be read, or it is neither of the two.
        """
        if self.shape is not None and self.scale is not None and self.longest is None:
            return Weibull(shape=self.shape, scale=_distance_m(self.scale))
        if self.longest is not None and self.shape is None and self.scale is None:
            return Uniform(longest=_distance_m(self.longest))
        raise QuantityRefused("A life has shape and scale, or longest.", "Give shape and scale, or longest alone.")


class PriceList(Model):
    """Prices, hours and lives as a shop writes them down."""

    source: str = "shop file"
    currency: Annotated[str, Field(max_length=8)] = ""
    hour_rate: Money | None = None
    breakdown: Money = 0.0
    prices: dict[Id, Money] = Field(default_factory=dict)
    hours: dict[Id, Text] = Field(default_factory=dict)
    lives: dict[Id, PartLife] = Field(default_factory=dict)
    kept: Text | None = None
    """How much further vehicles are driven before they go: nothing is renewed for longer than that."""

    def in_use(self) -> Prices:
        """As a session uses and records it.

        Raises:
            TriageError: a time or a distance cannot be read.
        """
        return Prices(
            source=self.source,
            currency=self.currency,
            hour_rate=self.hour_rate or 0.0,
            breakdown=self.breakdown,
            parts=self.prices,
            hours={name: _hours(text) for name, text in self.hours.items()},
            lives={part: life.life() for part, life in self.lives.items()},
            kept_m=_distance_m(self.kept) if self.kept else 0.0,
        )


def faults_of(prices: PriceList, document: Document, knowledge: Knowledge) -> Iterator[Fault]:
    """Name what a price list has wrong: unknown parts and works, unreadable figures, money without a currency."""
    parts = list(dict.fromkeys(part.id for remedy in knowledge.remedies.values() for part in remedy.parts))
    works = [*knowledge.remedies, *knowledge.accesses]
    yield from strangers(document, (SECTION, "prices"), prices.prices, parts, "part")
    yield from strangers(document, (SECTION, "lives"), prices.lives, parts, "part")
    yield from strangers(document, (SECTION, "hours"), prices.hours, works, "remedy or access")
    for name, text in prices.hours.items():
        yield from unreadable(document, (SECTION, "hours", name), partial(_hours, text))
    for part, life in prices.lives.items():
        yield from unreadable(document, (SECTION, "lives", part), life.life)
    if prices.kept is not None:
        yield from unreadable(document, (SECTION, "kept"), partial(_distance_m, prices.kept))
    elif prices.lives:
        message = "Lives of parts need to know for how long: how much further vehicles are driven."
        yield Fault(document.place((SECTION, "lives")), message, "Add kept, such as kept: 100 000 km.")
    if bool(prices.currency) != (prices.hour_rate is not None) or (prices.prices and not prices.currency):
        message = "Prices need a currency and an hour rate; one of the two is missing."
        yield Fault(document.place((SECTION,)), message, "Give both, such as currency: EUR and hour_rate: 96.")


def _hours(text: str) -> float:
    return parse_quantity(text, "time").value / SECONDS_IN_HOUR


def _distance_m(text: str) -> float:
    metres = parse_quantity(text, "distance").value
    if metres <= 0.0:
        raise QuantityRefused("That distance must be more than nothing.", "Write it like 150 000 km.")
    return metres
