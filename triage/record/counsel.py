"""What the reasoning makes of the findings, as an event records it in rounded figures."""

from triage.documents import Model


class Reason(Model):
    """What one finding does to the odds of a cause: `check` is "" for the complaint, `factor` 0 where it rules out.

    `circumstance` is what holds of the vehicle and stands in place of a check.
    """

    check: str
    factor: float
    circumstance: str = ""


class LikelyCause(Model):
    """How likely a cause is after the findings, how likely it was before them, and what each of them does."""

    cause: str
    probability: float
    before: float
    reasons: tuple[Reason, ...] = ()


class UnlikelyCause(Model):
    """A cause that the findings leave hardly any room for, and what speaks most against it."""

    cause: str
    probability: float
    before: float
    against: Reason


class Outlook(Model):
    """What one outcome of a check would do: how probable it is, and the cause that would then be the likeliest.

    `cause` is "" where the outcome cannot be.
    """

    outcome: str
    chance: float
    cause: str
    before: float
    after: float


class CheckWorth(Model):
    """What a check is worth: expected drop of the expected loss, minutes that it takes with change-over, what it tells.

    `gain_bits` adds up over the causes.
    """

    check: str
    saves_min: float
    minutes: float
    gain_bits: float
