"""A session that travels between two folders with only a file in between: nothing is overwritten, nothing is lost."""

from itertools import count
from pathlib import Path

import pytest

from triage.app.clocks import steady_clock
from triage.app.job import start
from triage.app.opening import Opening
from triage.app.resuming import resume
from triage.app.shop.shop_file import Shop, accuracies
from triage.cli.main import run
from triage.errors import EXIT_FILE, EXIT_OK
from triage.knowledge.models import Knowledge
from triage.session import commands as c
from triage.store import TraceWriter, export_trace, read_trace

BEGAN_MS = 1_780_000_000_000


@pytest.fixture
def sent(knowledge: Knowledge, tmp_path: Path) -> Path:
    """A paused session of Ann's in a folder of its own."""
    moments, folder = count(BEGAN_MS, 1000), tmp_path / "ann"
    writer = TraceWriter.create(folder, "job-7")
    job = start(
        knowledge,
        Opening("shutdown-buzz", "7", "Ann"),
        accuracies(knowledge, Shop()),
        "",
        lambda: next(moments),
        writer,
    )
    job.do(c.AnswerGate(at_ms=next(moments), who="Ann", answer="none"))
    job.do(c.Pause(at_ms=next(moments), who="Ann"))
    job.leave()
    return folder / "job-7.jsonl"


@pytest.fixture(autouse=True)
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("TRIAGE_HOME", str(tmp_path / "bo"))
    return tmp_path / "bo"


def travels(trace: Path, name: str) -> Path:
    return export_trace(trace, trace.parent / name)


def noted(trace: Path, text: str, at_ms: int) -> None:
    """Somebody goes on with it: a note while it is paused."""
    job, _ = resume(trace, lambda: at_ms, "", steady_clock())
    job.do(c.Note(at_ms=at_ms, who="Ann", text=text))
    job.leave()


def test_a_session_that_is_new_is_taken_in_and_can_be_gone_on_with(
    sent: Path, home: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(["receive", str(travels(sent, "out.jsonl"))]) == EXIT_OK
    assert "new here" in capsys.readouterr().out
    mine = home / "out.jsonl"
    assert read_trace(mine).digests == read_trace(sent).digests
    noted(mine, "seen by Bo", BEGAN_MS + 10**7)
    assert read_trace(mine).digests[: len(read_trace(sent).digests)] == read_trace(sent).digests


def test_the_same_twice_changes_nothing_and_more_lines_come_behind(
    sent: Path, home: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    first = travels(sent, "out.jsonl")
    run(["receive", str(first)])
    before = (home / "out.jsonl").read_bytes()
    assert run(["receive", str(first)]) == EXIT_OK
    assert "already" in capsys.readouterr().out
    assert (home / "out.jsonl").read_bytes() == before
    noted(sent, "one more thing", BEGAN_MS + 10**7)
    assert run(["receive", str(travels(sent, "later.jsonl"))]) == EXIT_OK
    assert "more lines" in capsys.readouterr().out
    assert read_trace(home / "out.jsonl").digests == read_trace(sent).digests
    assert [path.name for path in home.glob("*.jsonl")] == ["out.jsonl"]


def test_an_older_one_and_another_course_are_refused_and_nothing_changes(
    sent: Path, home: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    old = travels(sent, "old.jsonl")
    run(["receive", str(old)])
    mine = home / "old.jsonl"
    noted(mine, "Bo goes on", BEGAN_MS + 10**7)
    kept = mine.read_bytes()
    capsys.readouterr()
    assert run(["receive", str(old)]) == EXIT_FILE
    assert "ahead of" in capsys.readouterr().err
    noted(sent, "Ann goes on too", BEGAN_MS + 2 * 10**7)
    assert run(["receive", str(travels(sent, "fork.jsonl"))]) == EXIT_FILE
    assert "lines of their own from line" in capsys.readouterr().err
    assert mine.read_bytes() == kept


def test_a_file_that_does_not_hold_together_is_refused(sent: Path, home: Path) -> None:
    out = travels(sent, "out.jsonl")
    out.write_bytes(out.read_bytes().replace(b"shutdown-buzz", b"shutdown-bUzz", 1))
    assert run(["receive", str(out)]) == EXIT_FILE
    assert run(["receive", str(sent.parent / "nowhere.jsonl")]) == EXIT_FILE
    assert not list(home.glob("*.jsonl")) if home.exists() else True


def test_another_session_of_the_same_name_gets_a_name_beside_it(sent: Path, home: Path, knowledge: Knowledge) -> None:
    run(["receive", str(travels(sent, "out.jsonl"))])
    moments = count(BEGAN_MS + 5, 1000)
    writer = TraceWriter.create(sent.parent, "other")
    start(
        knowledge, Opening("belt-chirp", "8", "Ann"), accuracies(knowledge, Shop()), "", lambda: next(moments), writer
    ).leave()
    other = sent.parent / "again" / "out.jsonl"
    other.parent.mkdir()
    export_trace(sent.parent / "other.jsonl", other)
    assert run(["receive", str(other)]) == EXIT_OK
    assert sorted(path.name for path in home.glob("*.jsonl")) == ["out-2.jsonl", "out.jsonl"]
