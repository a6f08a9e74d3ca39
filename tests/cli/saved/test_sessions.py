"""Saved sessions listed, read and proved unchanged."""

import json
from collections.abc import Iterable
from dataclasses import replace
from itertools import count
from pathlib import Path

import pytest

from triage.app.job import start
from triage.app.opening import Opening
from triage.app.shop.shop_file import Shop, accuracies
from triage.cli.beginning import begin
from triage.cli.main import run
from triage.errors import EXIT_DISAGREES, EXIT_FILE, EXIT_OK, EXIT_REFUSED, TriageError
from triage.knowledge.models import Knowledge
from triage.knowledge.shipped import demos_folder
from triage.session import commands as c
from triage.store import Head, Line, TraceWriter, read_trace, verify_trace
from triage.store.lines import encode

BEGAN_MS = 1_767_254_400_000


@pytest.fixture
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("TRIAGE_HOME", str(tmp_path))
    return tmp_path


def saved(knowledge: Knowledge, home: Path, name: str = "job-7", job: str = "7", *, pause: bool = True) -> Head:
    moments = count(BEGAN_MS, 1000)
    writer = TraceWriter.create(home, name)
    opening = Opening(symptom="shutdown-buzz", job=job, who="Ann")
    session = start(knowledge, opening, accuracies(knowledge, Shop()), "", lambda: next(moments), writer)
    session.do(c.AnswerGate(at_ms=next(moments), who="Ann", answer="none"))
    if pause:
        session.do(c.Pause(at_ms=next(moments), who="Ann"))
    head = session.head
    session.leave()
    return head


def test_an_empty_folder_is_said_to_be_empty(home: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["sessions"]) == EXIT_OK
    assert capsys.readouterr().out == f"No session is saved in {home}.\n"


