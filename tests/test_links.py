"""Every link between the pages leads somewhere."""

import re
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent
PAGES = [ROOT / "README.md", ROOT / "DEVELOPERS.md", *sorted((ROOT / "docs").rglob("*.md"))]
LINK = re.compile(r"\]\(([^)\s]+)\)")


def places(page: Path) -> set[str]:
    """The names by which a page's headings can be linked."""
    text = re.sub(r"```.*?```", "", page.read_text(encoding="utf-8"), flags=re.DOTALL)
    headings = re.findall(r"^#+ +(.+)$", text, flags=re.MULTILINE)
    return {re.sub(r"[^\w\- ]", "", heading.lower()).replace(" ", "-") for heading in headings}


def broken(page: Path) -> list[str]:
    """The links of a page that lead nowhere."""
    found = []
    for link in LINK.findall(page.read_text(encoding="utf-8")):
        target, _, place = link.partition("#")
        if "://" in target:
            continue
        goal = (page.parent / target) if target else page
        if not goal.exists() or (place and place not in places(goal)):
            found.append(link)
    return found


@pytest.mark.parametrize("page", PAGES, ids=lambda page: str(page.relative_to(ROOT)))
def test_every_link_of_a_page_leads_somewhere(page: Path) -> None:
    assert broken(page) == []


def test_every_file_that_a_page_names_in_docs_is_there() -> None:
    named = re.compile(r"`(docs/[\w./-]+\.(?:md|py|json|yaml|svg))`")
    for page in PAGES:
        names = named.findall(page.read_text(encoding="utf-8"))
        assert [name for name in names if not (ROOT / name).is_file()] == [], page.name


def test_a_broken_link_is_found(tmp_path: Path) -> None:
    page = tmp_path / "page.md"
    page.write_text("# A head\n\n[one](#a-head) [two](#other) [three](gone.md) [four](https://example.org)\n", "utf-8")
    assert broken(page) == ["#other", "gone.md"]
