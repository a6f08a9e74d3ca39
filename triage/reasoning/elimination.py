"""The same sum as `triage.reasoning.posterior` without a subtraction, for many abnormal results.

Causes are taken one after another. A table holds the levels that the signs have been pushed to so far; a sign enters
it with the first cause that produces it and leaves with the last one, weighed with its likelihood. Nothing is ever
subtracted, so no digit is lost. Going back over the tables gives every cause at once.

Source: variable elimination and the forward-backward scheme, textbook methods, from memory.
"""

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

import numpy as np

from triage.reasoning.network import Network, Numbers

Likelihoods = dict[str, tuple[float, ...]]


@dataclass(frozen=True)
class _Turn:
    """One cause's turn: the signs that enter before it, those it pushes, and those that leave after it."""

    cause: int
    enter: tuple[str, ...]
    push: tuple[str, ...]
    leave: tuple[str, ...]


def eliminate(network: Network, signs: Likelihoods) -> tuple[float, Numbers]:
    """Probability of likelihoods over signs, alone and together with each cause; the latter of shape (n,) [1]."""
    merged = {sign: _merged(network.chances[sign], likelihood) for sign, likelihood in signs.items()}
    chances = {sign: levels for sign, (levels, _) in merged.items() if len(levels) > 1}
    shown = {sign: merged[sign][1] for sign in chances}
    # A sign of one level, such as one that is absent, weighs on each cause by itself and needs no place in the table.
    lone = [(levels[0], likelihood[0]) for levels, likelihood in merged.values() if len(levels) == 1]
    rates = network.base_rates[:-1]
    present = rates * np.prod([level[:-1] for level, _ in lone], axis=0)
    turns = _turns(chances, len(rates))
    scale = float(np.prod([level[-1] * likelihood for level, likelihood in lone]))
    scale *= float(np.prod([chances[sign][:, -1] @ shown[sign] for sign in _only_leaking(shown, turns)]))
    either = present + (1.0 - rates)
    quiet = np.isin(np.arange(len(rates)), [turn.cause for turn in turns], invert=True)
    scale *= float(either[quiet].prod())
    pushes = {sign: _pushes(chances[sign]) for sign in shown}
    total, together = _there_and_back(turns, _Weights(chances, pushes, shown, present, 1.0 - rates))
    shares = np.divide(present, either, out=np.zeros_like(present), where=either > 0.0)
    return scale * total, scale * np.where(quiet, shares * total, together)


def _merged(chances: Numbers, likelihood: tuple[float, ...]) -> tuple[Numbers, Numbers]:
    """Levels side by side count as one where they are equally likely, and not at all above the last that can be."""
    starts = np.flatnonzero(np.diff(likelihood, prepend=np.nan))
    levels, shown = np.add.reduceat(chances, starts, axis=0), np.take(likelihood, starts)
    possible = max(1, int(np.count_nonzero(shown[-1:])) + len(shown) - 1)
    return levels[:possible], shown[:possible]


def _only_leaking(signs: Iterable[str], turns: list[_Turn]) -> list[str]:
    pushed = {sign for turn in turns for sign in turn.push}
    return [sign for sign in signs if sign not in pushed]


def _turns(chances: Mapping[str, Numbers], causes: int) -> list[_Turn]:
    """Order the causes so that few signs are in the table at once: next is one after which it has grown least."""
    produces = {sign: levels[0, :-1] < 1.0 for sign, levels in chances.items()}
    waiting = {
        cause: own for cause in range(causes) if (own := frozenset(sign for sign in chances if produces[sign][cause]))
    }
    left = {sign: int(produces[sign].sum()) for sign in chances}
    inside: frozenset[str] = frozenset()
    turns = []
    while waiting:
        growth = {cause: len(own - inside) - sum(left[sign] == 1 for sign in own) for cause, own in waiting.items()}
        cause = min(growth, key=lambda one: (growth[one], -len(waiting[one])))
        own = waiting.pop(cause)
        for sign in own:
            left[sign] -= 1
        leave = frozenset(sign for sign in own if not left[sign])
        turns.append(_Turn(cause, *(tuple(sorted(some)) for some in (own - inside, own, leave))))
        inside = (inside | own) - leave
    return turns


@dataclass(frozen=True)
class _Weights:
    """What the tables are filled with: strengths, likelihoods, and each cause's weight when present and when not."""

    chances: Mapping[str, Numbers]
    pushes: Mapping[str, Numbers]
    shown: dict[str, Numbers]
    present: Numbers
    missing: Numbers


def _there_and_back(turns: list[_Turn], weights: _Weights) -> tuple[float, Numbers]:
    table: Numbers = np.ones(())
    inside: list[str] = []
    passed: list[tuple[_Turn, Numbers, list[str]]] = []
    for turn in turns:
        for sign in turn.enter:
            table = np.multiply.outer(table, weights.chances[sign][:, -1])
        inside = [*inside, *turn.enter]
        passed.append((turn, table, inside))
        pushed = _pushed(table, turn, inside, weights.pushes, back=False)
        table = weights.missing[turn.cause] * table + weights.present[turn.cause] * pushed
        for sign in turn.leave:
            table = np.tensordot(table, weights.shown[sign], (inside.index(sign), 0))
            inside = [one for one in inside if one != sign]
    return float(table), _back(passed, weights)


def _back(passed: list[tuple[_Turn, Numbers, list[str]]], weights: _Weights) -> Numbers:
    together = np.zeros_like(weights.present)
    table: Numbers = np.ones(())
    for turn, before, inside in reversed(passed):
        for at, sign in enumerate(inside):
            if sign in turn.leave:
                table = np.moveaxis(np.multiply.outer(table, weights.shown[sign]), -1, at)
        pushed = weights.present[turn.cause] * _pushed(table, turn, inside, weights.pushes, back=True)
        together[turn.cause] = (before * pushed).sum()
        table = weights.missing[turn.cause] * table + pushed
        for sign in reversed(turn.enter):
            table = table @ weights.chances[sign][:, -1]
    return together


def _pushed(table: Numbers, turn: _Turn, inside: list[str], pushes: Mapping[str, Numbers], *, back: bool) -> Numbers:
    for sign in turn.push:
        at = inside.index(sign)
        shape = table.shape
        push = pushes[sign][turn.cause].T if back else pushes[sign][turn.cause]
        table = np.einsum("ts,asb->atb", push, table.reshape(math.prod(shape[:at]), shape[at], -1)).reshape(shape)
    return table


def _pushes(chances: Numbers) -> Numbers:
    """For each cause, the matrix that takes the level of a sign so far to the higher of it and the cause's own."""
    levels = len(chances)
    higher = np.tril(np.ones((levels, levels)), -1)
    return chances.T[:, :, None] * higher + chances.cumsum(axis=0).T[:, :, None] * np.eye(levels)
