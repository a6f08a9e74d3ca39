"""What a shop charges and how long parts last, as a session uses and records it. Without prices, labour is weighed."""

from pydantic import Field

from triage.documents import Model
from triage.record.wear import Life


class Prices(Model):
    """Prices of one shop, in its currency.

    Args:
        source: where they come from, in the shop's words.
        currency: as the shop writes it; "" where it has no prices.
        hour_rate: what an hour of labour is charged at.
        breakdown: what a failure on the road costs beyond the repair.
        parts: price by part.
        hours: the shop's own labour by remedy or access [h].
        lives: how long parts last, in metres driven.
        kept_m: how much further vehicles are driven before they go; 0 where that is not said [m].
    """

    source: str = ""
    currency: str = ""
    hour_rate: float = Field(default=0.0, ge=0.0)
    breakdown: float = Field(default=0.0, ge=0.0)
    parts: dict[str, float] = Field(default_factory=dict)
    hours: dict[str, float] = Field(default_factory=dict)
    lives: dict[str, Life] = Field(default_factory=dict)
    kept_m: float = Field(default=0.0, ge=0.0)


class Try(Model):
    """One repair in the order in which they are best tried.

    Args:
        remedy: its id.
        look: the check that tells beforehand whether it is this one; "" where only renewing tells.
        cures: share of such vehicles that it cures and those before it did not [1].
        trial: what is paid in any case: the look, or all of it.
        hours: labour of the whole repair [h].
        parts: price of the parts.
        cost: of the whole repair.
    """

    remedy: str
    look: str
    cures: float
    trial: float
    hours: float
    parts: float
    cost: float


class VisitCost(Model):
    """What may be done in one visit, and what that is expected to cost.

    Args:
        remedies: what is done.
        cures: share of such vehicles that it cures [1].
        hours: labour, shared labour once [h].
        parts: price of the parts.
        now: of this visit.
        further: expected for what is tried next where it does not cure.
        ahead: what worn parts that are left in are expected to cost sooner than new ones.
        total: all of it.
    """

    remedies: tuple[str, ...]
    cures: float
    hours: float
    parts: float
    now: float
    further: float
    ahead: float
    total: float


class WornPart(Model):
    """How far a part has been driven, and how far it is best driven before it is renewed; None where until it fails."""

    part: str
    driven_m: float
    best_m: float | None


class NotWeighed(Model):
    """A repair that could not be weighed: the parts without a price; none of them where its labour is not known."""

    remedy: str
    unpriced: tuple[str, ...]


class RepairChoice(Model):
    """Which repairs pay, in the currency; in hours of labour where there is none.

    Args:
        currency: "" stands for hours.
        hour_rate: what an hour was charged at.
        source: where prices come from.
        kept_m: how much further the vehicle was taken to be driven; 0 where parts left in were not weighed [m].
        tries: repairs in the order of least expected cost.
        expected: expected cost until the complaint is gone, in that order.
        by_likelihood: the same where the likeliest is always tried first.
        visits: what may be done now, the least expected cost first; none without a conclusion.
        worn: what was taken for the parts that are left in or renewed with the rest.
        not_weighed: likely repairs that are missing here, and why.
    """

    currency: str
    hour_rate: float
    source: str
    kept_m: float
    tries: tuple[Try, ...]
    expected: float
    by_likelihood: float
    visits: tuple[VisitCost, ...]
    worn: tuple[WornPart, ...]
    not_weighed: tuple[NotWeighed, ...]
