"""The sheet: short enough, true to the trace, each line with its event; and flags for what is odd."""

import re
from collections.abc import Callable
from typing import Any

import pytest

from tests.present.sheet.conftest import whole
from triage.app.job import Job
from triage.knowledge.models import Knowledge
from triage.present.sheet.layout import COLUMNS, LINES, sheet_lines
from triage.present.sheet.sheet import sheet_data, sheet_of
from triage.record import events as e
from triage.session import commands as c

Living = Callable[..., Job]


def kinds(knowledge: Knowledge, events: tuple[e.Event, ...]) -> set[str]:
    return {flag.kind for flag in sheet_of(knowledge, events, "1-abc").flags}


@pytest.mark.parametrize("symptom", ["belt-chirp", "low-charge", "shutdown-buzz", "belt-thrown", "bearing-rumble"])
def test_a_whole_job_fits_a_page_and_each_line_points_to_its_event(
    knowledge: Knowledge, living: Living, symptom: str
) -> None:
    events = whole(knowledge, living(symptom))
    sheet = sheet_of(knowledge, events, "99-0123456789ab")
    lines = sheet_lines(knowledge, sheet)
    assert len(lines) <= LINES
    assert max(map(len, lines)) <= COLUMNS
    assert lines[-1] == "Mark 99-0123456789ab"
    way = lines[lines.index("The way") + 1 :]
    for line in way[: next(at for at, text in enumerate(way) if not text.startswith("  "))]:
        numbers = [int(one) for one in re.findall(r"\d+", re.match(r"  #([\d-]+)", line)[1])]  # type: ignore[index]
        assert all(isinstance(events[at - 1], (e.CheckAnswered, e.ReadingTaken, e.CheckNotDone)) for at in numbers)
    ids = [one for one in (*knowledge.checks, *knowledge.causes, *knowledge.remedies) if "-" in one]
    assert not [one for one in ids if any(re.search(rf"(?<![\w-]){one}(?![\w-])", line) for line in lines)]


def test_a_narrow_sheet_is_wrapped(knowledge: Knowledge, living: Living) -> None:
    sheet = sheet_of(knowledge, living("belt-chirp").events, "1-abc")
    lines = sheet_lines(knowledge, sheet, 40)
    assert max(map(len, lines)) <= 40


def test_the_verdict_comes_first_and_then_who_when_and_what(knowledge: Knowledge, living: Living) -> None:
    job = living("belt-chirp")
    lines = sheet_lines(knowledge, sheet_of(knowledge, job.events, "1-abc"))
    causes = job.state.concluded.causes if job.state.concluded else ()
    assert knowledge.causes[causes[0]].name in " ".join(lines[:2])
    assert any(line.startswith("Job R-7") for line in lines[:5])
    assert any("Ada" in line for line in lines[:6])


def test_a_session_that_has_hardly_begun_has_a_sheet(knowledge: Knowledge, job: Job) -> None:
    lines = sheet_lines(knowledge, sheet_of(knowledge, job.events, "1-abc"))
    assert lines[0] == "No conclusion yet."


def test_normal_results_of_one_stand_are_one_line_with_their_number(knowledge: Knowledge, living: Living) -> None:
    lines = sheet_lines(knowledge, sheet_of(knowledge, living("bearing-rumble").events, "1-abc"))
    assert any(re.search(r"#\d+-\d+ .* \d+ normal: ", line) for line in lines)


def test_the_sheet_as_data_has_the_same_flags(knowledge: Knowledge, living: Living) -> None:
    sheet = sheet_of(knowledge, living("belt-chirp").events, "1-abc")
    data = sheet_data(sheet)
    assert data["mark"] == "1-abc"
    assert [one["kind"] for one in data["flags"]] == [flag.kind for flag in sheet.flags]
    assert len(data["course"]) == len(sheet.course)


def test_hostile_words_are_cleaned(knowledge: Knowledge, job: Job) -> None:
    job.do(c.Note(at_ms=job.clock(), who="Ana", text="a\x1b[31mred\x07"))
    assert not any("\x1b" in line for line in sheet_lines(knowledge, sheet_of(knowledge, job.events, "1-abc")))


