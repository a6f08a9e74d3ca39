"""Makes rules.md, words.md and trace-schema.json in docs/made out of the program: `python docs/making/make_pages.py`.

A test tells when they are out of date.
"""

import json
import sys
from pathlib import Path

from triage.knowledge.lint import RULES
from triage.present.commands import KEYS, SCREEN_WORDS, WORDS
from triage.record.schema import schema

_NOTE = "<!-- Made by docs/making/make_pages.py: change what it is made from, not this page. -->"


def rules_page() -> str:
    """Make the manual page of all rules out of the docstrings of their modules."""
    parts = ["# Rules for trees", _NOTE, "`triage trees check` holds every folder of knowledge against these rules."]
    for name, rule in RULES.items():
        title, _, body = (sys.modules[rule.__module__].__doc__ or "").partition("\n")
        parts += [f"## {name}", title, body.strip()]
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


def trace_schema() -> str:
    """Make the shapes of a trace out of its events."""
    return json.dumps(schema(), indent=1, ensure_ascii=False, sort_keys=True) + "\n"


PAGES = {"rules.md": rules_page, "words.md": words_page, "trace-schema.json": trace_schema}
"""The pages by their name in docs/made."""


if __name__ == "__main__":
    for page, make in PAGES.items():
        path = Path(__file__).resolve().parents[1] / "made" / page
        path.parent.mkdir(exist_ok=True)
        path.write_text(make(), encoding="utf-8", newline="\n")
