"""What the reasoning makes of the findings, as an event records it in rounded figures."""

from triage.documents import Model

REASONING = "reasoning"
"""From whom advice and routes are in a trace."""


class Reason(Model):
    """What one finding does to the odds of a cause: `check` is "" for the complaint, `factor` 0 where it rules out.

    `circumstance` is what holds of the vehicle and stands in place of a check.
    """

    check: str
    factor: float
    circumstance: str = ""


class LikelyCause(Model):
    """How likely a cause is to have made the complaint after the findings, and what each of them does.

    `present` is how likely it is to be there; None in traces from before the two were told apart, whose `probability`
    is that. Without a complaint they are the same. `before` is how likely it was there before anything was known.
    """

    cause: str
    probability: float
    before: float
    present: float | None = None
    reasons: tuple[Reason, ...] = ()


class UnlikelyCause(Model):
    """A cause that the findings leave hardly any room for, and what speaks most against it."""

    cause: str
    probability: float
    before: float
    against: Reason


class Outlook(Model):
    """What one outcome of a check would do: how probable it is, and the cause that would then be the likeliest.

    Where a check may have several outcomes at once, the chance is that of this one alone. `cause` is "" where the
    outcome cannot be; `before` and `after` are how likely it made the complaint, now and then.
    """

    outcome: str
    chance: float
    cause: str
    before: float
    after: float


class CheckWorth(Model):
    """What a check is worth: what the best end costs less after it, minutes with change-over, what it tells.

    `gain_bits` adds up over the causes. `with_checks` are those that are made after it in the same stand, where it is
    weighed with them.
    """

    check: str
    saves_min: float
    minutes: float
    gain_bits: float
    with_checks: tuple[str, ...] = ()

    @property
    def pays(self) -> bool:
        """Whether it saves more than it takes."""
        return self.saves_min > self.minutes

    @property
    def over_ending_min(self) -> float:
        """What it saves over ending here: its own minutes are off."""
        return round(self.saves_min - self.minutes, 1)
