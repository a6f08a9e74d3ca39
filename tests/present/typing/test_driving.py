"""The drive and the hand tools in a session, as lines are typed at the shipped knowledge."""

import json
import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import pytest

from triage.app.job import Job
from triage.app.tracing import stored, to_events, to_lines
from triage.drive.figures.all_figures import figures_of
from triage.drive.layout.assembly import assemble
from triage.drive.layout.placement import read_layout
from triage.drive.layout.shipped import layout_file
from triage.drive.pages.figures_page import NOTICE
from triage.drive.pages.handtools import answer
from triage.errors import CommandRefused, QuantityRefused, TriageError
from triage.knowledge.models import Knowledge
from triage.knowledge.shipped import trees_folder
from triage.present.pages.session_page import page_of
from triage.present.said.telling import told
from triage.present.steps.drive_facts import drive_facts, drive_sources
from triage.present.typing.interpreting import Typing, interpret
from triage.present.typing.reading import outcomes_or_reading
from triage.present.typing.results import Ask, Result, Show
from triage.session import commands as c
from triage.session.evolving import fold

CHECKS = ("belt-slip", "chirp-timing", "clutch-slip", "pulley-type", "snap-deceleration", "span-tension")
SHIPPED = sorted(file.stem for file in (trees_folder() / "layouts").glob("*.yaml"))


def typed(job: Job, *lines: str) -> Result:
    return interpret(Typing(job.knowledge, job.state, job.clock(), job.who), lines)


def done(job: Job, *lines: str) -> str:
    """Type lines that come to a command, do it, and give what is said about it."""
    command = typed(job, *lines)
    assert isinstance(command, c.Command)
    return "\n".join(told(job.knowledge, job.do(command)))


def asked(job: Job, *lines: str) -> str:
    result = typed(job, *lines)
    assert isinstance(result, Ask)
    return result.question


def shown(job: Job, *lines: str) -> str:
    result = typed(job, *lines)
    assert isinstance(result, Show)
    return "\n".join(result.lines)


def facts(job: Job, check: str) -> str:
    return "\n".join(drive_facts(check, job.state))


def test_without_a_layout_the_checks_carry_no_word_of_it(job: Job) -> None:
    assert all(drive_facts(check, job.state) == () for check in CHECKS)
    assert "no layout" in shown(job, "drive")
    with pytest.raises(CommandRefused, match="no layout"):
        typed(job, "rate")


def test_the_word_layout_asks_which_and_then_takes_it(job: Job) -> None:
    assert "Which layout" in asked(job, "layout")
    assert "four-cylinder-full" in done(job, "layout", "four-cylinder-full")
    assert job.state.layout is not None
    assert job.state.layout.layout.pulleys[0].part == "crank"


def test_a_layout_file_of_ones_own_is_taken_and_only_its_name_is_kept(job: Job, tmp_path: Path) -> None:
    file = tmp_path / "bay-three.yaml"
    file.write_bytes(layout_file("two-pulleys").read_bytes())
    done(job, "layout", str(file))
    assert job.state.layout is not None
    assert job.state.layout.name == "bay-three"
    assert str(tmp_path) not in page_of(job.knowledge, job.events, "h")


@pytest.mark.parametrize("name", ["nowhere", "../x", "a" * 5000, "\0", ".", ""])
def test_what_is_no_layout_is_refused_with_a_typed_error_and_nothing_happens(job: Job, name: str) -> None:
    before = job.events
    with pytest.raises(TriageError, match=r"\w"):
        typed(job, "layout", name)
    assert job.events == before


def test_a_faulty_layout_is_refused_with_its_place(job: Job, tmp_path: Path) -> None:
    file = tmp_path / "bad.yaml"
    file.write_text("pulleys:\n  - {part: crank, diameter: 150 mm}\n  - {part: crank, diameter: 60 mm}\n", "utf-8")
    with pytest.raises(TriageError, match=r"bad\.yaml:3"):
        typed(job, "layout", str(file))


