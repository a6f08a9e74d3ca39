"""The wording: a phrase for every outcome, and no phrase for two."""

import shutil
from pathlib import Path

import pytest

from triage.knowledge.loading import load_knowledge
from triage.knowledge.shipped import trees_folder
from triage.listening.phrasebook import CHECKS, FOLDER
from triage.listening.wording_faults import check_phrasebook

KNOWLEDGE = load_knowledge(trees_folder())


def faults_of(tmp_path: Path, old: str, new: str) -> str:
    folder = tmp_path / FOLDER
    shutil.copytree(trees_folder() / FOLDER, folder)
    text = (folder / CHECKS).read_text("utf-8")
    assert old in text
    (folder / CHECKS).write_text(text.replace(old, new, 1), "utf-8")
    return "\n".join(fault.message for fault in check_phrasebook(tmp_path, KNOWLEDGE))


def test_the_shipped_wording_has_no_fault() -> None:
    assert check_phrasebook(trees_folder(), KNOWLEDGE) == ()


def test_a_folder_without_wording_has_no_fault(tmp_path: Path) -> None:
    assert check_phrasebook(tmp_path, KNOWLEDGE) == ()


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ("\n  spin-idler:\n", "\n  spin-idlers:\n", "There is no check 'spin-idlers'."),
        ("\n  spin-idler:\n", "\n  spin-idlers:\n", "Nothing says how the outcomes of 'spin-idler' are said."),
        ('{smooth: ["@turns-well"],', "{smooth: [],", "Nothing says how 'smooth' of spin-decoupler-ring is said."),
        ('{smooth: ["@turns-well"],', "{", "Nothing says how 'smooth' of spin-decoupler-ring is said."),
        (
            '{smooth: ["@turns-well"],',
            '{smooth: ["@turns-badly"],',
            "'rough-' is a phrase of 'smooth' and of 'rough'.",
        ),
        ('{smooth: ["@turns-well"],', "{smoth: [x],", "There is no outcome of spin-decoupler-ring 'smoth'."),
        ('"yes": smooth', '"yes": smoth', "There is no outcome of spin-decoupler-ring 'smoth'."),
        ('"@turns-well"', '"@turns-wel"', "There is no set 'turns-wel'."),
        ("turns-well: [", "turns-well: [Smooth, ", "sets.turns-well"),
    ],
)
def test_what_does_not_hold_is_named(tmp_path: Path, old: str, new: str, said: str) -> None:
    assert said in faults_of(tmp_path, old, new)
