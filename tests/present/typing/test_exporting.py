"""The word `export`: the session as one file that a colleague opens elsewhere."""

from itertools import count
from pathlib import Path

import pytest

from triage.app.job import Job, start
from triage.app.opening import Opening
from triage.app.reading import replay
from triage.app.shop.shop_file import Shop, accuracies
from triage.errors import StoreUnavailable
from triage.knowledge.models import Knowledge
from triage.present.typing.interpreting import Typing, interpret
from triage.present.typing.results import Ask, Copy
from triage.present.typing.saving import Saving
from triage.store import TraceWriter, verify_trace


@pytest.fixture
def kept(knowledge: Knowledge, tmp_path: Path) -> Job:
    times = count(1_700_000_000_000, 10)
    writer = TraceWriter.create(tmp_path / "home", "job-1")
    opening = Opening("shutdown-buzz", "job-1", "Ana")
    return start(knowledge, opening, accuracies(knowledge, Shop()), "", lambda: next(times), writer)


def exported(job: Job, *lines: str) -> str:
    typing = Typing(job.knowledge, job.state, job.clock(), job.who)
    asked = interpret(typing, ("export",))
    assert isinstance(asked, Ask)
    assert "Where to?" in asked.question
    wanted = interpret(typing, ("export", *lines))
    assert isinstance(wanted, Copy)
    return Saving(job).copy(wanted)


@pytest.mark.parametrize("place", ["", "mine.jsonl"])
def test_a_session_is_written_as_one_file_that_opens_elsewhere(kept: Job, tmp_path: Path, place: str) -> None:
    stick = tmp_path / "stick"
    stick.mkdir()
    said = exported(kept, str(stick / place))
    (file,) = stick.iterdir()
    assert said == f"{file} can travel: mark {kept.head}."
    assert file.name == (place or "job-1.jsonl")
    assert verify_trace(file) == []
    assert replay(file).events == kept.events
    assert replay(file).knowledge == kept.knowledge


def test_nothing_is_replaced_by_it(kept: Job, tmp_path: Path) -> None:
    taken = tmp_path / "taken.jsonl"
    taken.write_text("kept")
    with pytest.raises(StoreUnavailable):
        exported(kept, str(taken))
    assert taken.read_text() == "kept"