@pytest.mark.parametrize("name", SHIPPED)
def test_every_shipped_layout_says_something_short_at_each_check_and_what_is_unknown(job: Job, name: str) -> None:
    done(job, "layout", name)
    for check in CHECKS:
        lines = drive_facts(check, job.state)
        assert lines[-1] == NOTICE
        assert all(len(line) <= 200 for line in lines)
        assert drive_sources(check, job.state)
    assert NOTICE in shown(job, "drive")
    assert drive_facts("belt-condition", job.state) == ()


def test_chirp_timing_lists_what_comes_round_how_often_at_idle(job: Job) -> None:
    done(job, "layout", "four-cylinder-full")
    # 750 r/min: crank 12.5, firing of four cylinders 25; alternator 12.5·(156 + 4)/(54 + 4).
    said = facts(job, "chirp-timing")
    for rate in ("lap 4.14", "crank 12.5", "firing 25", "alternator 34.5"):
        assert rate in said


def test_without_an_idle_speed_the_repeats_are_counted_for_each_turn(job: Job) -> None:
    done(job, "layout", "tape-and-photo")
    assert "each turn of the crank" in facts(job, "chirp-timing")
    assert "crank 1," in facts(job, "chirp-timing")


def test_snap_deceleration_and_pulley_type_show_this_drives_figures_or_why_not(job: Job) -> None:
    done(job, "layout", "four-cylinder-full")
    assert "steady 52 % at crank, slips below a friction of 0.18" in facts(job, "snap-deceleration")
    assert "Mean torques only" in facts(job, "snap-deceleration")
    assert "6700 r/min each second; ignition off, from 67 on" in facts(job, "pulley-type")
    assert "single firings tell them apart at steady idle too" in facts(job, "pulley-type")
    assert "At alternator itself, slowing so: 12 %, whatever type" in facts(job, "snap-deceleration")
    assert "rotor 11.4 Hz, firing 25 Hz, it isolates" in facts(job, "pulley-type")
    done(job, "layout", "stretch-belt")
    assert "does not give the inertia of compressor" in facts(job, "snap-deceleration")
    assert "does not give the inertia of alternator" in facts(job, "pulley-type")


@pytest.mark.parametrize("pulley", ["solid", "one-way-clutch"])
def test_a_pulley_without_a_spring_is_not_said_to_lack_it_in_the_layout(job: Job, tmp_path: Path, pulley: str) -> None:
    file = tmp_path / "springless.yaml"
    text = layout_file("two-pulleys").read_text("utf-8")
    file.write_text(text.replace("pulley: isolator\n    spring: 60 N·m/rad", f"pulley: {pulley}"), "utf-8")
    done(job, "layout", str(file))
    assert f"spring at idle: unknown. A {pulley} pulley has no spring." in facts(job, "pulley-type")


def test_a_unit_taken_for_granted_is_said_when_the_layout_is_taken(job: Job, tmp_path: Path) -> None:
    file = tmp_path / "bare.yaml"
    file.write_text(layout_file("two-pulleys").read_text("utf-8").replace("100 kN", "170"), "utf-8")
    assert "Taken for granted: No unit typed, taken as N: belt.stiffness 170." in done(job, "layout", str(file))


def test_readings_that_need_diameters_or_a_span_show_those_of_the_layout(job: Job) -> None:
    done(job, "layout", "four-cylinder-full")
    # Effective 156 mm and 54 mm, each with 2·2 mm to the cord.
    assert "crank 160.0 mm" in facts(job, "belt-slip")
    assert "alternator 58.0 mm" in facts(job, "belt-slip")
    # 160 mm over 58 mm.
    assert "turns 2.759 times" in facts(job, "clutch-slip")
    # A string: √(420 N / 0.11 kg/m) / (2·0.2432 m) = 127.0 Hz.
    assert "steering-pump to compressor, 243 mm" in facts(job, "span-tension")
    assert "127 Hz" in facts(job, "span-tension")
    done(job, "layout", "tape-and-photo")
    assert "does not give the position" in facts(job, "span-tension")


