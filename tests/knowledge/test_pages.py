"""The pages of docs/ that are made from code and data."""

import runpy
from pathlib import Path

import pytest

from triage.knowledge.lint import RULES
from triage.knowledge.scales import BASE_RATES, STRENGTHS

DOCS = Path(__file__).resolve().parents[2] / "docs"
PAGES = runpy.run_path(str(DOCS / "make_pages.py"))["PAGES"]


@pytest.mark.parametrize("page", sorted(PAGES))
def test_a_made_page_is_current(page: str) -> None:
    assert (DOCS / page).read_text(encoding="utf-8") == PAGES[page](), "run python docs/make_pages.py"


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
