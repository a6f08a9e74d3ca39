"""What somebody can make of a trace, each line's digest made anew, and what the audit says of it."""

from collections.abc import Callable
from typing import Any

import pytest

from tests.bench.whole_lines import whole_lines
from triage.app.tracing import to_events
from triage.knowledge.shipped import demos_folder
from triage.record import events as e
from triage.record.steps import Step
from triage.session import commands as c
from triage.session.audit import objections
from triage.session.audit.ledger import Ledger

Edit = Callable[[Any], Any]
MINUTE_MS = 60_000


@pytest.fixture
def heard(listening: Any, edited: Any) -> Any:
    """A trace that stands at a check with the engine running; somebody has answered the checks before it."""
    return edited(listening.events)


@pytest.fixture
def left(listening: Any, edited: Any) -> Any:
    """The same, answered, paused and taken up again in the same program."""
    listening.answer("listen", "quiet").play(c.Pause).play(c.Resume)
    return edited(listening.events)


@pytest.fixture
def ran(apart: Any, edited: Any) -> Any:
    """A trace with a run without the belt, and its result."""
    apart.answer("belt-look", "sound").enter()
    while apart.step.kind != "run-ready":
        apart.answer(apart.step.check, apart.knowledge.checks[apart.step.check].outcomes[0].id).enter()
    apart.play(c.StartRun).play(c.EndRun)
    apart.answer(apart.step.check, apart.knowledge.checks[apart.step.check].outcomes[0].id)
    return edited(apart.events)


@pytest.fixture
def told(buzz: Any, edited: Any) -> Any:
    """A trace in which somebody told of a look, which was then made before the engine started."""
    for check, outcome in (("heard", "yes-heard"), ("belt-look", "sound")):
        buzz.play(c.TellFinding, check=check, outcomes=(outcome,), by="the night shift")
    buzz.answer("leak-look", "dry").enter()
    return edited(buzz.answer("belt-look", "sound").enter().events)


def test_nothing_is_said_of_these_traces_as_they_were_written(heard: Any, left: Any, ran: Any) -> None:
    assert (heard.first, left.first, ran.first) == ("", "", "")


# --- what the attacker did


def test_a_pause_put_in_at_a_running_step_leaves_its_confirmations_standing(heard: Any) -> None:
    last = len(heard.events) - 1
    edited = heard.twice(last).changed(last + 1, step=Step(kind="paused")).inserted(last + 1, e.SessionPaused)
    assert "leaves standing what was confirmed before" in edited.first


def test_an_end_taken_out_before_a_pause_is_named(left: Any) -> None:
    place = left.at("things-ended", because="paused")
    assert f"Line {place + 1} leaves standing what was confirmed before." == left.without(place).first


def test_a_state_entered_without_any_confirmation_is_named(heard: Any) -> None:
    entered = heard.at("state-entered", state="running")
    asked = heard.at("thing-confirmed", state="running")
    edited = heard
    for place in reversed(range(asked, entered)):
        edited = edited.without(place)
    assert 'enters "engine running", and nobody confirmed: Nothing is in the bay. (and 2 more)' in edited.first


def test_a_confirmation_taken_out_is_named_by_what_it_says(heard: Any) -> None:
    place = heard.at("thing-confirmed", confirmation="bay-clear")
    found = [one.reason for one in objections(heard.without(place).events)]
    assert 'enters "engine running", and nobody confirmed: Nothing is in the bay.' in found[0]


def test_a_no_that_leaves_its_group_standing_is_named(buzz: Any, edited: Any) -> None:
    buzz.answer("heard", "yes-heard").answer("belt-look", "sound").answer("leak-look", "dry").confirm("nobody-in")
    trace = edited(buzz.no("at-the-key").events)
    assert trace.first == ""
    group = trace.changed(trace.at("thing-refused"), confirmation="nobody-in")
    assert "says no, and leaves standing what was confirmed before" in group.first


@pytest.mark.parametrize(
    ("what", "said"), [("key-left", "Who is at the key"), ("hands-in", "Nothing is in the bay"), ("belt-moved", "belt")]
)
def test_a_running_step_behind_something_that_ended_what_it_needs_is_named(heard: Any, what: str, said: str) -> None:
    last = len(heard.events) - 1
    found = [one.reason for one in objections(heard.inserted(last, e.SomethingChanged, what=what).events)]
    assert any("not confirmed, or no longer held" in reason and said in reason for reason in found)


