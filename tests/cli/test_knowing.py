"""Knowledge from its kept form: the same as from its files, and only where these very files were checked before."""

import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from triage.cli import main
from triage.cli.knowing import KEPT, shipped_knowledge
from triage.errors import EXIT_DISAGREES, DocumentFaulty
from triage.knowledge import files, loading
from triage.knowledge.loading import load_knowledge
from triage.knowledge.shipped import trees_folder
from triage.store import kept_folder
from triage.store.kept import keep

LOADED = "import json, sys; from triage.cli.knowing import shipped_knowledge as known; known(); print(*sys.modules)"


@pytest.fixture(autouse=True)
def own_home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("TRIAGE_HOME", str(tmp_path / "home"))
    return tmp_path / "home"


@pytest.fixture
def read(monkeypatch: pytest.MonkeyPatch) -> list[Path]:
    """The folders that were read from their YAML files and checked against every rule."""
    folders: list[Path] = []

    def load(folder: Path, over: Path | None = None) -> object:
        folders.append(folder)
        return load_knowledge(folder, over=over)

    monkeypatch.setattr(loading, "load_knowledge", load)
    return folders


def test_the_shipped_knowledge_comes_out_of_its_kept_form_as_it_went_in(read: list[Path]) -> None:
    from_files, from_kept = shipped_knowledge(), shipped_knowledge()
    assert read == [trees_folder()]
    assert from_kept == from_files
    assert from_kept.model_dump_json() == load_knowledge(trees_folder()).model_dump_json()


def test_the_kept_form_needs_neither_yaml_nor_rules() -> None:
    told = [
        subprocess.run([sys.executable, "-c", LOADED], check=True, capture_output=True, text=True, timeout=60)
        for _ in ("first", "second")
    ]
    first, second = ({"yaml", "triage.knowledge.lint"} & set(one.stdout.split()) for one in told)
    assert (first, second) == ({"yaml", "triage.knowledge.lint"}, set())


@pytest.mark.parametrize(
    ("name", "old", "new"),
    [
        ("tools.yaml", "name: Inspection lamp", "name: Lamp"),
        ("checks/belt.yaml", "When does it whine?", "When is it heard?"),
        ("symptoms/whine.yaml", "Whine while driving", "Howl while driving"),
    ],
)
def test_a_changed_file_is_read_anew(world: Any, read: list[Path], name: str, old: str, new: str) -> None:
    before = shipped_knowledge()
    world.change(name, old, new)
    after = shipped_knowledge()
    assert len(read) == 2
    assert before != after == load_knowledge(world.folder)


def test_a_fault_that_comes_into_a_file_is_found_though_the_sound_form_is_kept(world: Any) -> None:
    shipped_knowledge()
    world.change("symptoms/whine.yaml", "conclude: [torn-belt]", "conclude: [no-such-cause]")
    for _ in range(2):
        with pytest.raises(DocumentFaulty, match="no-such-cause"):
            shipped_knowledge()


def test_a_file_more_or_under_another_name_is_something_else(world: Any) -> None:
    told = {files.fingerprint(world.folder)}
    world.write("branches/more.yaml", "branch: more\nnodes: {}\n")
    told.add(files.fingerprint(world.folder))
    (world.folder / "branches" / "more.yaml").rename(world.folder / "branches" / "other.yaml")
    told.add(files.fingerprint(world.folder))
    assert len(told) == 3


def test_another_program_finds_nothing(world: Any, read: list[Path], monkeypatch: pytest.MonkeyPatch) -> None:
    assert world
    shipped_knowledge()
    monkeypatch.setattr(files, "__version__", "0.0.0")
    shipped_knowledge()
    monkeypatch.setattr(files, "_READERS", ("knowledge", "documents"))
    shipped_knowledge()
    assert len(read) == 3


@pytest.mark.parametrize("content", [b"", b"{}", b"[1, 2", b"\xff\xfe", b'{"trees": {"x": 1}}'])
def test_a_kept_form_that_is_no_knowledge_is_passed_over(
    world: Any, own_home: Path, read: list[Path], content: bytes
) -> None:
    keep(kept_folder(own_home) / KEPT, files.fingerprint(world.folder), content)
    assert shipped_knowledge() == load_knowledge(world.folder)
    assert len(read) == 1


def test_where_nothing_can_be_kept_the_files_are_read_each_time(world: Any, own_home: Path, read: list[Path]) -> None:
    assert world
    own_home.write_text("no folder")
    shipped_knowledge()
    shipped_knowledge()
    assert len(read) == 2


def test_checking_trees_never_believes_the_kept_form(
    world: Any, own_home: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    sound = shipped_knowledge().model_dump_json().encode()
    world.change("symptoms/whine.yaml", "conclude: [torn-belt]", "conclude: [no-such-cause]")
    keep(kept_folder(own_home) / KEPT, files.fingerprint(world.folder), sound)
    assert shipped_knowledge().trees  # whoever forges the kept form of this very folder is believed at a start …
    assert main.run(["trees", "check"]) == EXIT_DISAGREES  # … and found here
    assert "no-such-cause" in capsys.readouterr().out


def test_a_change_while_the_files_are_read_is_not_kept_under_the_old_ones(
    world: Any, read: list[Path], monkeypatch: pytest.MonkeyPatch
) -> None:
    def load_and_change(folder: Path, over: Path | None = None) -> object:
        knowledge = load_knowledge(folder, over=over)
        world.change("tools.yaml", "name: Inspection lamp", "name: Lamp")
        return knowledge

    with monkeypatch.context() as changing:
        changing.setattr(loading, "load_knowledge", load_and_change)
        shipped_knowledge()
    world.change("tools.yaml", "name: Lamp", "name: Inspection lamp")
    shipped_knowledge()
    assert len(read) == 1
