"""How often free words lead to the right symptom: prints a table over the phrases of tests/phrases.

`tuning.yaml` was in view while words and points were chosen, `held-out.yaml` was not. From the top of
the checkout:

    python tests/bench/evaluate_phrases.py [--misses]

`--misses` also lists the tuning phrases that went wrong; those held out stay unseen, or they would no longer be that.
"""

import sys
from collections.abc import Iterator
from pathlib import Path
from typing import NamedTuple

from triage.documents.reading import read_document
from triage.knowledge.loading import load_knowledge
from triage.knowledge.shipped import trees_folder
from triage.knowledge.wording.matching import Matcher
from triage.knowledge.wording.words import load_words

FOLDER = Path(__file__).parent.parent / "phrases"
HALVES = ("tuning", "held-out")
NOTHING = "nothing"


class Tried(NamedTuple):
    """One phrase, what it means, and what was proposed."""

    meant: str
    phrase: str
    proposed: tuple[str, ...]

    @property
    def right_first(self) -> bool:
        return self.proposed[:1] == (self.meant,) or (self.meant == NOTHING and not self.proposed)


def phrases(half: str) -> Iterator[tuple[str, str]]:
    data = read_document(FOLDER / f"{half}.yaml").data
    assert isinstance(data, dict)
    return ((str(meant), str(phrase)) for meant, listed in data.items() for phrase in listed)


def evaluate(matcher: Matcher, half: str) -> list[Tried]:
    return [
        Tried(meant, phrase, tuple(match.symptom for match in matcher.match(phrase))) for meant, phrase in phrases(half)
    ]


def row(half: str, meant: str, tried: list[Tried]) -> str:
    if meant == NOTHING:
        wrong = sum(bool(one.proposed) for one in tried)
        return f"| {half} | fits nothing | {len(tried)} | – | – | {wrong} |"
    first = sum(one.right_first for one in tried)
    three = sum(one.meant in one.proposed[:3] for one in tried)
    wrong = sum(bool(one.proposed) and one.meant not in one.proposed[:3] for one in tried)
    return f"| {half} | {meant} | {len(tried)} | {first} | {three} | {wrong} |"


def table(half: str, tried: list[Tried]) -> Iterator[str]:
    meanings = dict.fromkeys(one.meant for one in tried)
    for meant in meanings:
        yield row(half, meant, [one for one in tried if one.meant == meant])
    fitting = [one for one in tried if one.meant != NOTHING]
    first = sum(one.right_first for one in fitting) / len(fitting)
    three = sum(one.meant in one.proposed[:3] for one in fitting) / len(fitting)
    wrong = sum(bool(one.proposed) for one in tried if one.meant == NOTHING)
    wrong_share = f"{wrong} of {len(tried) - len(fitting)} that fit nothing"
    yield f"| **{half}** | **all eight** | {len(fitting)} | {first:.1%} | {three:.1%} | {wrong_share} |"


def main() -> None:
    matcher = Matcher(load_words(trees_folder()), load_knowledge(trees_folder()).trees)
    print("| half | meant | phrases | right first | right among three | wrongly matched |")
    print("|---|---|---|---|---|---|")
    for half in HALVES:
        tried = evaluate(matcher, half)
        print("\n".join(table(half, tried)))
        for one in tried:
            if "--misses" in sys.argv and half == HALVES[0] and not one.right_first:
                sys.stderr.write(f"{one.meant}: {one.phrase} -> {', '.join(one.proposed) or NOTHING}\n")


if __name__ == "__main__":
    main()
