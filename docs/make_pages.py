"""Makes docs/rules.md, sources.md, words.md, trace-schema.json and symptoms/: `python docs/make_pages.py`.

A test tells when they are out of date.
"""

import json
import sys
from functools import cache, partial
from pathlib import Path

from triage.documents import build
from triage.documents.reading import read_document
from triage.knowledge.drawn.picture import picture
from triage.knowledge.lint import RULES
from triage.knowledge.loading import load_knowledge
from triage.knowledge.models import Check, Knowledge, Source, Tree
from triage.knowledge.shipped import trees_folder
from triage.present.commands import KEYS, SCREEN_WORDS, WORDS
from triage.record.schema import schema

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


def words_page() -> str:
    """Make the table of words and keys, the same that footer and help are made from."""
    table = ["| word | key in the full screen | what it does |", "|---|---|---|"]
    both = [f"| `{word.name}` | {word.key} | {word.does} |" for word in WORDS]
    screen = [f"| `{word.name}` | {word.key} | {word.does} |" for word in SCREEN_WORDS]
    keys = [f"| {key} | {does} |" for key, does in KEYS]
    parts = [
        "# Words and keys",
        _NOTE,
        "Typed at any moment of a session, in the full screen and in the plain chat. A key says the same as its word.",
        "\n".join([*table, *both]),
        "Only in the full screen:",
        "\n".join([*table, *screen]),
        "\n".join(["| key of the full screen | what it does |", "|---|---|", *keys]),
    ]
    return "\n\n".join(parts) + "\n"


def _row(source: Source) -> str:
    title = source.title.replace("|", "\\|")
    return f"| `{source.id}` | {title} | {'yes' if source.seen else 'no'} |"


@cache
def _knowledge() -> Knowledge:
    return load_knowledge(trees_folder())


def symptom_page(symptom: str) -> str:
    """Make the guide to one symptom: its picture, its checks in the order of the tree, what it can come to."""
    knowledge = _knowledge()
    tree = knowledge.trees[symptom]
    checks = dict.fromkeys(node.check for node in tree.nodes.values() if node.check)
    causes = dict.fromkeys(cause for node in tree.nodes.values() for cause in node.conclude)
    parts = [
        f"# {tree.name}",
        _NOTE,
        "It sounds like this: " + "; ".join(f"\u201c{phrase}\u201d" for phrase in tree.phrases) + ".",
        f"![The tree as a picture]({symptom}.svg)",
        f"On the screen: `triage trees draw {symptom}`. The vehicle maker's procedure comes first.",
        "## Checks",
        *[_check(knowledge, knowledge.checks[check]) for check in checks],
        "## What it can come to",
        "\n".join(
            ["| cause | what it is | remedy |", "|---|---|---|", *[_cause(knowledge, cause) for cause in causes]]
        ),
        *_ends(tree),
    ]
    return "\n\n".join(parts) + "\n"


def _check(knowledge: Knowledge, check: Check) -> str:
    state = knowledge.states[check.state].words if check.state in knowledge.states else "talk only"
    lines = [f"### {check.name}", f"{check.question} ({state}; {check.minutes:g} min)", check.why]
    if check.set_up:
        lines.append(f"Set up first, {knowledge.states[check.set_up.state].words}: " + " ".join(check.set_up.steps))
    lines += ["\n".join(f"- {outcome.words}" for outcome in check.outcomes)]
    if check.reading:
        ways = [" + ".join(part.ask for part in way.parts) for way in check.reading.ways]
        lines += [f"Measured as: {'; or as: '.join(ways)}."] if len(ways) > 1 else []
        figures = [zone.below for zone in check.reading.zones if zone.below]
        limits = [f"{figure.text} ({knowledge.sources[figure.source].title})" for figure in figures]
        lines.append("Limits unless the maker gives others: " + "; ".join(limits) + ".")
    return "\n\n".join(lines)


def _cause(knowledge: Knowledge, cause_id: str) -> str:
    cause = knowledge.causes[cause_id]
    return f"| {cause.name} | {cause.meaning} | {knowledge.remedies[cause.remedy].name} |"


def _ends(tree: Tree) -> list[str]:
    ends = dict.fromkeys(f"- {node.end}: {node.because}" for node in tree.nodes.values() if node.end)
    return ["Without a cause it ends with:", "\n".join(ends)] if ends else []


def trace_schema() -> str:
    """Make the shapes of a trace out of its events."""
    return json.dumps(schema(), indent=1, ensure_ascii=False, sort_keys=True) + "\n"


def symptom_picture(symptom: str) -> str:
    """Make the picture of one tree."""
    return picture(_knowledge(), _knowledge().trees[symptom])


PAGES = {"rules.md": rules_page, "sources.md": sources_page, "words.md": words_page, "trace-schema.json": trace_schema}
"""The pages by their name in docs/."""
for _symptom in _knowledge().trees:
    PAGES[f"symptoms/{_symptom}.md"] = partial(symptom_page, _symptom)
    PAGES[f"symptoms/{_symptom}.svg"] = partial(symptom_picture, _symptom)


if __name__ == "__main__":
    for page, make in PAGES.items():
        path = Path(__file__).parent / page
        path.parent.mkdir(exist_ok=True)
        path.write_text(make(), encoding="utf-8", newline="\n")
