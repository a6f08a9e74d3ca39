import argparse
import json
from pathlib import Path
from typing import Any

import pytest

from triage.cli.authoring import compare
from triage.errors import EXIT_OK, DocumentFaulty, TriageError

TREE = "symptoms/whine.yaml"


@pytest.fixture(autouse=True)
def folder(world: Any) -> Path:
    return Path(world.folder)


@pytest.fixture
def timid(folder: Path, tmp_path: Path) -> Path:
    """The same tree, but it does not stand by what it found where the idler is only stiff."""
    own = tmp_path / "timid.yaml"
    told = (folder / TREE).read_text(encoding="utf-8")
    own.write_text(told.replace("stiff: bearing", "stiff: unclear"), encoding="utf-8")
    return own


def run(*words: str) -> int:
    parser = argparse.ArgumentParser()
    compare.add(parser.add_subparsers())
    args = parser.parse_args(["compare", *words])
    return int(args.run(args))


def test_trees_stand_side_by_side_with_the_cause_each_does_worst_with(
    capsys: pytest.CaptureFixture[str],
) -> None:
    assert run("whine-driving", "whine-driving", "--pulley", "decoupler") == EXIT_OK
    said = capsys.readouterr()
    first, second, *rest = said.out.splitlines()
    assert first.split() == ["whine-driving", "whine-driving"]
    assert second.split()[0] == "minutes"
    assert any(line.startswith("whine-driving: takes longest with: ") for line in rest)
    assert said.err.splitlines() == ["Weighing whine-driving, 1 of 2", "Weighing whine-driving, 2 of 2"]


def test_everything_is_one_json_object(capsys: pytest.CaptureFixture[str]) -> None:
    run("whine-driving", "--json", "--pulley", "solid")
    told = json.loads(capsys.readouterr().out)
    assert (told["symptom"], told["pulleys"]) == ("whine-driving", ["solid"])
    (tree,) = told["trees"]
    assert tree["tree"] == "whine-driving"
    assert tree["minutes"] == {"value": pytest.approx(tree["minutes"]["value"]), "within": 0.0}
    # Whose complaint it made: strength by base rate, of all complaints with a leak, a torn belt or a dry bearing.
    complaints = 1 - (1 - 0.01) * (1 - 0.05 * 0.1) * (1 - 0.5 * 0.04)
    assert tree["causes"]["dry-bearing"]["there"] == pytest.approx(0.5 * 0.04 / complaints)


def test_a_tree_of_ones_own_is_weighed_beside_the_shipped_one(timid: Path, capsys: pytest.CaptureFixture[str]) -> None:
    run("whine-driving", str(timid), "--json")
    shipped, own = json.loads(capsys.readouterr().out)["trees"]
    assert own["tree"] == str(timid)
    assert own["named"]["value"] < shipped["named"]["value"]
    assert own["minutes"] == shipped["minutes"]


def test_the_advice_is_weighed_beside_a_tree(capsys: pytest.CaptureFixture[str]) -> None:
    run("whine-driving", "grown", "--pulley", "decoupler", "--json")
    authored, grown = json.loads(capsys.readouterr().out)["trees"]
    assert grown["tree"] == "grown"
    assert grown["together"]["value"] < authored["together"]["value"]
    with pytest.raises(TriageError, match="No tree is named"):
        run("grown")


def test_trees_for_different_symptoms_are_not_compared(timid: Path) -> None:
    timid.write_text(timid.read_text(encoding="utf-8").replace("whine-driving", "whine-parked"), encoding="utf-8")
    with pytest.raises(TriageError, match="whine-driving and whine-parked"):
        run("whine-driving", str(timid))


def test_what_is_no_tree_and_what_is_no_pulley_is_said_with_what_may_be_meant() -> None:
    with pytest.raises(TriageError, match="no tree file 'whine-drivng'") as refused:
        run("whine-drivng")
    assert "whine-driving" in refused.value.hint
    with pytest.raises(TriageError, match="no pulley type 'solit'"):
        run("whine-driving", "--pulley", "solit")


def test_a_tree_file_with_faults_is_refused(timid: Path) -> None:
    timid.write_text(timid.read_text(encoding="utf-8").replace("stiff: unclear", "stiff: nowhere"), encoding="utf-8")
    with pytest.raises(DocumentFaulty, match="nowhere"):
        run(str(timid))


def test_with_the_shop_file_its_own_minutes_and_losses_count(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("TRIAGE_HOME", str(tmp_path / "shop"))
    (tmp_path / "shop").mkdir()
    told = 'losses: {fault_left_in: "20 h"}\nminutes: {checks: {complaint: "50 min"}}\n'
    (tmp_path / "shop" / "shop.yaml").write_text(told, encoding="utf-8")
    found = {}
    for words in ((), ("--shop",)):
        run("whine-driving", "--pulley", "decoupler", "--json", *words)
        (found[words],) = json.loads(capsys.readouterr().out)["trees"]
    assert found[("--shop",)]["minutes"]["value"] > found[()]["minutes"]["value"] + 40.0
    assert found[("--shop",)]["loss"]["value"] > found[()]["loss"]["value"]
