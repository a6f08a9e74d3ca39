import argparse
from pathlib import Path
from typing import Any

import pytest

from triage.cli.authoring import trees
from triage.errors import EXIT_DISAGREES, EXIT_OK, StoreUnavailable, TriageError


def run(*words: str) -> int:
    parser = argparse.ArgumentParser()
    trees.add(parser.add_subparsers())
    args = parser.parse_args(["trees", *words])
    return int(args.run(args))


def test_a_sound_folder_is_counted_and_exits_with_0(world: Any, capsys: pytest.CaptureFixture[str]) -> None:
    assert run("check", str(world.folder)) == EXIT_OK
    assert capsys.readouterr().out == "No faults: 1 trees, 4 checks, 2 causes, 1 remedies.\n"


def test_every_fault_is_a_line_and_the_exit_code_is_1(world: Any, capsys: pytest.CaptureFixture[str]) -> None:
    world.change("symptoms/whine.yaml", "cannot: turn", "cannot: tun")
    world.change("causes.yaml", "part: belt", "part: 7")
    assert run("check") == EXIT_DISAGREES
    lines = capsys.readouterr().out.splitlines()
    assert lines[0].startswith(f"{world.folder}/causes.yaml:4:11: ")
    assert lines[1].startswith(f"{world.folder}/symptoms/whine.yaml:18:13: ")
    assert lines[2:] == ["2 faults."]


def test_one_file_is_checked_in_place_of_the_shipped_tree(
    world: Any, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    own = tmp_path / "own.yaml"
    shipped = (world.folder / "symptoms" / "whine.yaml").read_text(encoding="utf-8")
    own.write_text(shipped, encoding="utf-8")
    assert run("check", str(own)) == EXIT_OK
    assert "No faults: 1 trees" in capsys.readouterr().out
    own.write_text(shipped.replace("cannot: turn", "cannot: tun"), encoding="utf-8")
    assert run("check", str(own)) == EXIT_DISAGREES
    assert capsys.readouterr().out.startswith(f"{own}:")
    with pytest.raises(TriageError, match="no folder or file"):
        run("check", str(tmp_path / "nowhere.yaml"))


WORDS = """\
concepts: {squeal: [squeal-]}
symptoms: {whine-driving: {squeal: 60}}
drive: [squeal]
beside: [brak-]
recognised: [squeal]
plain: [sequel]
filler: [the]
foreign: [seat belt-]
"""


def test_the_words_are_checked_with_the_rest(world: Any, capsys: pytest.CaptureFixture[str]) -> None:
    world.write("words.yaml", WORDS)
    assert run("check") == EXIT_OK
    world.write("words.yaml", WORDS.replace("whine-driving", "whine-drivin"))
    assert run("check") == EXIT_DISAGREES
    world.write("words.yaml", WORDS.replace("brak-", "Brak"))
    assert run("check") == EXIT_DISAGREES
    world.change("symptoms/whine.yaml", "cannot: turn", "cannot: tun")
    assert run("check") == EXIT_DISAGREES
    said = capsys.readouterr().out
    strange = "words.yaml:2:12: There is no tree for 'whine-drivin'. Did you mean 'whine-driving'?"
    assert f"{world.folder}/{strange}\n1 fault.\n" in said
    assert f"{world.folder}/words.yaml:4:" in said
    assert said.endswith("2 faults.\n")


def test_a_folder_that_does_not_exist_is_refused(world: Any) -> None:
    with pytest.raises(TriageError, match="There is no folder"):
        run("check", str(world.folder / "elsewhere"))


def test_a_tree_is_drawn_on_stdout_and_its_picture_written(world: Any, capsys: pytest.CaptureFixture[str]) -> None:
    file = world.folder.parent / "whine.svg"
    assert run("draw", "whine-driving", "--picture", str(file)) == EXIT_OK
    said = capsys.readouterr()
    assert said.out.startswith("Whine while driving\n\n1  Complaint")
    assert said.err == f"The picture is in {file}.\n"
    assert file.read_text(encoding="utf-8").startswith("<svg ")


def test_a_picture_that_cannot_be_written_is_said(world: Any) -> None:
    with pytest.raises(StoreUnavailable, match="was not written"):
        run("draw", "whine-driving", "--picture", str(world.folder / "none" / "whine.svg"))


def test_a_mistyped_symptom_is_answered_with_the_nearest(world: Any) -> None:
    with pytest.raises(TriageError, match="Did you mean 'whine-driving'"):
        run("draw", "whine-drivin")
    assert world.faults() == []


def test_a_hostile_folder_name_does_nothing_to_the_terminal(world: Any, capsys: pytest.CaptureFixture[str]) -> None:
    world.change("causes.yaml", "part: belt", "part: 7")
    hostile = world.folder.rename(world.folder.with_name("a\x1b[2Jb"))
    assert run("check", str(hostile)) == EXIT_DISAGREES
    assert "a‹1B›[2Jb/causes.yaml" in capsys.readouterr().out


@pytest.mark.usefixtures("world")
def test_a_hostile_picture_name_does_nothing_to_the_terminal(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    run("draw", "whine-driving", "--picture", str(tmp_path / "a\x1b[2Jb.svg"))
    assert capsys.readouterr().err.endswith("a‹1B›[2Jb.svg.\n")