def test_what_a_tape_leaves_open_is_said_when_the_layout_is_taken_and_carried_on(job: Job) -> None:
    said = done(job, "layout", "tape-and-photo")
    assert "Taken for granted: alternator: Outside for effective ± 1 mm (from memory)" in said
    assert "alternator 60.0 ± 1.0 mm" in facts(job, "belt-slip")
    assert "alternator 2.73 (u 0.028)" in facts(job, "chirp-timing")
    # 2.733·10 = 27.33 Hz, u = 0.28 Hz: a count of 26.9 lies within twice that.
    assert "It fits alternator" in done(job, "rate", "26.9 ± 0.01 Hz", "600 rpm")
    check = job.knowledge.checks["belt-slip"]
    given = outcomes_or_reading(job.knowledge, job.state, check, ("600 rpm", "1600 rpm", "y", "alternator"))
    assert not isinstance(given, Ask)
    assert [part.spread for part in given[1][2:]] == [0.001, 0.001]


def test_a_layout_that_went_into_a_trace_before_shares_were_recorded_says_its_margins(job: Job) -> None:
    done(job, "layout", "four-cylinder-full")
    assert job.state.layout is not None
    known = job.state.layout.known
    assert known.steady is not None
    old = known.model_copy(update={"steady": known.steady.model_copy(update={"used": None, "slips_below": None})})
    state = replace(job.state, layout=job.state.layout.model_copy(update={"known": old}))
    assert "steady margin 2.08, below 1 it slips, at crank" in "\n".join(drive_facts("snap-deceleration", state))


def test_margins_that_depend_on_the_pulleys_type_are_said_by_type(job: Job, tmp_path: Path) -> None:
    text = layout_file("four-cylinder-full").read_text("utf-8")
    file = tmp_path / "heavy-rotor.yaml"
    file.write_text(text.replace("rotor_inertia: 0.0031", "rotor_inertia: 0.04"), "utf-8")
    done(job, "layout", str(file))
    said = facts(job, "snap-deceleration")
    assert "solid or isolator" in said
    assert "one-way-clutch" in said


def test_a_wrong_alternator_pulley_is_explained_by_its_own_margin_and_not_by_an_idle_pulleys(
    job: Job, tmp_path: Path
) -> None:
    text = layout_file("four-cylinder-full").read_text("utf-8")
    file = tmp_path / "heavy-rotor.yaml"
    file.write_text(text.replace("rotor_inertia: 0.0031", "rotor_inertia: 0.012"), "utf-8")
    done(job, "layout", str(file))
    assert job.state.layout is not None
    known = job.state.layout.known
    assert {weakest.part for weakest in known.alternator.values()} == {"alternator"}
    assert known.alternator["solid"].margin < known.alternator["one-way-clutch"].margin
    said = facts(job, "snap-deceleration")
    solid, clutch = (f"{(known.alternator[one].used or 0) * 100:.0f} %" for one in ("solid", "one-way-clutch"))
    assert f"At alternator itself, slowing so: solid or isolator {solid}; one-way-clutch {clutch}" in said
    assert not any(f"at {idle}" in said for idle in ("tensioner", "idler"))


def test_layout_and_vehicle_that_contradict_each_other_are_said_once_taken_and_beside_checks(job: Job) -> None:
    job.do(c.AnswerGate(at_ms=job.clock(), who="Ana", answer="none"))
    for fact, value in (("pulley", "one-way-clutch"), ("odometer", 1.2e8), ("cylinders", 1.0)):
        job.do(c.TellFact(at_ms=job.clock(), who="Ana", fact=fact, value=value))
    against = "The layout says decoupler and 4 cylinders, the vehicle one-way clutch and 1 cylinder."
    assert against in done(job, "layout", "four-cylinder-full")
    for check in ("chirp-timing", "snap-deceleration", "pulley-type"):
        assert against in facts(job, check)
    assert against not in facts(job, "belt-slip")
    job.do(c.CorrectFact(at_ms=job.clock(), who="Ana", fact="pulley", value=None))
    job.do(c.CorrectFact(at_ms=job.clock(), who="Ana", fact="cylinders", value=4.0))
    assert "The layout says" not in facts(job, "chirp-timing")
    assert "The layout says" not in done(job, "layout", "four-cylinder-full")


