from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from triage.errors import DocumentFaulty
from triage.knowledge.loading import load_knowledge, symptom_of
from triage.knowledge.models import Knowledge

if TYPE_CHECKING:
    from tests.knowledge.conftest import SmallWorld


def test_everything_in_a_sound_folder_is_found_by_its_id(world: "SmallWorld") -> None:
    knowledge = load_knowledge(world.folder)
    assert list(knowledge.checks) == ["complaint", "belt-condition", "whine-running", "idler-drag"]
    assert knowledge.trees["whine-driving"].nodes["belt"].conclude == ("torn-belt",)


def test_knowledge_survives_being_written_into_a_trace(world: "SmallWorld") -> None:
    knowledge = load_knowledge(world.folder)
    assert Knowledge.model_validate_json(knowledge.model_dump_json()) == knowledge


def test_faults_of_every_kind_in_several_files_are_named_at_once(world: "SmallWorld") -> None:
    world.change("causes.yaml", "commonness: common\n", "commonness: daily\n")
    world.change("tools.yaml", "name: Inspection lamp", "name: Inspection lamp\n    name: Lamp")
    world.change("remedies.yaml", "repeat: [belt-condition]", "repeat: [belt-conditions]")
    world.change("symptoms/whine.yaml", "cannot: turn", "cannot: tun")
    places = [fault.split(": ")[0] for fault in world.faults()]
    assert places == ["causes.yaml:6:17", "remedies.yaml:11:14", "symptoms/whine.yaml:18:13", "tools.yaml:4:5"]


def test_what_could_not_be_read_is_not_called_unknown_as_well(world: "SmallWorld") -> None:
    world.change("causes.yaml", "part: belt", "part: 7")
    assert [fault.split(": ")[0] for fault in world.faults()] == ["causes.yaml:4:11"]


def test_a_section_that_could_not_be_read_is_not_called_empty_as_well(world: "SmallWorld") -> None:
    world.change("signs.yaml", "signs:", "sign:")
    assert world.faults() == [
        "signs.yaml:1:1: The file has no section 'sign'. Did you mean 'signs'?",
        "signs.yaml:1:1: The file lacks a list of signs. Begin it with 'signs:'.",
    ]


def test_a_missing_file_is_named(world: "SmallWorld") -> None:
    (world.folder / "tools.yaml").unlink()
    assert [fault.split(": ")[:2] for fault in world.faults()] == [["tools.yaml:1:1", "The file cannot be read"]]


def test_an_id_that_stands_twice_is_named_with_its_first_place(world: "SmallWorld") -> None:
    first = world.folder / "checks" / "belt.yaml"
    world.change("checks/idler.yaml", "id: idler-drag", "id: complaint")
    assert (
        f"checks/idler.yaml:2:9: 'complaint' stands twice under checks; it is already at {first}:2:5. "
        "Give one of them another id."
    ) in world.faults()


def test_two_trees_for_one_symptom_are_a_fault(world: "SmallWorld") -> None:
    world.write("symptoms/zz.yaml", (world.folder / "symptoms/whine.yaml").read_text(encoding="utf-8"))
    (fault,) = world.faults()
    assert fault.startswith("symptoms/zz.yaml:1:10: 'whine-driving' stands twice under trees")


def test_a_folder_without_a_tree_is_a_fault(world: "SmallWorld") -> None:
    (world.folder / "symptoms" / "whine.yaml").unlink()
    assert world.faults() == [
        "symptoms:1:1: There is no tree. Put one file for each symptom into this folder.",
    ]


def test_a_tree_file_stands_in_place_of_the_folders_own_tree(world: "SmallWorld", tmp_path: Path) -> None:
    own = tmp_path / "mine.yaml"
    told = (world.folder / "symptoms/whine.yaml").read_text(encoding="utf-8")
    own.write_text(told.replace("[it whines]", "[it sings]"), encoding="utf-8")
    assert symptom_of(own) == "whine-driving"
    assert load_knowledge(world.folder, own).trees["whine-driving"].phrases == ("it sings",)
    assert load_knowledge(world.folder).trees["whine-driving"].phrases == ("it whines",)


def test_a_tree_file_in_place_of_another_is_checked_too(world: "SmallWorld", tmp_path: Path) -> None:
    own = tmp_path / "mine.yaml"
    told = (world.folder / "symptoms/whine.yaml").read_text(encoding="utf-8")
    own.write_text(told.replace("none: quiet", "none: silence"), encoding="utf-8")
    with pytest.raises(DocumentFaulty, match=r"mine\.yaml:9:18: .*silence"):
        load_knowledge(world.folder, own)
