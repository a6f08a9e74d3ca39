"""Each kind of event is said, or is silent for a reason that is written down."""

import pytest

from triage.app.drive_known import known_of
from triage.app.reading import replay
from triage.drive.layout.placement import read_layout
from triage.drive.layout.shipped import layout_file
from triage.knowledge.shipped import demos_folder
from triage.present.said.entries import SILENT, entries, said
from triage.record import events as e
from triage.record.layouts import MatchedRate, Predictions
from triage.session.commands import Stamp

KNOWLEDGE, EVENTS, *_ = replay(demos_folder() / "binding-clutch.jsonl")
STAMP: Stamp = {"at_ms": 0, "who": "Ana", "clock_ms": 0, "boot": 1}
CHECK = "belt-condition"
PREDICTIONS = Predictions(fitted="solid", idle_rpm=700.0, from_rpm=2500.0, slowing_rpm_per_s=4000.0, rows=())
MATCH = MatchedRate(text="3 Hz", rate_hz=3.0, uncertainty_hz=0.1, crank_rpm=700.0, fits=(), nearest="", apart_hz=None)


def hand_made() -> list[e.Event]:
    """What no demo holds."""
    layout = read_layout(layout_file("two-pulleys"))
    return [
        e.ActUndone(**STAMP, act="check-answered", about=(CHECK,)),
        e.ActUndone(**STAMP, act="not-cured", about=()),
        e.PlaceNamed(**STAMP, remedy="renew-idler", place="The first"),
        e.NotCured(**STAMP, stale=(), another=True),
        e.ProofLeftOpen(**STAMP, again=(CHECK,)),
        e.CheckNotDone(**STAMP, check=CHECK, reason="no light", proving=False),
        e.ClockShifted(**STAMP, by_ms=90_000),
        e.DriveCompared(**STAMP, predictions=PREDICTIONS),
        e.AlarmRaised(**STAMP),
        e.CheckAskedFor(**STAMP, check=CHECK),
        e.FindingTold(**STAMP, check=CHECK, outcomes=("worn",), by="the night shift"),
        e.EngineOff(**STAMP),
        e.RoundLeft(**STAMP, round="look", checks=(CHECK,)),
        e.FactCorrected(**STAMP, fact="pulley", value="solid", before=None, repairing=False),
        e.FaultPutRight(**STAMP, check=CHECK, done="guard fitted"),
        e.LayoutUsed(**STAMP, name="mine", layout=layout, known=known_of(layout)),
        e.MakerFigureEntered(**STAMP, figure="overrun-stiff", value=2.0, text="2 N·m", reference="sheet"),
        e.NotCured(**STAMP, stale=()),
        e.OwnRouteEnded(**STAMP, causes=(), path=(), close_calls=()),
        e.OwnRouteTaken(**STAMP, check=CHECK, minutes=3.0, saves_min=1.0),
        e.RateMatched(**STAMP, match=MATCH),
        e.ReadingThrownAway(**STAMP, check=CHECK, number=1, reason="wrong dial", text="8 N·m"),
        e.RulesInstalled(**STAMP, rules=2, interlocks=KNOWLEDGE.interlocks),
        e.RunEnded(**STAMP, because="time-limit"),
        e.RunStarted(**STAMP, state=next(iter(KNOWLEDGE.states)), until_ms=1),
        e.SessionPaused(**STAMP),
        e.RefusalExplained(**STAMP, confirmation="parking-brake", reason="it rolls"),
        e.SomethingChanged(**STAMP, what="driven"),
        e.AloneSaid(**STAMP, alone=True),
        e.ThingsEnded(**STAMP, things=("parking-brake",), because="driven"),
        e.LooksEnded(**STAMP, checks=(CHECK,)),
        e.VehicleTurned(**STAMP, belt="fitted", battery="connected"),
        e.NotUnderstood(**STAMP, what="colour-told", of_version=1),
    ]


@pytest.fixture(scope="module")
def examples() -> dict[str, list[e.Event]]:
    """Events by kind."""
    worn = replay(demos_folder() / "worn-bearing.jsonl").events
    by_kind: dict[str, list[e.Event]] = {}
    for event in (*EVENTS, *worn, *hand_made()):
        by_kind.setdefault(event.kind, []).append(event)
    return by_kind


@pytest.mark.parametrize("kind", [*sorted(e.KINDS), "not-understood"])
def test_every_kind_is_said_or_is_silent_for_a_reason(kind: str, examples: dict[str, list[e.Event]]) -> None:
    assert kind in examples
    entries_of_kind = [said(KNOWLEDGE, event) for event in examples[kind]]
    assert all(entry.kind == kind for entry in entries_of_kind)
    silent = e.KINDS.get(kind, e.NotUnderstood) in SILENT
    if kind == "advice-given":  # beside a conclusion it stands under the conclusion's line
        asked = examples[kind][0].model_copy(update={"asked": "likely"})
        assert said(KNOWLEDGE, asked).words.startswith("asked likely: ")
        assert not entries_of_kind[0].words
    else:
        assert all(bool(entry.words) != silent for entry in entries_of_kind)


def test_what_was_told_of_the_vehicle_and_what_it_costs_stands_in_the_record() -> None:
    told = [entry.words for entry in entries(KNOWLEDGE, EVENTS)]
    assert "Specified alternator pulley: One-way clutch: free one way, holds the other" in told
    assert "all work is recorded: the proof begins" in told
    assert any(words.startswith("electric machines of the drive: None of these") for words in told)
    assert any(words.startswith("costs weighed: least expected with ") for words in told)


def test_there_is_one_entry_for_each_event_with_who_and_when() -> None:
    made = list(entries(KNOWLEDGE, EVENTS))
    assert [(entry.kind, entry.who, entry.at_ms) for entry in made] == [(x.kind, x.who, x.at_ms) for x in EVENTS]
