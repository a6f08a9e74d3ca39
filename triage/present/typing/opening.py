"""Symptoms that a complaint in free words may mean, as numbered answers; a person picks one of them, or none."""

from typing import TYPE_CHECKING

from triage.present.shapes import Choice

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from triage.knowledge.models import Tree
    from triage.knowledge.wording.matching import Match

WELL = 0.6
"""From memory: the score of a complaint that names the noise and one thing about it."""
ASKED = "What does the drive do? Say it in the customer's words, or give a number."
MAY_MEAN = "These words may mean:"
NOTHING_FITS = "Nothing in the list fits these words. Say what is noticed, where and when, or give a number."
YES = ("y", "yes")


def listed(trees: "Mapping[str, Tree]") -> tuple[Choice, ...]:
    """Every symptom that there is a tree for."""
    return tuple(Choice(symptom, tree.name) for symptom, tree in trees.items())


def proposals(trees: "Mapping[str, Tree]", matches: "Iterable[Match]") -> tuple[Choice, ...]:
    """The matches with how well each fits, the best first."""
    return tuple(Choice(match.symptom, f"{trees[match.symptom].name} ({fit_words(match.score)})") for match in matches)


def agreed(offered: int, typed: str) -> bool:
    """Whether a yes was typed to a single proposal.

    >>> agreed(1, " Yes "), agreed(2, "y")
    (True, False)
    """
    return offered == 1 and typed.strip().lower() in YES


def fit_words(score: float) -> str:
    """How well words fit a symptom; a score orders symptoms and is no probability, so no figure is shown.

    >>> fit_words(0.65), fit_words(0.52)
    ('fits well', 'fits in part')
    """
    return "fits well" if score >= WELL else "fits in part"
