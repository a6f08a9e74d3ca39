"""How well typed sentences are understood: prints a table over the sentences of tests/bench/sentences.

`tuning.yaml` was in view while the wording was written, `kept.yaml` was not. From the top of the checkout:

    python tests/bench/evaluate_sentences.py [--misses]

`--misses` also lists the tuning sentences that went wrong; those kept stay unseen, or they would no longer be that.

An item is right where it was said and is named, missed where it was said and is not, and falsely taken where it is
named and was not said; a sentence is right where all of its items are and no other. The last row counts as falsely
taken the sentences with a finding, reading or fact that was not said. A reason and a reading's text are not compared.
"""

import json
import math
import sys
import time
from collections import Counter
from collections.abc import Iterator
from pathlib import Path
from typing import Any, NamedTuple

import yaml

from triage.knowledge.loading import load_knowledge
from triage.knowledge.shipped import trees_folder
from triage.knowledge.wording.matching import Matcher
from triage.knowledge.wording.words import load_words
from triage.listening.items import as_data
from triage.listening.listener import Listener
from triage.listening.phrasebook import load_phrasebook

FOLDER = Path(__file__).parent / "sentences"
HALVES = ("tuning", "kept", "blind")
COUNTED = ("finding", "reading", "fact")
"""Kinds that would enter a session as evidence: falsely taken, they do harm."""
Data = dict[str, Any]


class Tried(NamedTuple):
    """One sentence with what was to be taken from it and what was."""

    sentence: Data
    said: list[Data]
    taken: list[Data]

    @property
    def missed(self) -> list[Data]:
        return [item for item in self.said if not any(same(item, other) for other in self.taken)]

    @property
    def false(self) -> list[Data]:
        return [item for item in self.taken if not any(same(item, other) for other in self.said)]

    @property
    def right(self) -> bool:
        return not self.missed and not self.false


def listener() -> Listener:
    knowledge = load_knowledge(trees_folder())
    matcher = Matcher(load_words(trees_folder()), knowledge.trees)
    return Listener(knowledge, load_phrasebook(trees_folder()), matcher)


def same(one: Data, other: Data) -> bool:
    """Whether two items say the same; figures to a thousandth, which rounds nobody's reading."""
    if one["kind"] != other["kind"]:
        return False
    ignored = {"text", "reason"}
    keys = (set(one) | set(other)) - ignored
    return all(alike(one.get(key), other.get(key)) for key in keys)


def alike(one: object, other: object) -> bool:
    if isinstance(one, list) and isinstance(other, list):
        return len(one) == len(other) and all(alike(*pair) for pair in zip(one, other, strict=True))
    if isinstance(one, int | float) and isinstance(other, int | float):
        return math.isclose(one, other, rel_tol=1e-3)
    return one == other


def evaluate(by: Listener, half: str) -> list[Tried]:
    listed: list[Data] = yaml.safe_load((FOLDER / f"{half}.yaml").read_text("utf-8"))
    understood = (by.understand(one["text"], one["check"], one["at"]) for one in listed)
    taken = ([as_data(item) for item in one.items] for one in understood)
    return [Tried(one, one["items"], items) for one, items in zip(listed, taken, strict=True)]


def table(half: str, tried: list[Tried]) -> Iterator[str]:
    said = Counter(item["kind"] for one in tried for item in one.said)
    missed = Counter(item["kind"] for one in tried for item in one.missed)
    false = Counter(item["kind"] for one in tried for item in one.false)
    for kind in sorted({*said, *false}):
        yield f"| {half} | {kind} | {said[kind]} | {said[kind] - missed[kind]} | {missed[kind]} | {false[kind]} |"
    right = sum(one.right for one in tried)
    harmful = sum(any(item["kind"] in COUNTED for item in one.false) for one in tried)
    rates = f"{right} ({right / len(tried):.1%}) | {len(tried) - right} | {harmful} ({harmful / len(tried):.1%})"
    yield f"| **{half}** | **sentences** | {len(tried)} | {rates} |"


def main() -> None:
    by = listener()
    print("| set | kind | said | right | missed | falsely taken |")
    print("|---|---|---|---|---|---|")
    for half in HALVES if "--tuning" not in sys.argv else HALVES[:1]:
        began = time.perf_counter()
        tried = evaluate(by, half)
        took = time.perf_counter() - began
        print("\n".join(table(half, tried)))
        sys.stderr.write(f"{half}: {len(tried) / took:.0f} sentences a second\n")
        for one in tried:
            if "--misses" in sys.argv and half == HALVES[0] and not one.right:
                missed, false = (json.dumps(items, ensure_ascii=False) for items in (one.missed, one.false))
                where = one.sentence["check"] or one.sentence["at"]
                sys.stderr.write(f"{where}: {one.sentence['text']}\n    missed {missed}\n    false  {false}\n")


if __name__ == "__main__":
    main()
