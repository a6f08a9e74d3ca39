"""What a check is worth: by how much it is expected to lower the expected loss, all checks in one pass.

Each answer that says something may change what is best to put right. What that saves, against staying with what is
best now, weighed with how probable the answer is, is what the answer is worth; an answer that says nothing changes
nothing. The worth of a check is never negative. It looks one check ahead: two checks of which neither says anything
without the other count for nothing here.

Where a check may have several answers at once, those that name up to two things are taken each by itself, and all that
name more are taken as one. Telling them apart could only save more, so the worth is at least this.

Source: value of information (Howard 1966) and mutual information (Shannon 1948), both from memory.
"""

import itertools
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from triage.knowledge.models import Check, Knowledge
from triage.reasoning.evidence import NOTHING, Alternative, Evidence, Found, meaning
from triage.reasoning.losses import Losses
from triage.reasoning.network import Network, Numbers
from triage.reasoning.posterior import joint
from triage.reasoning.rounding import compared
from triage.reasoning.rows import Likelihoods, side_by_side

MOST_NAMED = 2
"""Things named at once that are told apart where a check may have several answers."""
_Piece = tuple[tuple[str, tuple[float, ...]], ...]
"""Likelihoods by sign, in the order in which a check looks at them."""


@dataclass(frozen=True)
class Answers:
    """What answers to checks would say, each as a signed sum of pieces in which signs stand no higher than some level.

    Args:
        checks: ids of the checks.
        owner: for each answer the place of its check in `checks`; shape (answers,).
        pieces: the pieces, the first saying nothing.
        terms: for each answer the weight of each piece; shape (answers, pieces) [1].
        several: places of the checks to which several answers can be given at once.
    """

    checks: tuple[str, ...]
    owner: NDArray[np.intp]
    pieces: tuple[Likelihoods, ...]
    terms: Numbers
    several: NDArray[np.intp]


def answers_of(knowledge: Knowledge, checks: Sequence[str], pulley: str) -> Answers:
    """Every answer to the checks that says something.

    Args:
        knowledge: checks and signs.
        checks: ids of the checks.
        pulley: the specified pulley type.
    """
    owner: list[int] = []
    sums: list[dict[int, float]] = []
    places: dict[_Piece, int] = {(): 0}
    for at, check in enumerate(checks):
        for outcomes in _named(knowledge.checks[check], pulley):
            told = meaning(knowledge, Found(check, outcomes), pulley)
            if told == NOTHING:
                continue
            owner.append(at)
            sums.append({})
            for one in told:
                for piece, weight in _signed(one):
                    place = places.setdefault(piece, len(places))
                    sums[-1][place] = sums[-1].get(place, 0.0) + weight
    terms = np.zeros((len(sums), len(places)))
    for row, parts in zip(terms, sums, strict=True):
        row[list(parts)] = list(parts.values())
    several = [at for at, check in enumerate(checks) if knowledge.checks[check].several]
    pieces = tuple(dict(piece) for piece in places)
    return Answers(tuple(checks), np.array(owner, dtype=np.intp), pieces, terms, np.array(several, dtype=np.intp))


def _named(check: Check, pulley: str) -> list[tuple[str, ...]]:
    """Answers that exclude each other."""
    each: list[tuple[str, ...]] = [(outcome.id,) for outcome in check.outcomes if not outcome.says_nothing]
    if not check.several:
        return each
    abnormal = [outcome.id for outcome in check.outcomes if outcome.sign and outcome.id != check.normal(pulley)]
    return [*each, *itertools.combinations(abnormal, MOST_NAMED)]


def _signed(one: Alternative) -> list[tuple[_Piece, float]]:
    """An alternative as a signed sum of pieces."""
    sums: list[tuple[_Piece, float]] = [((), one.weight)]
    for sign, told in one.signs.items():
        falls = [here - there for here, there in itertools.pairwise((*told, 0.0))]
        # That a sign stands no higher than its highest level says nothing.
        steps = [
            (((sign, (1.0,) * at + (0.0,) * (len(told) - at)),) if at < len(told) else (), fall)
            for at, fall in enumerate(falls, 1)
            if fall
        ]
        sums = [((*piece, *step), weight * fall) for piece, weight in sums for step, fall in steps]
    return sums


@dataclass(frozen=True)
class Saving:
    """What checks do, each for itself, for c checks in the order in which they were asked about.

    Args:
        saves_min: expected drop of the expected loss, shape (c,) [min].
        gain_bits: what is learned of each cause, added up over the causes, shape (c,) [bit].
    """

    saves_min: Numbers
    gain_bits: Numbers


def saving(network: Network, known: Evidence, answers: Answers, losses: Losses) -> Saving:
    """Weigh checks against each other.

    Args:
        network: the causes and signs of the vehicle.
        known: the complaint and what was found.
        answers: what answers to the checks would say.
        losses: what wrong choices cost.

    Returns:
        What each check saves and tells; nothing where what is known contradicts itself.
    """
    now, chances, present = _expected(network, known, answers)
    if not len(now):
        return Saving(np.zeros(len(answers.checks)), np.zeros(len(answers.checks)))
    after = np.divide(present, chances[:, None], out=np.tile(now, (len(chances), 1)), where=chances[:, None] > 0.0)
    after = np.clip(after, 0.0, 1.0)
    saved = chances * (losses.of(after, losses.renewed(now)) - losses.least(after))
    learned = chances * _divergence(after, now).sum(axis=1)
    owner = np.r_[answers.owner, answers.several]
    of_check = (owner == np.arange(len(answers.checks))[:, None]).astype(np.float64)
    return Saving(compared(of_check @ saved), compared(of_check @ learned))


def _expected(network: Network, known: Evidence, answers: Answers) -> tuple[Numbers, Numbers, Numbers]:
    """What is believed now; chance of each answer and with each cause, last those of many answers at once."""
    weights = np.zeros(len(answers.pieces))
    causes = np.zeros((len(answers.pieces), len(network.causes)))
    for one in known:
        more, with_cause = joint(network, side_by_side(network, one.signs, answers.pieces))
        weights += one.weight * more
        causes += one.weight * with_cause
    if weights[0] <= 0.0:
        return np.zeros(0), np.zeros(0), np.zeros(0)
    weights, causes = weights / weights[0], causes / weights[0]
    chances, together = compared(answers.terms @ weights), compared(answers.terms @ causes)
    of_several = answers.owner == answers.several[:, None]
    chances = np.r_[chances, weights[0] - of_several @ chances]
    together = np.r_[together, causes[0] - of_several @ together]
    now = np.clip(causes[0], 0.0, 1.0)
    return now, np.maximum(compared(chances), 0.0), np.maximum(compared(together), 0.0)


def _divergence(after: Numbers, before: Numbers) -> Numbers:
    """By how many bits beliefs differ from those before, cause by cause; shape as `after`."""
    return _bits(after, before) + _bits(1.0 - after, 1.0 - before)


def _bits(after: Numbers, before: Numbers) -> Numbers:
    ratio = np.divide(after, before, out=np.ones_like(after), where=(after > 0.0) & (before > 0.0))
    return np.asarray(after * np.log2(ratio))
