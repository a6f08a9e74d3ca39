"""What a shop loses by a wrong end and how long its checks take, as a session uses and records it.

Everything is in minutes of the bay, so that a check that saves more than it takes can be told without a currency.
"""

from pydantic import Field

from triage.documents import Model

FOR_NOTHING_MIN = 120.0
"""Work and part of something changed for nothing, as minutes of the bay. Source: from-memory."""
LEFT_IN_MIN = 300.0
"""A comeback: the visit, the search once more, the customer's patience. Source: from-memory."""


class Weights(Model):
    """Figures of one shop.

    Args:
        source: where its own ones come from.
        for_nothing_min: a part renewed that was sound [min].
        left_in_min: a fault that stays in [min].
        for_nothing_by_cause: the same where a cause has its own figure [min].
        left_in_by_cause: the same [min].
        change_over_min: for turns of the vehicle that have the shop's own figure, as `ChangeOver` names them [min].
        checks_min: for checks that have the shop's own figure [min].
    """

    source: str = "from-memory"
    for_nothing_min: float = Field(default=FOR_NOTHING_MIN, gt=0.0)
    left_in_min: float = Field(default=LEFT_IN_MIN, gt=0.0)
    for_nothing_by_cause: dict[str, float] = Field(default_factory=dict)
    left_in_by_cause: dict[str, float] = Field(default_factory=dict)
    change_over_min: dict[str, float] = Field(default_factory=dict)
    checks_min: dict[str, float] = Field(default_factory=dict)

    def for_nothing(self, cause: str) -> float:
        """What putting a cause right costs that is not there [min]."""
        return self.for_nothing_by_cause.get(cause, self.for_nothing_min)

    def left_in(self, cause: str) -> float:
        """What leaving a cause in costs [min]."""
        return self.left_in_by_cause.get(cause, self.left_in_min)

    def pays_from(self, cause: str) -> float:
        """The probability from which putting a cause right costs less than leaving it [1].

        >>> round(Weights().pays_from("belt-worn"), 4)
        0.2857
        """
        return self.for_nothing(cause) / (self.for_nothing(cause) + self.left_in(cause))
