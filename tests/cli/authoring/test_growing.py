"""`triage trees grow` on a small world."""

import argparse
from pathlib import Path
from typing import Any

import pytest

from triage.cli.authoring import trees
from triage.errors import EXIT_OK, StoreUnavailable, TriageError


def run(*words: str) -> int:
    parser = argparse.ArgumentParser()
    trees.add(parser.add_subparsers())
    args = parser.parse_args(["trees", "grow", *words])
    return int(args.run(args))


@pytest.mark.usefixtures("world")
def test_the_tree_is_data_and_its_cost_a_message(capsys: pytest.CaptureFixture[str]) -> None:
    assert run("whine-driving") == EXIT_OK
    told = capsys.readouterr()
    assert "symptom: whine-driving" in told.out
    assert "Nobody has reviewed it." in told.out
    assert "Expected: " in told.err
    assert "It names a cause for " in told.err


def test_a_grown_tree_in_place_of_the_authored_one_has_no_faults(world: Any) -> None:
    assert run("whine-driving", "--write", str(world.folder / "symptoms" / "whine.yaml"), "--overwrite") == EXIT_OK
    parser = argparse.ArgumentParser()
    trees.add(parser.add_subparsers())
    args = parser.parse_args(["trees", "check", str(world.folder)])
    assert args.run(args) == EXIT_OK


@pytest.mark.usefixtures("world")
@pytest.mark.parametrize(
    "words", [("wine",), ("whine-driving", "--without", "hammer"), ("whine-driving", "--pulley", "square")]
)
def test_what_is_not_known_is_named(words: tuple[str, ...]) -> None:
    with pytest.raises(TriageError, match="There is no"):
        run(*words)


@pytest.mark.usefixtures("world")
def test_the_known_tools_are_listed_where_none_is_near() -> None:
    with pytest.raises(TriageError) as refused:
        run("whine-driving", "--without", "hammer")
    assert refused.value.hint.startswith("Known: ")


@pytest.mark.usefixtures("world")
def test_a_tree_for_one_pulley_says_so(capsys: pytest.CaptureFixture[str]) -> None:
    run("whine-driving", "--pulley", "solid")
    assert "Only for vehicles with that pulley: compare it with --pulley solid." in capsys.readouterr().out


def test_a_file_that_cannot_be_written_is_said(world: Any) -> None:
    with pytest.raises(StoreUnavailable):
        run("whine-driving", "--write", str(world.folder / "nowhere" / "whine.yaml"))


@pytest.mark.usefixtures("world")
def test_a_shop_whose_checks_take_long_grows_a_dearer_tree(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("TRIAGE_HOME", str(tmp_path / "shop"))
    (tmp_path / "shop").mkdir()
    (tmp_path / "shop" / "shop.yaml").write_text('losses: {fault_left_in: "20 h"}\n', encoding="utf-8")
    expected = {}
    for words in ((), ("--shop",)):
        run("whine-driving", *words)
        line = next(line for line in capsys.readouterr().err.splitlines() if line.startswith("Expected: "))
        expected[words] = float(line.removesuffix(" min.").rpartition(" ")[2])
    assert expected[("--shop",)] > expected[()]