def test_a_start_without_its_person_is_named(listening: Any, edited: Any) -> None:
    again = edited(listening.play(c.EndRun).confirm("started-again").events)
    assert again.first == ""
    stopped = again.at("engine-off")
    inside = again.inserted(stopped + 1, e.SomethingChanged, what="stepped-in").first
    assert "says again what was not said before, or what more than a stop has ended" in inside
    unproved = again.at("thing-confirmed", confirmation="started-again")
    assert "does not prove what its line asks" in again.changed(unproved, proof=()).first
    assert "nobody was named" in again.changed(unproved, name="Bo").first


def test_a_running_check_behind_a_look_that_is_older_than_a_drive_is_named(heard: Any) -> None:
    place = heard.at("thing-confirmed", state="running") - 1
    found = [one.reason for one in objections(heard.inserted(place, e.SomethingChanged, what="driven").events)]
    assert any("looked at before it was driven, left or worked on" in reason for reason in found)


def test_what_somebody_alone_may_not_do_is_named(heard: Any) -> None:
    place = heard.at("thing-confirmed", state="running") - 1
    found = [one.reason for one in objections(heard.inserted(place, e.AloneSaid, alone=True).events)]
    assert any("cannot be made from the seat" in reason for reason in found)


def test_an_hour_of_which_nobody_says_anything_is_named(buzz: Any, edited: Any) -> None:
    trace = edited(buzz.answer("heard", "yes-heard").enter().events)
    there = trace.events[-1]
    late = {"clock_ms": there.clock_ms + 61 * MINUTE_MS, "at_ms": there.at_ms + 61 * MINUTE_MS}
    trace.events.append(
        e.CheckAnswered(who="Kim", boot=1, check="belt-look", outcomes=("sound",), proving=False, **late)
    )
    assert "comes after nobody said for long that all is as before" in trace.first


# --- traces of older rules


@pytest.fixture(params=sorted(demos_folder().glob("*.jsonl")), ids=lambda path: path.stem)
def older(request: Any) -> list[e.Event]:
    """A trace from before there were groups."""
    events = list(to_events(whole_lines(request.param)))
    first = events[0]
    assert isinstance(first, e.SessionStarted)
    assert first.rules < 3
    return events


def test_in_a_trace_of_older_rules_every_confirmation_counts_as_it_did(older: list[e.Event]) -> None:
    said = next(place for place, event in enumerate(older) if event.kind == "thing-confirmed")
    assert list(objections(older)) == []
    assert any("nobody confirmed" in one.reason for one in objections([*older[:said], *older[said + 1 :]]))


def test_in_a_trace_of_older_rules_a_confirmation_still_ages(older: list[e.Event]) -> None:
    entered = next(place for place, event in enumerate(older) if event.kind == "state-entered")
    day_ms = 86_400_000
    late = [
        event.model_copy(update={"at_ms": event.at_ms + day_ms, "clock_ms": event.clock_ms + day_ms})
        for event in older[entered + 2 :]
    ]
    found = [one.reason for one in objections([*older[: entered + 2], *late])]
    assert any("a confirmation is too old" in reason for reason in found)


# --- order


@pytest.mark.parametrize(
    ("kind", "said"),
    [
        ("session-started", "starts the session a second time"),
        ("gate-answered", "answers what was not asked then"),
        ("fact-told", "answers what was not asked then"),
        ("thing-confirmed", "presses a line that stands"),
        ("check-answered", "answers what was not asked then"),
        ("state-entered", "where the vehicle is"),
        ("session-paused", "leaves a vehicle that was left already"),
        ("session-resumed", "comes back to a vehicle that was not left"),
        ("step-offered", "asks anew although nothing has happened"),
    ],
)
def test_a_line_that_stands_there_twice_is_named(left: Any, kind: str, said: str) -> None:
    assert said in left.twice(left.at(kind)).first


@pytest.mark.parametrize("kind", ["gate-answered", "fact-told", "check-answered", "session-resumed", "state-entered"])
def test_a_line_that_was_taken_out_is_named(left: Any, kind: str) -> None:
    assert left.without(left.at(kind)).first


