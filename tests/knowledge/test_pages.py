"""The pages of docs/ that are made from code and data."""

import runpy
from pathlib import Path

import make_pages
import make_symptoms
import pytest

from triage.knowledge.lint import RULES
from triage.knowledge.loading import load_knowledge
from triage.knowledge.scales import BASE_RATES, STRENGTHS
from triage.knowledge.shipped import trees_folder

DOCS = Path(__file__).resolve().parents[2] / "docs"
PAGES = make_pages.PAGES


@pytest.mark.parametrize("page", sorted(PAGES))
def test_a_made_page_is_current(page: str) -> None:
    assert (DOCS / "made" / page).read_text(encoding="utf-8") == PAGES[page](), "run python docs/making/make_pages.py"


def test_the_page_of_every_symptom_names_its_checks_its_causes_and_its_remedies() -> None:
    shipped = load_knowledge(trees_folder())
    for symptom, tree in shipped.trees.items():
        page = make_symptoms.symptom_page(shipped, symptom)
        assert page.startswith(f"# {tree.name}")
        for node in tree.nodes.values():
            causes = [shipped.causes[cause] for cause in node.conclude]
            assert node.check is None or f"### {shipped.checks[node.check].name}" in page
            assert all(f"| {cause.name} | {cause.meaning} |" in page for cause in causes)


def test_every_rule_says_why_what_passes_and_what_fails() -> None:
    sections = PAGES["rules.md"]().split("\n## ")[1:]
    assert [section.split("\n")[0] for section in sections] == list(RULES)
    for section in sections:
        assert all(f"**{part}.**" in section for part in ("Why", "Passes", "Fails")), section


def test_the_words_for_strengths_are_explained_with_their_numbers() -> None:
    page = (DOCS / "trees.md").read_text(encoding="utf-8")
    for word, probability in (*STRENGTHS.items(), *BASE_RATES.items()):
        line = next(line for line in page.splitlines() if f"| `{word}`" in line)
        assert f"{probability:g}" in line or f"{probability:.2f}" in line


def test_the_example_of_a_tree_is_sound(tmp_path: Path) -> None:
    small = runpy.run_path(str(Path(__file__).parent / "conftest.py"))["SmallWorld"](tmp_path)
    example = (DOCS / "trees.md").read_text(encoding="utf-8").split("```yaml\n")[1].split("```")[0]
    small.write("symptoms/whine.yaml", example)
    assert small.faults() == []
