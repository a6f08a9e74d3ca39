"""The file of words."""

from pathlib import Path

import pytest

from triage.errors import DocumentFaulty
from triage.knowledge.loading import load_knowledge
from triage.knowledge.shipped import trees_folder
from triage.knowledge.wording.words import load_words

SMALL = """\
concepts: {squeal: [squeal-]}
symptoms: {belt-squeal: {squeal: 60}}
drive: [squeal]
beside: [brak-]
recognised: [squeal]
plain: [sequel]
filler: [the]
foreign: [seat belt-]
"""


def faults_of(folder: Path, text: str) -> str:
    (folder / "words.yaml").write_text(text, encoding="utf-8")
    with pytest.raises(DocumentFaulty) as refused:
        load_words(folder)
    return str(refused.value)


def test_every_shipped_tree_has_words_and_every_symptom_with_words_its_tree() -> None:
    assert load_words(trees_folder()).symptoms.keys() == load_knowledge(trees_folder()).trees.keys()


def test_points_for_a_concept_that_is_not_there_are_a_fault(tmp_path: Path) -> None:
    assert "There is no concept 'howl'." in faults_of(tmp_path, SMALL.replace("{squeal: 60}", "{howl: 60}"))
    assert "There is no concept 'howl'." in faults_of(tmp_path, SMALL.replace("drive: [squeal]", "drive: [howl]"))


@pytest.mark.parametrize("pattern", ["Squeal", "squeal*", "-", '""', "a  b"])
def test_a_pattern_that_could_never_be_found_is_a_fault_with_its_place(tmp_path: Path, pattern: str) -> None:
    assert "words.yaml:4:" in faults_of(tmp_path, SMALL.replace("brak-", pattern))


def test_a_file_that_is_not_there_is_said_so(tmp_path: Path) -> None:
    with pytest.raises(DocumentFaulty):
        load_words(tmp_path)
