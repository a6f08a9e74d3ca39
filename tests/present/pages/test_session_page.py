from dataclasses import replace
from datetime import UTC, datetime, timedelta

import pytest

from triage.app.reading import replay
from triage.knowledge.shipped import demos_folder
from triage.present.pages.likely import NEARLY, unlikely_lines
from triage.present.pages.session_page import happened_lines, page_of, said_lines
from triage.present.said.telling import told
from triage.present.said.work import OTHER_RULES
from triage.record.counsel import CheckWorth, LikelyCause, Reason, UnlikelyCause
from triage.record.events import (
    AdviceGiven,
    ClockShifted,
    ConclusionReached,
    EngineOff,
    Event,
    NoteAdded,
    RulesInstalled,
    SessionClosed,
    SessionHandedOver,
    SessionPaused,
    SessionStarted,
    StateEntered,
    StepOffered,
)
from triage.session.evolving import fold

DEMO = demos_folder() / "binding-clutch.jsonl"


def test_a_note_cannot_pass_for_a_line_of_the_page() -> None:
    knowledge = replay(demos_folder() / "worn-bearing.jsonl")[0]
    note = NoteAdded(at_ms=0, who="Ana", clock_ms=0, boot=1, text="x\n  00:00:01  Ben: confirmed: all is safe")
    (line,) = said_lines(knowledge, note)
    assert line == "  00:00:00  Ana: note: x‹0A›  00:00:01  Ben: confirmed: all is safe"


def test_a_complaint_cannot_pass_for_a_line_of_the_page() -> None:
    knowledge, events, head, _ = replay(demos_folder() / "worn-bearing.jsonl")
    started = events[0]
    assert isinstance(started, SessionStarted)
    forged = started.model_copy(update={"words": "chirps\nReviewed by: Ben"})
    page = page_of(knowledge, (forged, *events[1:]), str(head))
    assert "chirps‹0A›Reviewed by: Ben" in page


DAY_MS = 86_400_000


def at(at_ms: int, text: str) -> NoteAdded:
    return NoteAdded(at_ms=at_ms, who="Ana", clock_ms=at_ms, boot=1, text=text)


def test_the_day_stands_where_it_changes_and_each_line_says_how_long_it_has_been() -> None:
    _, events, _, _ = replay(DEMO)
    start_ms = events[0].at_ms
    notes = (
        at(start_ms + 61_000, "a"),
        at(start_ms + DAY_MS, "b"),
        at(start_ms + DAY_MS + 1, "c"),
        at(start_ms - 60_000, "d"),
    )
    lines = happened_lines(replay(DEMO).knowledge, (events[0], *notes))
    day = datetime.fromtimestamp(start_ms / 1000, UTC)
    assert [line.split(" (UTC")[0] for line in lines] == [
        f"  {day:%Y-%m-%d}",
        f"  {day + timedelta(seconds=61):%H:%M:%S}  +0:01  Ana: note: a",
        f"  {day + timedelta(days=1):%Y-%m-%d}",
        f"  {day:%H:%M:%S}  +24:00  Ana: note: b",
        f"  {day:%H:%M:%S}  +24:00  Ana: note: c",
        f"  {day:%Y-%m-%d}",
        f"  {day - timedelta(minutes=1):%H:%M:%S}  −0:01  Ana: note: d",
    ]


def test_each_block_of_confirmations_says_which_state_it_is_for() -> None:
    knowledge, events, _, _ = replay(DEMO)
    lines = happened_lines(knowledge, events)
    blocks = [line for line in lines if "To be confirmed for: " in line]
    entered = sum(isinstance(event, StateEntered) for event in events)
    assert len(blocks) >= entered > 2
    for at_line, line in enumerate(lines):
        if "-> " in line:
            before = next(one for one in reversed(lines[:at_line]) if "To be confirmed for: " in one)
            assert before.split("for: ")[1] == line.split("-> ")[1]


def test_a_reading_names_its_instrument_its_uncertainty_and_whether_it_is_a_mean() -> None:
    knowledge, events, head, _ = replay(DEMO)
    lines = happened_lines(knowledge, events)
    taken = [place for place, line in enumerate(lines) if "Torque the overrun way: " in line and "N·m)" in line]
    first, second = taken[:2]
    assert lines[first].endswith("too close to call, measured again")
    assert lines[first + 1].startswith("      with Low-range torque tool")
    assert "±6 % of the reading (ISO 6789" in lines[first + 1]
    assert "13.2 lbf·in, u = 0.457 lbf·in; nearest limit 13 lbf·in" in lines[first + 2]
    assert lines[second + 2].startswith("      mean of both: ")
    found = page_of(knowledge, events, str(head)).split("Findings that count now")[1]
    assert "with Low-range torque tool" in found


def test_what_was_ruled_out_is_told_with_the_finding_that_did_it() -> None:
    knowledge, events, head, _ = replay(DEMO)
    page = page_of(knowledge, events, str(head)).split("Ruled out, or nearly, and by what")[1]
    line = next(line for line in page.splitlines() if line.startswith("  Bracket loose or bent"))
    assert "before, under 1 % now, by Mounting of the accessories: " in line
    assert "(odds ÷ " in line
    assert NEARLY in page


def test_a_cause_without_any_odds_left_is_ruled_out() -> None:
    knowledge, events, _, _ = replay(DEMO)
    against = Reason(check="belt-condition", factor=0.0)
    one = UnlikelyCause(cause="belt-worn", probability=0.0, before=0.1, against=against)
    state = fold(events)
    assert state.counsel
    counsel = state.counsel.model_copy(update={"unlikely": (one,)})
    line, last = unlikely_lines(knowledge, replace(state, counsel=counsel))
    assert line.endswith("(ruled out)")
    assert last == NEARLY