def test_what_could_not_be_compared_with_a_rate_is_named(job: Job, tmp_path: Path) -> None:
    done(job, "layout", "four-cylinder-full")
    assert "not compared" not in done(job, "rate", "4.1 ± 0.1 Hz", "idle")
    file = tmp_path / "two-diameters.yaml"
    file.write_text("pulleys: [{part: crank, diameter: 160 mm}, {part: alternator, diameter: 56 mm}]", "utf-8")
    done(job, "layout", str(file))
    missing = "Lap and firing are unknown here and were not compared."
    assert missing in done(job, "rate", "26.9 ± 0.01 Hz", "600 rpm")
    assert missing in facts(job, "chirp-timing")
    assert missing in " ".join(page_of(job.knowledge, job.events, "h").split())


@pytest.mark.parametrize(("slowing_rpm_per_s", "alike"), [(6600, True), (6800, False)])
def test_by_mean_torque_the_pulley_types_differ_only_beyond_the_deceleration_that_reverses_it(
    slowing_rpm_per_s: float, *, alike: bool
) -> None:
    drive = assemble(read_layout(layout_file("four-cylinder-full")))
    margins = figures_of(drive, slowing_rev_s2=slowing_rpm_per_s / 60).slip_margin["slowing"]
    solid, clutch = margins["solid"].value, margins["one-way-clutch"].value
    assert solid is not None
    assert clutch is not None
    assert (solid == pytest.approx(clutch, abs=0.001)) is alike


def test_a_rate_is_asked_for_with_its_spread_and_speed_then_matched_and_recorded(job: Job) -> None:
    done(job, "layout", "four-cylinder-full")
    assert "how sure" in asked(job, "rate")
    assert "750" in asked(job, "rate", "4.1 ± 0.1 Hz")
    said = done(job, "rate", "4.1 ± 0.1 Hz", "idle")
    assert "It fits lap and nothing else here." in said
    assert NOTICE in said
    assert "It fits lap" in facts(job, "chirp-timing")
    assert "It fits lap" in page_of(job.knowledge, job.events, "h")


def test_what_a_rate_cannot_tell_apart_is_named(job: Job) -> None:
    done(job, "layout", "four-cylinder-full")
    assert "cannot tell them apart" in done(job, "rate", "25.2 ± 2 Hz", "750 rpm")


def test_an_unsure_speed_makes_the_match_as_unsure(job: Job) -> None:
    done(job, "layout", "four-cylinder-full")
    assert "nothing else" in done(job, "rate", "17.2 ± 0.1 Hz", "750 rpm")
    assert "cannot tell" in done(job, "rate", "17.2 ± 0.1 Hz", "750 ± 40 rpm")


@pytest.mark.parametrize("line", ["3.3 Hz", "0 ± 0.1 Hz", "often", "3 km"])
def test_a_rate_without_spread_or_sense_is_refused(job: Job, line: str) -> None:
    done(job, "layout", "four-cylinder-full")
    with pytest.raises(QuantityRefused, match=r"\w"):
        typed(job, "rate", line)


def test_a_layout_without_idle_needs_the_speed_typed(job: Job) -> None:
    done(job, "layout", "tape-and-photo")
    assert "idle" not in asked(job, "rate", "4.1 ± 0.1 Hz")
    for line in ("idle", "0 rpm"):
        with pytest.raises(TriageError, match=r"\w"):
            typed(job, "rate", "4.1 ± 0.1 Hz", line)
    assert "It fits lap" in done(job, "rate", "2.92 ± 0.05 Hz", "600 rpm")


