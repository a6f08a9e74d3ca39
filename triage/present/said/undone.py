"""What was taken back, in words."""

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

from triage.knowledge.models import Knowledge
from triage.present.said.words import Words
from triage.record import events as e

_WHAT: Final[Mapping[str, str]] = MappingProxyType(
    {
        e.GateAnswered.kind: "what the drive carries",
        e.FactTold.kind: "what was told of the vehicle",
        e.FactCorrected.kind: "what was put right of the vehicle",
        e.RenewalTold.kind: "the age of a part",
        e.LayoutUsed.kind: "the layout",
        e.RateMatched.kind: "the comparison of a rate",
        e.ThingConfirmed.kind: "a line that was pressed; it is open again",
        e.SetUpFinished.kind: "that it is set up",
        e.FindingTakenBack.kind: "the correction",
        e.FaultPutRight.kind: "that it is put right",
        e.MakerFigureEntered.kind: "the maker's figure",
        e.NoteAdded.kind: "the note",
        e.OwnRouteTaken.kind: "one more check",
        e.RemedyBegun.kind: "the repair that was begun",
        e.PlaceNamed.kind: "which one it is",
        e.PartRecorded.kind: "what was done with a part",
        e.TorqueRecorded.kind: "a torque",
        e.NotCured.kind: '"not cured"; repair and findings are as they were',
    }
)


def undone_words(knowledge: Knowledge, event: e.ActUndone) -> Words:
    """An act that was taken back: what it was, and what it was about."""
    names = [knowledge.checks[one].name for one in event.about if one in knowledge.checks]
    what = ": ".join((*([_WHAT[event.act]] if event.act in _WHAT else []), *names))
    return Words(f"taken back: {what}", (f"Taken back: {what}. Nothing else.",))