def test_sessions_are_listed_with_what_is_left_to_do(
    knowledge: Knowledge, home: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    saved(knowledge, home)
    saved(knowledge, home, "job-8", "8", pause=False)
    (home / "torn.jsonl").write_bytes(b"{")
    assert run(["sessions"]) == EXIT_OK
    rows = [line.split() for line in capsys.readouterr().out.splitlines()]
    assert rows[0] == ["session", "job", "symptom", "last", "saved", "lines", "now"]
    assert rows[1][:5] == ["job-7", "7", "shutdown-buzz", "2026-01-01", "08:00"]
    assert rows[1][-1] == "paused"
    assert rows[2][0] == "job-8"
    assert rows[2][-1] == "open"
    assert rows[3][:4] == ["torn", "cannot", "be", "opened:"]


def test_a_listed_name_does_nothing_to_the_terminal(
    knowledge: Knowledge, home: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    saved(knowledge, home, job="7\x1b]0;owned\x07\u202e\nfake")
    assert run(["sessions"]) == EXIT_OK
    out = capsys.readouterr().out
    assert "7‹1B›]0;owned‹07›‹202E›‹0A›fake" in out


def test_a_job_reference_without_end_widens_no_line(
    knowledge: Knowledge, home: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    saved(knowledge, home, job="R-1042 " * 285)
    saved(knowledge, home, "job-8", "8")
    assert run(["sessions"]) == EXIT_OK
    head, *rows = capsys.readouterr().out.splitlines()[:3]
    assert max(map(len, (head, *rows))) < 120
    assert any("R-1042 R-1042 " in row and "…" in row for row in rows)


def test_sessions_are_listed_as_data_and_from_a_day_on(
    knowledge: Knowledge, home: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    saved(knowledge, home)
    assert run(["sessions", "--json"]) == EXIT_OK
    (one,) = json.loads(capsys.readouterr().out)["sessions"]
    assert (one["session"], one["job"], one["symptom"], one["now"]) == ("job-7", "7", "shutdown-buzz", "paused")
    day = one["saved"][:10]
    for since, told in ((day, 1), ("2999-01-01", 0)):
        assert run(["sessions", "--json", "--since", since]) == EXIT_OK
        assert len(json.loads(capsys.readouterr().out)["sessions"]) == told


def test_show_prints_a_page_by_file_or_by_name(
    knowledge: Knowledge, home: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    head = saved(knowledge, home)
    assert run(["show", "job-7"]) == EXIT_OK
    by_name = capsys.readouterr().out
    assert str(head) in by_name
    assert run(["show", str(home / "job-7.jsonl")]) == EXIT_OK
    assert capsys.readouterr().out == by_name


def test_show_and_demo_say_that_a_last_line_was_cut_off(
    home: Path, capsys: pytest.CaptureFixture[str], knowledge: Knowledge
) -> None:
    saved(knowledge, home)
    assert run(["show", "job-7"]) == EXIT_OK
    assert "Notice:" not in capsys.readouterr().out
    path = home / "job-7.jsonl"
    path.write_bytes(path.read_bytes()[:-40])
    assert run(["show", "job-7"]) == EXIT_OK
    assert capsys.readouterr().out.startswith("Notice: ")
    assert run(["demo", str(path)]) == EXIT_OK
    assert "is torn" in capsys.readouterr().err


def test_what_is_not_there_is_said_with_where_to_look(home: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["show", "job-9"]) == EXIT_FILE
    assert run(["verify", "job-9\x00"]) == EXIT_FILE
    told = capsys.readouterr().err
    assert "There is no session job-9." in told
    assert "triage sessions" in told
    assert not list(home.iterdir())


def test_a_sound_trace_verifies_and_names_its_mark(
    knowledge: Knowledge, home: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    head = saved(knowledge, home)
    assert run(["verify", "job-7", "--head", str(head)]) == EXIT_OK
    assert capsys.readouterr().out == f"job-7: sound, {head}\n"


def test_changed_missing_and_moved_lines_are_named(
    knowledge: Knowledge, home: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    saved(knowledge, home)
    lines = (home / "job-7.jsonl").read_bytes().splitlines(keepends=True)
    assert len(lines) > 4
    broken = {
        "changed": [*lines[:2], lines[2].replace(b'"none"', b'"belt"', 1).replace(b"Ann", b"Eve", 1), *lines[3:]],
        "missing": [*lines[:2], *lines[3:]],
        "moved": [*lines[:2], lines[3], lines[2], *lines[4:]],
    }
    for name, kept in broken.items():
        (home / f"{name}.jsonl").write_bytes(b"".join(kept))
    assert run(["verify", "job-7", *broken]) == EXIT_DISAGREES
    told = capsys.readouterr().out.splitlines()
    for name in broken:
        assert any(line.startswith(f"{name}: ") and "ine 3" in line for line in told), (name, told)


def test_lines_cut_off_show_only_against_a_mark(
    knowledge: Knowledge, home: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    head = saved(knowledge, home)
    file = home / "job-7.jsonl"
    file.write_bytes(b"".join(file.read_bytes().splitlines(keepends=True)[:-1]))
    assert run(["verify", "job-7"]) == EXIT_OK
    assert run(["verify", "job-7", "--head", str(head)]) == EXIT_DISAGREES
    assert "The last line is missing" in capsys.readouterr().out


def test_lines_that_are_chained_but_mean_nothing_here_do_not_verify(
    home: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    writer = TraceWriter.create(home, "foreign")
    writer.append([Line(1, BEGAN_MS, "Ann", "moon-landed", 1, {"format": 1})])
    writer.close()
    assert verify_trace(home / "foreign.jsonl") == []
    assert run(["verify", "foreign"]) == EXIT_DISAGREES
    assert "does not begin with the start" in capsys.readouterr().out


def test_a_mark_belongs_to_one_trace(home: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["verify", "a", "b", "--head", "1-00c0ffee00aa"]) == EXIT_REFUSED
    assert run(["verify", "a", "--head", "end"]) == EXIT_REFUSED
    assert "A mark looks like" in capsys.readouterr().err
    assert not list(home.iterdir())


def sealed(path: Path, lines: Iterable[Line]) -> None:
    """Write lines with numbers and digests that fit."""
    digest = ""
    with path.open("wb") as file:
        for number, line in enumerate(lines, 1):
            raw, digest = encode(replace(line, seq=number), digest)
            file.write(raw)


def test_a_trace_that_this_program_could_not_have_written_can_only_be_read(
    knowledge: Knowledge, home: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    saved(knowledge, home)
    path = home / "job-7.jsonl"
    lines = read_trace(path).lines
    sealed(path, [*lines, lines[0]])
    told = f"Line {len(lines) + 1} starts the session a second time."
    assert run(["verify", "job-7"]) == EXIT_DISAGREES
    assert f"job-7: {told}\n" in capsys.readouterr().out
    assert run(["resume", "job-7"]) == EXIT_FILE
    assert told in capsys.readouterr().err
    assert run(["show", "job-7"]) == EXIT_OK
    assert told in capsys.readouterr().out.splitlines()[0]
    assert run(["demo", str(path)]) == EXIT_OK
    assert told in capsys.readouterr().err.splitlines()[0]


def test_no_session_is_begun_or_taken_up_by_a_clock_that_nobody_has_set(
    knowledge: Knowledge, home: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    saved(knowledge, home)
    before = (home / "job-7.jsonl").read_bytes()
    monkeypatch.setattr("triage.cli.beginning.now_ms", lambda: 86_400_000)
    assert run(["resume", "job-7"]) == EXIT_REFUSED
    assert "The clock of this computer says 1970-01-02." in capsys.readouterr().err
    with pytest.raises(TriageError, match="1970-01-02"):
        begin(knowledge, Opening(symptom="shutdown-buzz", job="8", who="Ann"))
    assert [path.name for path in home.glob("*.jsonl")] == ["job-7.jsonl"]
    assert (home / "job-7.jsonl").read_bytes() == before


def test_what_another_answer_would_have_changed_is_said_and_nothing_is_written(
    capsys: pytest.CaptureFixture[str],
) -> None:
    demo = demos_folder() / "worn-bearing.jsonl"
    before = demo.read_bytes()
    assert run(["show", str(demo), "--if", "spin-decoupler-ring=smooth"]) == EXIT_OK
    said = capsys.readouterr().out.splitlines()
    assert said[0].endswith("had been: Smooth")
    as_found, then = (next(line for line in said if line.startswith(f"  {word}")) for word in ("As found", "Then"))
    assert "Bearing in the clutch or decoupler pulley worn 99 %" in as_found
    assert "Bearing in the clutch or decoupler pulley worn 99 %" not in then
    assert demo.read_bytes() == before
    assert run(["show", str(demo), "--if", "spin-decoupler-ring=blue"]) == EXIT_REFUSED
    assert "It has: " in capsys.readouterr().err
