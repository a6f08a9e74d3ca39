"""From an empty folder to a session with a symptom of the shop's own."""

import argparse
from pathlib import Path

import pytest

from triage.app.cases import read_cases, walk_case
from triage.app.shop.shop_file import Shop, accuracies
from triage.cli.authoring import trees
from triage.cli.authoring.symptom import add
from triage.cli.knowing import shipped_knowledge
from triage.errors import EXIT_DISAGREES, EXIT_OK, StoreUnavailable, TriageError

OWN = ("new", "whine-at-speed", "--name", "Whine: it's at speed", "--phrase", "it whines from sixty on")


@pytest.fixture(autouse=True)
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("TRIAGE_HOME", str(tmp_path))
    return tmp_path / "trees"


def run(*words: str) -> int:
    parser = argparse.ArgumentParser()
    commands = parser.add_subparsers()
    trees.add(commands)
    add(commands)
    args = parser.parse_args(words)
    return int(args.run(args))


def test_a_start_is_sound_is_walked_and_found_by_its_words(home: Path, capsys: pytest.CaptureFixture[str]) -> None:
    before = set(shipped_knowledge().trees)
    assert run("trees", *OWN) == EXIT_OK
    assert "No faults: " in capsys.readouterr().out
    knowledge = shipped_knowledge()
    assert set(knowledge.trees) == {*before, "whine-at-speed"}
    (case,) = read_cases(home / "cases" / "whine-at-speed.yaml", knowledge)
    walked, job = walk_case(knowledge, case, accuracies(knowledge, Shop()))
    assert walked.agrees
    assert job.state.symptom == "whine-at-speed"
    assert run("symptom", "it whines from sixty on") == EXIT_OK
    assert "whine-at-speed" in capsys.readouterr().out.splitlines()[0]


def test_a_second_start_stands_beside_the_first(home: Path) -> None:
    assert run("trees", *OWN) == EXIT_OK
    first = (home / "signs.yaml").read_text("utf-8")
    assert run("trees", "new", "hum-when-parked") == EXIT_OK
    assert (home / "signs.yaml").read_text("utf-8").startswith(first.rstrip())
    assert {"whine-at-speed", "hum-when-parked"} <= set(shipped_knowledge().trees)


@pytest.mark.parametrize("symptom", ["belt-chirp", "heard-at-idle", "Whine", "../whine", ""])
def test_an_id_that_is_taken_or_none_is_refused_and_nothing_is_written(home: Path, symptom: str) -> None:
    with pytest.raises(TriageError):
        run("trees", "new", symptom)
    assert not home.exists()


def test_a_file_that_is_there_stays(home: Path) -> None:
    (home / "cases").mkdir(parents=True)
    (home / "cases" / "whine-at-speed.yaml").write_text("[]", "utf-8")
    with pytest.raises(StoreUnavailable):
        run("trees", *OWN)
    assert not (home / "symptoms").exists()


def test_what_takes_protection_away_is_a_fault_and_no_session_begins(
    home: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (home / "checks").mkdir(parents=True)
    check = shipped_knowledge().checks["belt-fit"].model_dump_json(exclude_defaults=True)
    (home / "checks" / "own.yaml").write_text(f"checks:\n  - {check.replace('closes_running', 'formerly')}\n", "utf-8")
    assert run("trees", "check") == EXIT_DISAGREES
    assert str(home) in capsys.readouterr().out
    with pytest.raises(TriageError):
        shipped_knowledge()


def test_a_sign_a_phrase_and_a_case_that_serve_nobody_are_faults(
    home: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run("trees", *OWN) == EXIT_OK
    capsys.readouterr()
    (home / "signs.yaml").unlink()
    tree = home / "symptoms" / "whine-at-speed.yaml"
    tree.write_text(tree.read_text("utf-8").replace("it whines from sixty on", "the belt came off"), "utf-8")
    case = home / "cases" / "whine-at-speed.yaml"
    case.write_text(case.read_text("utf-8").replace("rough", "rouh"), "utf-8")
    assert run("trees", "check") == EXIT_DISAGREES
    told = capsys.readouterr().out
    for fault in (
        "The symptom 'whine-at-speed' has no sign.",
        "The phrase 'the belt came off' finds belt-thrown instead.",
        "That is no outcome and no whole reading of this check.",
    ):
        assert fault in told