def test_a_finding_of_another_check_than_the_one_on_screen_is_named(heard: Any) -> None:
    place = heard.at("check-answered", check="belt-look")
    assert "answers what was not asked then" in heard.changed(place, check="listen", outcomes=("quiet",)).first


def test_after_its_end_a_session_does_not_go_on(buzz: Any, edited: Any) -> None:
    trace = edited(buzz.play(c.Close, how="without-repair", reason="sold", off=("nothing-left",)).events)
    last = len(trace.events) - 1
    assert "goes on although the session is closed" in trace.inserted(last, e.NoteAdded, text="more").first


def test_nobody_goes_on_while_the_vehicle_is_left(left: Any) -> None:
    place = left.at("session-resumed")
    answered = {"check": "listen", "outcomes": ("quiet",), "proving": False}
    assert "the vehicle was left" in left.inserted(place, e.CheckAnswered, **answered).first


def test_a_vehicle_that_the_first_question_turns_away_gets_no_further(buzz: Any, edited: Any) -> None:
    trace = edited(buzz.events)
    told = trace.changed(trace.at("gate-answered"), answer="hybrid").first
    assert "the first question has not let the vehicle pass" in told


# --- vehicle states and runs


@pytest.mark.parametrize("engine", ["exploding", "stopped"])
def test_a_state_that_is_not_what_it_is_defined_as_is_named(heard: Any, engine: str) -> None:
    place = heard.at("state-entered", state="running")
    assert f"with engine {engine}" in heard.changed(place, engine=engine).first


def test_a_running_check_after_a_finding_that_keeps_the_engine_off_is_named(heard: Any) -> None:
    place = heard.at("check-answered", check="belt-look")
    found = [one.reason for one in objections(heard.changed(place, outcomes=("torn",)).events)]
    assert any("a finding keeps the engine off" in reason for reason in found)


def test_a_running_check_after_a_look_that_told_nothing_is_named(heard: Any) -> None:
    place = heard.at("check-answered", check="belt-look")
    found = [one.reason for one in objections(heard.changed(place, outcomes=("cannot-tell",)).events)]
    assert any("nobody could look at this yet" in reason for reason in found)


def test_a_run_that_may_last_longer_than_its_limit_is_named(ran: Any) -> None:
    place = ran.at("run-started")
    until_ms = ran.events[place].until_ms
    assert "starts a run of more than 30 s" in ran.changed(place, until_ms=until_ms + 1).first


def test_a_run_that_goes_on_past_its_time_is_named(ran: Any) -> None:
    place = ran.at("run-ended")
    edited = ran
    for later in range(place, len(ran.events)):
        there = ran.events[later]
        edited = edited.changed(later, clock_ms=there.clock_ms + 40_000, at_ms=there.at_ms + 40_000)
    edited = edited.inserted(place, e.NoteAdded, text="still running")
    assert "comes after the time of a run is up" in edited.first


def test_a_result_without_its_run_is_named(ran: Any) -> None:
    assert ran.without(ran.at("run-ended")).first
    assert ran.without(ran.at("run-started")).first


# --- time


def test_a_run_that_is_longer_than_it_may_be_allows_nothing(heard: Any) -> None:
    last = len(heard.events) - 1
    there = heard.events[last]
    late = {"clock_ms": there.clock_ms + 16 * MINUTE_MS, "at_ms": there.at_ms + 16 * MINUTE_MS}
    answered = e.CheckAnswered(who="Kim", boot=1, check="listen", outcomes=("quiet",), proving=False, **late)
    heard.events.append(answered)
    assert "comes after the time of a run is up" in heard.first


@pytest.mark.parametrize("at_ms", [-62_135_596_800_000, 946_684_799_999, 4_133_980_800_000, 253_370_764_800_000])
def test_a_line_of_a_year_without_sessions_is_named(heard: Any, at_ms: int) -> None:
    assert "when no session was held" in heard.changed(0, at_ms=at_ms).first


def test_a_clock_that_was_set_to_such_a_year_and_says_so_is_no_objection(listening: Any, edited: Any) -> None:
    trace = edited(listening.events)
    last = trace.events[-1]
    stamp = {"at_ms": 5000, "who": "clock", "clock_ms": last.clock_ms, "boot": 1}
    trace.events.append(e.ClockShifted(**stamp, by_ms=5000 - last.at_ms))
    trace.events.append(e.ThingsEnded(**stamp, things=("bay-clear",), because="clock-jumped"))
    assert trace.first == ""


