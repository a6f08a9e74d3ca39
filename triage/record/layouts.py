"""What a session keeps of a drive's layout: rounded figures of when it was taken, and a matched rate."""

from pydantic import Field

from triage.documents import Model
from triage.knowledge.models import PulleyType


class Weakest(Model):
    """The wrap of a drive that slips first, and the tension ratio that it can hold over the one asked of it."""

    part: str
    margin: float
    used: float | None = None
    """Share of its grip that it uses; none where a side goes slack, and in traces that were written before."""
    used_u: float = 0.0
    """Standard uncertainty of that share."""
    slips_below: float | None = None
    """The friction below which it slips."""


class Spring(Model):
    """An alternator pulley's spring at idle: the rotor's own frequency on it, and what fires."""

    rotor_hz: float
    firing_hz: float
    isolates: bool


class FreeSpan(Model):
    """A span of the belt, and the note that it has while the belt stands at the layout's tension."""

    start: str
    end: str
    length_m: float
    note_hz: float | None
    spread_m: float = 0.0
    """Half-width that the diameters leave in the length."""


class DriveKnown(Model):
    """What a layout came to; None and missing keys have their reason in `reasons` under the same name."""

    idle_rpm: float | None
    pitch_m: dict[str, float]
    """Pitch diameters, in belt order."""
    pitch_spread_m: dict[str, float] = Field(default_factory=dict)
    """Half-width of each pitch diameter, where it is not sure."""
    repeats: dict[str, float]
    """How often each part, the belt's lap and the firing come round in one turn of the crank."""
    repeats_u: dict[str, float] = Field(default_factory=dict)
    """Standard uncertainty of these, where the diameters leave any."""
    steady: Weakest | None
    slowing: dict[PulleyType, Weakest]
    """The weakest wrap while the crank loses `slowing_rpm_per_s`, by the alternator pulley's type."""
    slowing_rpm_per_s: float
    alternator: dict[PulleyType, Weakest] = Field(default_factory=dict)
    """The alternator's own wrap while the crank slows so, by the type that its pulley could have."""
    reversal_rpm_per_s: float | None
    unloaded_reversal_rpm_per_s: float | None = None
    """The same with the ignition off."""
    rotor_kg_m2: float | None = None
    """Inertia of what runs on behind the alternator's pulley."""
    slack_span: tuple[str, ...] = ()
    """Where the belt has least tension: the parts at its ends, in running direction."""
    warnings: tuple[str, ...] = ()
    """What is wrong with where the tensioner stands."""
    longest: FreeSpan | None
    spring: Spring | None
    reasons: dict[str, str]
    assumed: tuple[str, ...] = ()
    """What was taken for granted, with its source."""
    against: str = ""
    """Where layout and vehicle contradicted each other when the layout was taken."""


class MatchedRate(Model):
    """A counted repeat beside what comes round in the drive."""

    text: str
    rate_hz: float
    uncertainty_hz: float
    crank_rpm: float
    fits: tuple[str, ...]
    nearest: str
    apart_hz: float | None
    unknown: tuple[str, ...] = ()
    """What comes round but could not be compared, for want of data in the layout."""