def test_a_replayed_trace_shows_the_same_facts_without_working_anything_out(job: Job) -> None:
    done(job, "layout", "four-cylinder-full")
    done(job, "rate", "4.1 ± 0.1 Hz", "idle")
    opening, *others = to_lines(job.events, 1)
    whole = {**opening.data, "knowledge": json.loads(stored(job.knowledge))}
    lines = [vars(line) for line in (replace(opening, data=whole), *others)]
    program = (
        "import json, sys; from triage.app.tracing import to_events; from triage.store import Line;"
        "from triage.session.evolving import fold; from triage.present.steps.drive_facts import drive_facts;"
        "state = fold(to_events([Line(**line) for line in json.load(sys.stdin)]));"
        "print(json.dumps([drive_facts(check, state) for check in sys.argv[1:]]));"
        "sys.exit('triage.drive.layout.assembly' in sys.modules)"
    )
    command = [sys.executable, "-c", program, *CHECKS]
    replayed = subprocess.run(command, input=json.dumps(lines), capture_output=True, text=True, timeout=60)
    assert replayed.returncode == 0, replayed.stderr
    assert json.loads(replayed.stdout) == [list(drive_facts(check, job.state)) for check in CHECKS]
    assert fold(to_events(to_lines(job.events, 1), stored(job.knowledge))) == job.state


def test_without_a_layout_the_mechanics_are_not_loaded(tmp_path: Path) -> None:
    program = "import sys, triage.present.typing.interpreting; sys.exit('numpy' in sys.modules)"
    assert subprocess.run([sys.executable, "-c", program], cwd=tmp_path.cwd(), timeout=60).returncode == 0


def test_a_hand_tool_is_named_then_its_values_asked_one_after_the_other(job: Job) -> None:
    assert "Wanted torque" in asked(job, "tool", "adapter-setting")
    assert "Wrench length" in asked(job, "tool", "adapter-setting", "40 Nm")
    assert "usual" in asked(job, "tool", "adapter-setting", "40 Nm", "400 mm", "50 mm")
    page = shown(job, "tool", "adapter-setting", "40 Nm", "400 mm", "50 mm", "usual")
    # T·L/(L + E) = 40·400/450.
    assert "setting = 35.6 N·m" in page


def test_a_hand_tool_on_one_line_says_what_the_command_line_says(job: Job, knowledge: Knowledge) -> None:
    titles = {source.id: source.title for source in knowledge.sources.values()}
    values = ["40 Nm", "400 mm", "50 mm", "90 deg"]
    page = answer(["adapter-setting", *values], titles)
    assert shown(job, "tool", f"adapter-setting; {'; '.join(values)}") == page.rstrip("\n")
    assert shown(job, "tool", "adapter-setting", *values) == page.rstrip("\n")


@pytest.mark.parametrize(
    "lines", [("adapter-setting", "40 Nm", "usual"), ("adapter-setting; 40 Nm; usual; 50 mm; 90 deg",)]
)
def test_usual_in_the_place_of_a_value_that_has_none_is_refused_there(job: Job, lines: tuple[str, ...]) -> None:
    with pytest.raises(QuantityRefused, match="has no usual value") as refused:
        typed(job, "tool", *lines)
    assert "Wrench length".lower() in refused.value.message.lower()


def test_all_tools_are_listed_and_a_quantity_is_converted(job: Job) -> None:
    assert "list" in asked(job, "tool")
    assert "span-tension" in shown(job, "tool", "list")
    assert "converted" in asked(job, "tool", "convert")
    assert "unit" in asked(job, "tool", "convert", "13 in·lbf")
    assert "1.4688 N·m" in shown(job, "tool", "convert", "13 in·lbf", "N·m")


@pytest.mark.parametrize(
    "lines",
    [
        ("adaptor",),
        ("adapter-setting; 1 Nm",),
        ("adapter-setting", "-4 Nm"),
        ("adapter-setting", "4 km"),
        ("convert; 1 m; s",),
    ],
)
def test_no_such_tool_or_value_is_refused_at_once(job: Job, lines: tuple[str, ...]) -> None:
    with pytest.raises(TriageError, match=r"\w"):
        typed(job, "tool", *lines)