CLEAN = ["belt-chirp", "belt-squeal", "bearing-rumble", "low-charge", "slip-on-deceleration", "tensioner-flutter"]


@pytest.mark.parametrize("symptom", CLEAN)
def test_a_careful_job_raises_no_flag(knowledge: Knowledge, living: Living, symptom: str) -> None:
    found = sheet_of(knowledge, living(symptom).events, "1-abc").flags
    assert not found, found


def at_check(job: Job) -> bool:
    return job.state.step.kind in ("check", "round") and job.state.condition.engine == "stopped"


def once(act: Callable[[Job, Any], None], when: Callable[[Job], bool] = at_check) -> Callable[[Job, Any], None]:
    done: list[bool] = []

    def spoil(job: Job, now: Any) -> None:
        if not done and len(job.state.findings) > 3 and when(job):
            done.append(True)
            act(job, now)

    return spoil


def takes_back(job: Job, now: Any) -> None:
    check = next(iter(job.state.findings))
    job.do(c.TakeBack(at_ms=now[0], who="Ada", check=check))


def puts_fact_right(job: Job, now: Any) -> None:
    job.do(c.CorrectFact(at_ms=now[0], who="Ada", fact="odometer", value=1.5e8))


def tells(job: Job, now: Any) -> None:
    known = {*job.state.known, *job.state.step.open, job.state.step.check}
    check = next(one for one in ("spin-idler", "spin-tensioner-pulley", "alignment") if one not in known)
    job.do(c.TellFinding(at_ms=now[0], who="Ada", check=check, outcomes=("smooth",), by="the night shift"))


def waits(_job: Job, now: Any) -> None:
    now[0] += 5 * 3_600_000


@pytest.mark.parametrize(
    ("kind", "act"),
    [("corrected", takes_back), ("corrected", puts_fact_right), ("told", tells), ("gap", waits)],
)
def test_a_mistake_raises_its_flag(knowledge: Knowledge, living: Living, kind: str, act: Any) -> None:
    job = living("bearing-rumble", spoil=once(act))
    found = [flag for flag in sheet_of(knowledge, job.events, "1-abc").flags if flag.kind == kind]
    assert found
    assert all(1 <= flag.number <= len(job.events) and flag.words.endswith(".") for flag in found)


def test_a_round_that_is_answered_in_no_time_is_flagged(knowledge: Knowledge, living: Living) -> None:
    def hurries(job: Job, now: Any) -> None:
        if job.state.step.kind == "round":
            now[0] -= int(knowledge.checks[job.state.step.check].minutes * 60_000) - 500

    assert "hasty-round" in kinds(knowledge, living("bearing-rumble", spoil=hurries).events)


def test_one_name_for_everything_is_flagged(knowledge: Knowledge, living: Living) -> None:
    events = tuple(
        one.model_copy(update={"name": "Ada"}) if isinstance(one, e.ThingConfirmed) and one.name else one
        for one in living("bearing-rumble", "rumble-not-from-drive").events
    )
    assert "one-name" in kinds(knowledge, events)


def test_what_is_wrong_with_a_repair_is_flagged(knowledge: Knowledge, living: Living) -> None:
    events = whole(knowledge, living("belt-chirp"))

    def changed(kind: type[e.Event], **update: object) -> tuple[e.Event, ...]:
        return tuple(one.model_copy(update=update) if isinstance(one, kind) else one for one in events)

    assert not {"part-left", "other-repair"} & kinds(knowledge, events)
    assert "part-left" in kinds(knowledge, changed(e.PartRecorded, done="left"))
    assert "other-repair" in kinds(knowledge, changed(e.RemedyBegun, remedies=("renew-battery",)))
    if any(isinstance(one, e.TorqueRecorded) for one in events):
        assert "no-torque" in kinds(knowledge, changed(e.TorqueRecorded, value_nm=None))


def test_the_word_shows_the_sheet_in_a_session(job: Job) -> None:
    from triage.present.typing.exchange import Exchange

    reply = Exchange(job).take("sheet")
    assert reply.kind == "page"
    assert reply.page is not None
    assert reply.page(80)[0] == "No conclusion yet."
