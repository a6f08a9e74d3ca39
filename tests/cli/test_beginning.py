"""How a session begins: the name of its trace."""

import time
from pathlib import Path

import pytest

from triage.app.opening import Opening
from triage.cli.beginning import begin
from triage.errors import StoreUnavailable
from triage.knowledge.loading import load_knowledge
from triage.knowledge.shipped import trees_folder
from triage.store import list_traces

OPENING = Opening(symptom="shutdown-buzz", job="R-1042", who="Ann", words="buzzes when switched off")


@pytest.fixture
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder of sessions, at a clock that stands still."""
    monkeypatch.setenv("TRIAGE_HOME", str(tmp_path / "home"))
    monkeypatch.setattr(time, "strftime", lambda *_: "20261130-120000")
    return tmp_path / "home"


def begun() -> None:
    begin(load_knowledge(trees_folder()), OPENING).leave()


def test_sessions_of_one_job_begun_in_one_second_each_have_a_name(home: Path) -> None:
    for _ in range(3):
        begun()
    name = "20261130-120000-shutdown-buzz-r-1042"
    kept = {summary.path.stem: summary.job for summary in list_traces(home)}
    assert kept.keys() == {name, f"{name}-2", f"{name}-3"}
    assert list(kept.values()) == ["R-1042"] * 3


def test_a_folder_that_cannot_be_made_is_said_at_once(home: Path) -> None:
    home.touch()
    with pytest.raises(StoreUnavailable, match="something of that name is there already"):
        begun()
