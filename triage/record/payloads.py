"""What a command and its event both say, once: who gives it carries it, what happened records it, the state keeps it.

A figure that cannot be written down cannot be given either: no payload holds an infinity.
"""

from typing import Literal

from triage.documents import Model
from triage.record.counsel import CheckWorth, LikelyCause, Outlook, UnlikelyCause
from triage.record.layout import Layout
from triage.record.layouts import DriveKnown
from triage.record.prices import RepairChoice
from triage.record.readings import TypedPart


class GateAnswer(Model):
    """What electric machines the drive has."""

    answer: str


class Fact(Model):
    """A fact of the vehicle; None where it is not known."""

    fact: str
    value: str | float | None


class Renewal(Model):
    """A part that was renewed before, at this odometer; None where it was not after all."""

    part: str
    odometer_m: float | None


class UsedLayout(Model):
    """The layout of this vehicle's drive, with what it comes to in rounded figures."""

    name: str
    layout: Layout
    known: DriveKnown


class OfCheck(Model):
    """A check, and nothing more of it."""

    check: str


class Answered(OfCheck):
    """The outcomes of a check."""

    outcomes: tuple[str, ...]


class FoundBefore(Answered):
    """What somebody found before, by whose word, and what was read where it was measured."""

    by: str
    parts: tuple[TypedPart, ...] = ()


class NotDone(OfCheck):
    """Why a check could not be done."""

    reason: str


class ReadingOfCheck(OfCheck):
    """One of the readings of a check, counted from the first, and why it counts no more."""

    number: int
    reason: str


class Mended(OfCheck):
    """What was done about a finding that kept the engine from running."""

    done: str


class MakerFigure(Model):
    """A figure of the vehicle maker's: SI value, said back, and where it stands in the maker's documents."""

    figure: str
    value: float
    text: str
    reference: str


class Remark(Model):
    """Free words."""

    text: str


class HandedOver(Model):
    """Who has the session next; count and digest of the trace until here."""

    to: str
    head: str


class OwnStep(OfCheck):
    """A check that the session chose off its tree: what it takes with the way there, and what going on saves [min].

    Saved is against ending here: nothing where no check pays and nothing is named.
    """

    minutes: float
    saves_min: float


class Counsel(Model):
    """What the reasoning makes of the findings; `AdviceGiven` says what each field holds."""

    likely: tuple[LikelyCause, ...]
    checks: tuple[CheckWorth, ...] = ()
    pays: bool | None = None
    stands: Literal["", "carried", "not-carried", "contradicted", "at-odds"] = ""
    asked: Literal["", "likely", "worth", "tell"] = ""
    unlikely: tuple[UnlikelyCause, ...] = ()
    meanwhile: tuple[CheckWorth, ...] = ()
    about: str = ""
    outlooks: tuple[Outlook, ...] = ()
    unlisted: float | None = None

    @property
    def causes(self) -> tuple[str, ...]:
        """Every cause that it names."""
        named = (one.cause for one in self.outlooks if one.cause)
        return (*(one.cause for one in self.likely), *(one.cause for one in self.unlikely), *named)

    @property
    def check(self) -> tuple[str, ...]:
        """Every check that it names."""
        reasons = [reason for one in self.likely for reason in one.reasons]
        reasons += [one.against for one in self.unlikely]
        weighed = (one.check for one in (*self.checks, *self.meanwhile))
        about = (self.about,) if self.about else ()
        return (*about, *weighed, *(reason.check for reason in reasons if reason.check))


class Costs(Model):
    """Which repairs pay after the findings behind a conclusion, with the prices of the session."""

    choice: RepairChoice

    @property
    def remedies(self) -> tuple[str, ...]:
        """Every remedy that it names."""
        visited = (one for visit in self.choice.visits for one in visit.remedies)
        tried = (one.remedy for one in self.choice.tries)
        return (*visited, *tried, *(one.remedy for one in self.choice.not_weighed))

    @property
    def check(self) -> tuple[str, ...]:
        """Every check that it names."""
        return tuple(one.look for one in self.choice.tries)


class Place(Model):
    """Where a remedy is done: which of several pulleys, which side of a circuit."""

    remedy: str
    place: str


class PartDone(Model):
    """What was really done with one part: renewed, found-good, repaired or left."""

    part: str
    done: str
    note: str


class TorqueDone(Model):
    """How one fastener was really tightened; without a figure where it was not, or where that does not apply.

    `text` says the torque back; `figure` is what it was to be, where that was said, and `reference` whose figure it is.
    """

    torque: str
    value_nm: float | None
    text: str
    wrench: str
    reference: str
    figure: str = ""