def test_a_wall_clock_that_ran_back_without_a_word_is_named(heard: Any) -> None:
    last = len(heard.events) - 1
    edited = heard.changed(last, at_ms=heard.events[last].at_ms - 2000)
    assert "nothing says that the clock was set" in edited.first


def test_a_clock_that_only_goes_forward_does_not_go_back(heard: Any) -> None:
    last = len(heard.events) - 1
    edited = heard.changed(last, clock_ms=heard.events[0].clock_ms)
    assert any("goes back on the clock that only goes forward" in one.reason for one in objections(edited.events))


@pytest.mark.parametrize("boot", [0, 3, 17])
def test_starts_of_the_clock_are_counted_one_by_one(left: Any, boot: int) -> None:
    place = left.at("session-resumed")
    assert f"counts start {boot} of the clock" in left.changed(place, boot=boot).first


def test_across_two_starts_of_the_clock_nothing_stands(heard: Any) -> None:
    last = len(heard.events) - 1
    edited = heard.changed(last, boot=2)
    assert "nobody said that the engine is off" in edited.first


# --- names


STEP = Step(kind="check", check="listen", state="running")
STRANGERS: list[tuple[str, dict[str, Any], str]] = [
    ("check-answered", {"check": "ghost"}, 'the check "ghost"'),
    ("check-answered", {"outcomes": ("ghost",)}, 'the outcome "ghost"'),
    ("thing-confirmed", {"state": "ghost"}, 'the vehicle state "ghost"'),
    ("thing-confirmed", {"confirmation": "ghost"}, 'the confirmation "ghost"'),
    ("state-entered", {"state": "ghost"}, 'the vehicle state "ghost"'),
    ("gate-answered", {"answer": "ghost"}, 'the answer "ghost"'),
    ("fact-told", {"fact": "ghost"}, 'the fact "ghost"'),
    ("fact-told", {"value": "ghost"}, 'the value "ghost" of the fact "pulley"'),
    ("session-started", {"symptom": "ghost"}, 'the symptom "ghost"'),
    *(
        ("step-offered", {"step": STEP.model_copy(update={field: "ghost"})}, '"ghost"')
        for field in ("check", "state", "confirmation", "part", "torque", "fact")
    ),
    ("step-offered", {"step": STEP.model_copy(update={"lines": ("ghost",)})}, 'the confirmation "ghost"'),
    ("thing-confirmed", {"says": ("ghost",)}, 'the confirmation "ghost"'),
]


@pytest.mark.parametrize(("kind", "fields", "said"), STRANGERS)
def test_what_the_knowledge_does_not_hold_is_named(heard: Any, kind: str, fields: dict[str, Any], said: str) -> None:
    told = heard.changed(heard.at(kind), **fields).first
    assert said in told
    assert "which its knowledge does not hold" in told


def test_a_trace_that_begins_in_the_middle_is_no_session(heard: Any) -> None:
    assert heard.without(0).first == "Line 1 is no start of a session."


# --- what the account of an audit keeps


def accounted(talk: Any, rules: int = 2) -> Ledger:
    ledger = Ledger(talk.knowledge, rules)
    for event in talk.events:
        ledger.take(event)
    return ledger


def test_an_engine_is_hot_until_it_was_switched_off(listening: Any) -> None:
    last_ms = listening.now_ms
    listening.wait(14).play(c.EndRun)
    assert accounted(listening).hot_ms == listening.now_ms
    assert accounted(listening, rules=1).hot_ms == last_ms, "the first rules counted from the last line before"


def test_time_that_nobody_knows_ends_everything(listening: Any) -> None:
    assert accounted(listening, rules=3).account.standing
    assert not accounted(listening.play(c.Tick, lost=True), rules=3).account.standing


def test_an_engine_that_was_started_on_what_was_only_told_is_named(told: Any) -> None:
    assert told.first == ""
    made = told.at("check-answered", check="belt-look")
    place = told.at("finding-told", check="belt-look")
    assert "looked at before" in told.without(made).all
    assert "nobody found it" in told.changed(place, by="").first
    assert "waits to be" in told.changed(place, check="heard", outcomes=("not-now",)).first
