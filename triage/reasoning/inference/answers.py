"""Every answer that a check can have, as signed sums of pieces in which signs stand no higher than some level.

Such pieces lie side by side without holding causes together, so that all answers to all checks are summed in one pass.
"""

import itertools
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from triage.knowledge.models import Check, Knowledge
from triage.reasoning.inference.evidence import NOTHING, Evidence, Found, Likelihoods, both, leading, meaning
from triage.reasoning.inference.kept_per_knowledge import kept
from triage.reasoning.inference.network import Numbers

MOST_NAMED = 2
"""Things named at once that are told apart where a check may have several answers."""
_Piece = tuple[tuple[str, tuple[float, ...]], ...]


@dataclass(frozen=True)
class PossibleAnswer:
    """An answer, or the answers of a round so far.

    Args:
        check: the last check.
        outcomes: each check with its outcome.
        likelihoods: what they say, in alternatives.
    """

    check: str
    outcomes: tuple[tuple[str, str], ...]
    likelihoods: tuple[Likelihoods, ...]
    weights: tuple[float, ...] = (1.0,)

    @cached_property
    def signed(self) -> list[tuple[_Piece, float]]:
        """The answer as a signed sum of pieces."""
        told = zip(self.weights, self.likelihoods, strict=True)
        return [(piece, weight * factor) for weight, signs in told for piece, factor in _signed(signs)]

    def and_then(self, other: "PossibleAnswer") -> "PossibleAnswer | None":
        """Both, where each is a single alternative; None where both cannot be."""
        (mine,), (others,) = self.likelihoods, other.likelihoods
        said = both(mine, others)
        possible = all(map(any, said.values()))
        return PossibleAnswer(other.check, (*self.outcomes, *other.outcomes), (said,)) if possible else None


def answers_of(knowledge: Knowledge, pulley: str, check: str) -> tuple[PossibleAnswer, ...]:
    """The answers to a check that say something; they exclude each other.

    Args:
        knowledge: checks and signs.
        pulley: the specified pulley type.
        check: the check.
    """
    return kept(knowledge, ("answers", pulley, check), lambda: tuple(_answers(knowledge, pulley, check)))


def leading_answers(knowledge: Knowledge, pulley: str, check: str) -> tuple[PossibleAnswer, ...]:
    """The same as a tree goes by them, by the first that shows; the normal one in front, even where it says nothing."""
    return kept(knowledge, ("leading", pulley, check), lambda: tuple(_leading(knowledge, pulley, check)))


def _answers(knowledge: Knowledge, pulley: str, check_id: str) -> list[PossibleAnswer]:
    answers = []
    for outcomes in _named(knowledge.checks[check_id], pulley):
        told: Evidence = meaning(knowledge, Found(check_id, outcomes), pulley)
        if told != NOTHING:
            signs, weights = tuple(one.signs for one in told), tuple(one.weight for one in told)
            answers.append(PossibleAnswer(check_id, tuple((check_id, outcome) for outcome in outcomes), signs, weights))
    return answers


def _leading(knowledge: Knowledge, pulley: str, check_id: str) -> list[PossibleAnswer]:
    check = knowledge.checks[check_id]
    normal = check.normal(pulley)
    others = [one.id for one in check.outcomes if one.id != normal and not one.says_nothing]
    return [
        PossibleAnswer(check_id, ((check_id, outcome),), (leading(knowledge, check_id, outcome, pulley),))
        for outcome in (normal, *others)
    ]


def _named(check: Check, pulley: str) -> list[tuple[str, ...]]:
    """Answers that exclude each other; of several at once those that name up to two things."""
    each: list[tuple[str, ...]] = [(outcome.id,) for outcome in check.outcomes if not outcome.says_nothing]
    if not check.several:
        return each
    abnormal = [outcome.id for outcome in check.outcomes if outcome.sign and outcome.id != check.normal(pulley)]
    return [*each, *itertools.combinations(abnormal, MOST_NAMED)]


def pieces_of(answers: Sequence[PossibleAnswer]) -> tuple[list[Likelihoods], Numbers]:
    """Pieces, and for each answer the weight of each piece; shape (answers, pieces) [1]."""
    places: dict[_Piece, int] = {}
    sums: list[dict[int, float]] = []
    for one in answers:
        parts: dict[int, float] = {}
        for piece, weight in one.signed:
            place = places.setdefault(piece, len(places))
            parts[place] = parts.get(place, 0.0) + weight
        sums.append(parts)
    terms = np.zeros((len(sums), len(places)))
    for row, parts in zip(terms, sums, strict=True):
        row[list(parts)] = list(parts.values())
    return [dict(piece) for piece in places], terms


def _signed(signs: Likelihoods) -> list[tuple[_Piece, float]]:
    """Likelihoods as a signed sum of pieces."""
    sums: list[tuple[_Piece, float]] = [((), 1.0)]
    for sign, told in signs.items():
        # Likelihoods by level as falls from each level to the next: Σ fall·[stands no higher than the level].
        falls = [here - there for here, there in itertools.pairwise((*told, 0.0))]
        # That a sign stands no higher than its highest level says nothing.
        steps = [
            (((sign, (1.0,) * at + (0.0,) * (len(told) - at)),) if at < len(told) else (), fall)
            for at, fall in enumerate(falls, 1)
            if fall
        ]
        sums = [((*piece, *step), weight * fall) for piece, weight in sums for step, fall in steps]
    return sums
