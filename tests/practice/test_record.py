"""What is kept of practice: apart from every job, marked, and silent about the truth until the debrief."""

import hashlib
import json
from pathlib import Path

import pytest

from tests.session.conftest import Kim
from triage.app.job import start
from triage.app.opening import Opening
from triage.app.resuming import resume
from triage.app.shop.shop_file import Shop, accuracies
from triage.app.standing_jobs import standing_jobs
from triage.errors import TriageError
from triage.knowledge.models import Knowledge
from triage.listening.listener import Listener
from triage.practice.exercise import Exercise, Setting
from triage.practice.sealing import Seal
from triage.practice.vehicle import drawn
from triage.present.practising.dialogue import PracticeDialogue
from triage.session import commands as c
from triage.store import TraceWriter, list_traces
from triage.store.practised import MARK, PracticeRecord, practice_folder

SEED = 11


@pytest.fixture
def kept(tmp_path: Path, setting: Setting, listener: Listener) -> tuple[PracticeDialogue, PracticeRecord]:
    vehicle = drawn(setting.knowledge, "belt-squeal", 1, SEED)
    record = PracticeRecord.begin(tmp_path, vehicle.symptom)
    return PracticeDialogue(Exercise(setting, vehicle), listener, Seal(SEED), record.add), record


def lines_of(record: PracticeRecord) -> list[dict[str, object]]:
    return [json.loads(line) for line in record.path.read_text("utf-8").splitlines()]


def ended(dialogue: PracticeDialogue) -> None:
    for line in ("tree", "1", "tree", "0", "1", "conclude", "", "1", "", "2"):
        dialogue.take(line)


def test_every_line_and_the_name_are_marked_and_it_lies_in_a_folder_of_its_own(
    kept: tuple[PracticeDialogue, PracticeRecord], tmp_path: Path
) -> None:
    dialogue, record = kept
    ended(dialogue)
    assert record.path.parent == practice_folder(tmp_path)
    assert record.path.name.startswith(MARK)
    assert len(lines_of(record)) > 5
    assert all(str(line["practice"]).startswith(MARK) for line in lines_of(record))


def test_the_truth_stands_in_no_line_before_the_debrief_and_can_be_checked_after_it(
    kept: tuple[PracticeDialogue, PracticeRecord],
) -> None:
    dialogue, record = kept
    ended(dialogue)
    *before, last = lines_of(record)
    told = json.dumps([line for line in before if line["kind"] not in ("concluded", "believed", "repaired")])
    assert last["kind"] == "debriefed"
    assert last["faults"] == list(dialogue.exercise.vehicle.faults)
    assert not any(cause in told for cause in dialogue.exercise.knowledge.causes)
    assert "seed" not in told
    digest = hashlib.sha256(f"{last['salt']}:{last['seed']}".encode()).hexdigest()
    assert before[0]["seal"] == digest


def test_an_exercise_that_is_left_says_nothing_of_the_truth(kept: tuple[PracticeDialogue, PracticeRecord]) -> None:
    dialogue, record = kept
    dialogue.take("leave")
    assert dialogue.over
    assert [line["kind"] for line in lines_of(record)] == ["begun", "left"]
    assert "salt" not in record.path.read_text("utf-8")


def test_two_seals_of_one_seed_differ() -> None:
    assert Seal(1).digest != Seal(1).digest


def test_it_is_listed_nowhere_and_never_taken_up(kept: tuple[PracticeDialogue, PracticeRecord], tmp_path: Path) -> None:
    _, record = kept
    assert list_traces(tmp_path) == []
    beside = tmp_path / record.path.name
    beside.write_bytes(record.path.read_bytes())
    (summary,) = list_traces(tmp_path)
    assert summary.fault
    with pytest.raises(TriageError):
        resume(beside, lambda: 0, "")


def test_practice_waits_while_a_job_stands_made_safe(knowledge: Knowledge, tmp_path: Path) -> None:
    times = iter(range(0, 10_000_000, 10))
    opening = Opening(symptom="belt-squeal", job="R-7", who="Kim")
    writer = TraceWriter.create(tmp_path, "job")
    job = start(knowledge, opening, accuracies(knowledge, Shop()), "", lambda: next(times), writer)
    assert standing_jobs(tmp_path) == ()
    while job.state.step.kind != "confirm" or not job.state.standing:
        command = Kim().answer(knowledge, job.state, next(times))
        assert command is not None
        job.do(command)
    assert standing_jobs(tmp_path) == ("R-7",)
    job.do(c.Pause(at_ms=next(times), who="Kim"))
    assert standing_jobs(tmp_path) == ()
    job.leave()