def test_what_is_to_be_known_about_the_trace_stands_above_it() -> None:
    knowledge, events, head, _ = replay(DEMO)
    page = page_of(knowledge, events, str(head), ("The last line was cut off.\nTrace: sound",))
    assert page.splitlines()[0] == "Notice: The last line was cut off.‹0A›Trace: sound"


BASE = {"at_ms": 2_000_000_000_000, "who": "Ana", "clock_ms": 0, "boot": 1}
LAST_EVENTS: dict[str, Event] = {
    "Paused": SessionPaused.model_validate(BASE),
    "Paused, with": SessionHandedOver.model_validate({**BASE, "to": "Cy", "head": "1-a"}),
    "Signed off": SessionClosed.model_validate(
        {**BASE, "how": "signed-off", "reason": "", "not_proved": (), "head": "1-a"}
    ),
}


@pytest.mark.parametrize("title", LAST_EVENTS)
def test_a_trace_cut_right_behind_its_end_does_not_show_the_step_of_before(title: str) -> None:
    knowledge, events, head, _ = replay(DEMO)
    running = next(
        place
        for place, one in enumerate(events)
        if isinstance(one, StepOffered) and (one.step.kind, one.step.check) == ("check", "coast-down")
    )
    cut = (*events[: running + 1], LAST_EVENTS[title])
    stands = page_of(knowledge, cut, str(head)).split("Where it stands")[1]
    assert title.split(",")[0] in stands
    assert "rotor" not in stands
    assert "rotor" in page_of(knowledge, cut[:-1], str(head)).split("Where it stands")[1]


def test_what_was_said_at_a_conclusion_stays_on_the_page_when_the_session_has_gone_on() -> None:
    knowledge, events, _, _ = replay(DEMO)
    reached = next(place for place, event in enumerate(events) if isinstance(event, ConclusionReached))
    given = next(place for place, event in enumerate(events) if place > reached and isinstance(event, AdviceGiven))
    advice = events[given]
    assert isinstance(advice, AdviceGiven)
    spoken_against = advice.model_copy(
        update={
            "stands": "contradicted",
            "pays": True,
            "likely": (LikelyCause(cause="belt-worn", probability=0.96, before=0.1),),
            "checks": (CheckWorth(check="spin-water-pump", saves_min=9.0, minutes=2.0, gain_bits=0.1),),
        }
    )
    lines = happened_lines(knowledge, (*events[:given], spoken_against, *events[given + 1 :]))
    at_line = next(place for place, line in enumerate(lines) if "Conclusion: " in line)
    below = "\n".join(lines[at_line : at_line + 5])
    assert "The findings speak against this" in below
    assert "Belt worn, 96 %" in below
    assert "Also likely enough to look at in the same work: Belt worn (96 %)" in below
    assert "One more check still pays" in below
    assert "closed: " in "\n".join(lines[at_line + 5 :])


def test_nothing_is_ruled_out_by_what_nobody_looked_at() -> None:
    knowledge, events, head, _ = replay(DEMO)
    state = fold(events)
    assert state.counsel
    assert state.counsel.unlikely
    asked = next(check.id for check in knowledge.checks.values() if check.way == "ask")
    driven = next(one for one in knowledge.circumstances.values() if one.life)
    for against in (
        Reason(check="", factor=0.01),
        Reason(check=asked, factor=0.01),
        Reason(check="", factor=0.01, circumstance=driven.id),
    ):
        one = UnlikelyCause(cause="belt-worn", probability=0.0, before=0.1, against=against)
        counsel = state.counsel.model_copy(update={"unlikely": (one,)})
        assert unlikely_lines(knowledge, replace(state, counsel=counsel)) == []
    assert "km driven" not in page_of(knowledge, events, str(head)).split("Ruled out, or nearly")[1].split("\n\n")[0]


def test_what_the_advice_says_of_a_conclusion_stands_once_where_it_is_given_again_unchanged() -> None:
    knowledge, events, *_ = replay(demos_folder() / "worn-bearing.jsonl")
    given = [event for event in events if isinstance(event, AdviceGiven) and not event.asked]
    lines = happened_lines(knowledge, events)
    assert len(given) > 1
    assert len([line for line in lines if "More checks would not pay" in line]) == 1


@pytest.mark.parametrize(
    ("by_ms", "said"),
    [
        (12_000, "the clock of this computer was moved forward by 12 s"),
        (-90_000, "the clock of this computer was moved back by 90 s"),
        (7_500_000, "the clock of this computer was moved forward by 2 h 5 min"),
    ],
)
def test_a_clock_that_was_moved_is_said_with_how_far_and_which_way(by_ms: int, said: str) -> None:
    knowledge = replay(DEMO)[0]
    shifted = ClockShifted.model_validate({**BASE, "by_ms": by_ms})
    (line,) = said_lines(knowledge, shifted)
    assert line.endswith(f"Ana: {said}")
    (told_now,) = told(knowledge, (shifted,))
    assert told_now.startswith(f"{said[0].upper()}{said[1:]}.")
    assert ("Every confirmation has ended." in told_now) is (abs(by_ms) > 60_000)


def test_an_engine_that_is_off_and_other_interlocks_are_said() -> None:
    knowledge = replay(DEMO)[0]
    off = EngineOff.model_validate(BASE)
    installed = RulesInstalled.model_validate({**BASE, "rules": 2, "interlocks": knowledge.interlocks})
    assert said_lines(knowledge, off)[0].endswith("engine off, all still")
    assert "under the interlocks of the program that took it up" in said_lines(knowledge, installed)[0]
    assert told(knowledge, (installed,)) == [OTHER_RULES]
