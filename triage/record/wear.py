"""How long parts last: the two lives that a shop can state, with nothing but the standard library behind them.

Ages are in any one unit, the same for a life and for what is asked of it; sessions use metres driven.

Source: Weibull and uniform lives, textbook; the series of the lower incomplete gamma function, from memory.
"""

import math

from pydantic import Field

from triage.documents import Model

ALL_GONE = 1e-12
"""Share of parts still alive at an age that is taken for the end of all of them."""


class Weibull(Model):
    """Parts that wear: the older, the likelier they fail.

    Args:
        shape: above 1; the larger, the more alike the lives.
        scale: age at which 63 % have failed.
    """

    shape: float = Field(gt=1.0, le=50.0)
    scale: float = Field(gt=0.0)

    @property
    def end(self) -> float:
        """Age at which all are taken to have failed."""
        return float(self.scale * (-math.log(ALL_GONE)) ** (1.0 / self.shape))

    def alive(self, age: float) -> float:
        """Share that lives longer than this age [1]."""
        return math.exp(-self._passed(age))

    def hazard(self, age: float) -> float:
        """Failures per unit of age among those that are still alive."""
        return self.shape * self._passed(age) / age if age > 0 else 0.0

    def lived(self, age: float) -> float:
        """Mean age reached by parts that are taken out at this age.

        >>> round(Weibull(shape=2.0, scale=100.0).lived(1e3), 4)  # the mean life, 100·√π/2
        88.6227
        """
        order = 1.0 / self.shape
        return self.scale * order * _lower_gamma(order, self._passed(min(age, self.end)))

    def _passed(self, age: float) -> float:
        return float((age / self.scale) ** self.shape)


class Uniform(Model):
    """Parts of which as many fail in one stretch as in any other, none beyond the longest life."""

    longest: float = Field(gt=0.0)

    @property
    def end(self) -> float:
        """Age at which all have failed."""
        return self.longest

    def alive(self, age: float) -> float:
        """Share that lives longer than this age [1]."""
        return max(0.0, 1.0 - age / self.longest)

    def hazard(self, age: float) -> float:
        """Failures per unit of age among those that are still alive."""
        return 1.0 / (self.longest - age) if age < self.longest else math.inf

    def lived(self, age: float) -> float:
        """Mean age reached by parts that are taken out at this age."""
        used = min(age, self.longest)
        return used - used * used / (2.0 * self.longest)


Life = Weibull | Uniform


def _lower_gamma(order: float, limit: float) -> float:
    """∫ t^(order−1)·e^(−t) dt from 0 to the limit: a series without a subtraction."""
    term = total = 1.0 / order
    step = order
    while term > total * 1e-17:
        step += 1.0
        term *= limit / step
        total += term
    return float(limit**order * math.exp(-limit) * total)
