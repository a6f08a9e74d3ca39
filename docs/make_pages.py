"""Makes docs/rules.md and docs/sources.md: `python docs/make_pages.py`. A test tells when they are out of date."""

import sys
from pathlib import Path

from triage.documents import build, read_document
from triage.knowledge.lint import RULES
from triage.knowledge.models import Source
from triage.knowledge.shipped import trees_folder

_NOTE = "<!-- Made by docs/make_pages.py: change what it is made from, not this page. -->"

_KINDS = {
    "standard": "Standards",
    "regulation": "Regulations",
    "handbook": "Handbooks",
    "paper": "Papers",
    "dataset": "Datasets",
    "common-practice": "Common practice",
    "from-memory": "From memory",
    "invented": "Invented for the demo",
}


def rules_page() -> str:
    """Make the manual page of all rules out of the docstrings of their modules."""
    parts = ["# Rules for trees", _NOTE, "`triage trees check` holds every folder of knowledge against these rules."]
    for name, rule in RULES.items():
        title, _, body = (sys.modules[rule.__module__].__doc__ or "").partition("\n")
        parts += [f"## {name}", title, body.strip()]
    return "\n\n".join(parts) + "\n"


def sources_page() -> str:
    """Make the list of all sources, by their kind."""
    document = read_document(trees_folder() / "sources.yaml")
    entries = document.data["sources"]  # type: ignore[index,call-overload]  # a file without it fails loudly here
    sources = [build(document, Source, ("sources", position)) for position in range(len(entries))]
    parts = ["# Sources", _NOTE, "Where figures come from. What was not read in the source itself was recalled."]
    for kind, heading in _KINDS.items():
        rows = [_row(source) for source in sources if source.kind == kind]
        if rows:
            parts += [f"## {heading}", "\n".join(["| key | source | read |", "|---|---|---|", *rows])]
    return "\n\n".join(parts) + "\n"


def _row(source: Source) -> str:
    title = source.title.replace("|", "\\|")
    return f"| `{source.id}` | {title} | {'yes' if source.seen else 'no'} |"


PAGES = {"rules.md": rules_page, "sources.md": sources_page}
"""The pages by their name in docs/."""


if __name__ == "__main__":
    for page, make in PAGES.items():
        (Path(__file__).parent / page).write_text(make(), encoding="utf-8", newline="\n")
