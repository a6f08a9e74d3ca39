"""The same sums as `triage.reasoning.inference.posterior` without a subtraction, for many abnormal results.

Causes are taken one after another. A table holds the levels that the signs have been pushed to so far; a sign enters
it with the first cause that produces it and leaves with the last one, weighed with its likelihood. Nothing is ever
subtracted, so no digit is lost. Going back over the tables gives every cause at once. All pieces of evidence stand side
by side on the last axis of every table.

Source: variable elimination and the forward-backward scheme, textbook methods, from memory.
"""

import math
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from triage.reasoning.inference.elimination_order import CauseTurn, turns
from triage.reasoning.inference.evidence_rows import Rows
from triage.reasoning.inference.network import Network, Numbers


@dataclass(frozen=True)
class _Sign:
    """A sign in the table: chances of its levels by cause, the leak last, and likelihoods by level and piece."""

    chances: Numbers
    shown: Numbers

    @cached_property
    def causes(self) -> list[int]:
        """The causes that produce it."""
        return [int(cause) for cause in np.flatnonzero(self.chances[0, :-1] < 1.0)]

    def leaked(self) -> Numbers:
        """Likelihood of the sign with none of its causes present, by piece [1]."""
        return _weighed(self.chances[:, -1], self.shown)

    def pushed(self, cause: int) -> Numbers:
        """The same with one of them present."""
        # The higher of leak and cause, as a table of one axis and one piece.
        leak = self.chances[:, -1:].copy()
        _push(leak, 0, self.chances[:, cause])
        return _weighed(leak[:, 0], self.shown)


def eliminate(network: Network, rows: Rows) -> tuple[Numbers, Numbers]:
    """Probability of pieces of evidence, alone and together with each cause.

    Args:
        network: the causes and signs of the vehicle.
        rows: the pieces.

    Returns:
        Arrays of shape (pieces,) and (pieces, n) [1].
    """
    rates = network.base_rates[:-1, None]
    scale = rows.alone[:, -1].copy()
    present = rates * rows.alone[:, :-1].T
    missing = np.tile(1.0 - rates, (1, len(scale)))
    signs: dict[str, _Sign] = {}
    for name, likelihoods in rows.shown.items():
        sign = _merged(network.chances[name], likelihoods.T)
        if len(sign.causes) > 1:
            signs[name] = sign
        elif len(sign.causes) == 1:
            # A sign that one cause produces weighs on that cause alone and needs no place in the table.
            (cause,) = sign.causes
            missing[cause] *= sign.leaked()
            present[cause] *= sign.pushed(cause)
        else:
            scale *= sign.leaked()
    total, together = _summed(signs, present, missing)
    return scale * total, (scale * together).T


def _summed(signs: dict[str, _Sign], present: Numbers, missing: Numbers) -> tuple[Numbers, Numbers]:
    """Sums over all causes and signs; causes that produce none of the signs are a factor by themselves."""
    order = turns({name: frozenset(sign.causes) for name, sign in signs.items()}, present.shape[1])
    either = present + missing
    quiet = np.setdiff1d(np.arange(len(present)), [turn.cause for turn in order])
    total, together = _there_and_back(order, signs, present, missing)
    shares = np.divide(present, either, out=np.zeros_like(present), where=either > 0.0)
    together[quiet] = shares[quiet] * total
    # Causes that produce none of the signs are there or not whatever those show: a factor of the whole.
    factor = either[quiet].prod(axis=0)
    return factor * total, factor * together


def _merged(chances: Numbers, shown: Numbers) -> _Sign:
    """Levels side by side count as one where no piece tells them apart, and not at all above the last that can be."""
    # Fewer levels make smaller tables: chances of levels that weigh the same add up.
    starts = [at for at in range(len(shown)) if not at or (shown[at] != shown[at - 1]).any()]
    levels, likelihoods = np.add.reduceat(chances, starts, axis=0), shown[starts]
    # What pushes a sign above the last level that can be makes the evidence impossible, so it is left out of the sum.
    if len(starts) > 1 and not likelihoods[-1].any():
        levels, likelihoods = levels[:-1], likelihoods[:-1]
    return _Sign(levels, likelihoods)


def _there_and_back(
    order: list[CauseTurn], signs: dict[str, _Sign], present: Numbers, missing: Numbers
) -> tuple[Numbers, Numbers]:
    table: Numbers = np.ones(present.shape[1])
    inside: list[str] = []
    passed: list[tuple[CauseTurn, Numbers, list[str]]] = []
    for turn in order:
        # A sign begins at the level to which the leak alone pushes it; its axis comes first.
        for name in turn.enter:
            table = np.multiply.outer(signs[name].chances[:, -1], table)
        inside = [*reversed(turn.enter), *inside]
        # Kept from before the cause: on the way back each such table meets the one from behind it.
        passed.append((turn, table, inside))
        pushed = table.copy()
        for name in turn.push:
            _push(pushed, inside.index(name), signs[name].chances[:, turn.cause])
        pushed *= present[turn.cause]
        # Either the cause is missing and nothing moves, or it is there and pushes; both stay in one table.
        table = missing[turn.cause] * table
        table += pushed
        for name in turn.leave:
            table = _left(table, inside.index(name), signs[name].shown)
            inside = [one for one in inside if one != name]
    return table, _back(passed, signs, present, missing)


def _back(
    passed: list[tuple[CauseTurn, Numbers, list[str]]], signs: dict[str, _Sign], present: Numbers, missing: Numbers
) -> Numbers:
    # The mirror of the way there: what is still to come is worth, for each state of the table, `table`.
    together = np.zeros_like(present)
    table: Numbers = np.ones(present.shape[1])
    for turn, before, inside in reversed(passed):
        for at, name in enumerate(inside):
            if name in turn.leave:
                table = np.stack([level * table for level in signs[name].shown], axis=at)
        pushed = table.copy()
        for name in turn.push:
            _pull(pushed, inside.index(name), signs[name].chances[:, turn.cause])
        pushed *= present[turn.cause]
        # What came before times what comes after, over all states: the evidence together with this cause.
        together[turn.cause] = (before * pushed).reshape(-1, before.shape[-1]).sum(axis=0)
        table = missing[turn.cause] * table
        table += pushed
        for name in reversed(turn.enter):
            table = _weighed(signs[name].chances[:, -1], table)
    return together


def _push(table: Numbers, axis: int, chances: Numbers) -> None:
    """Take each level of a sign to the higher of it and a cause's own, in place."""
    # The higher of two: at a level both are, or one is there and the other lower. From the top, so that lower levels
    # are still as they were when a higher one reads them.
    levels = _levels(table, axis)
    for at in reversed(range(len(chances))):
        levels[:, at] *= chances[: at + 1].sum()
        for lower in range(at):
            levels[:, at] += chances[at] * levels[:, lower]


def _pull(table: Numbers, axis: int, chances: Numbers) -> None:
    """The same as `_push` on the way back: what each level is worth before the cause has pushed it, in place."""
    # The transpose of that: a level is left where it is by all pushes up to it, and taken to each higher one. From the
    # bottom, as higher levels are still to be read.
    levels = _levels(table, axis)
    for at in range(len(chances)):
        levels[:, at] *= chances[: at + 1].sum()
        for higher in range(at + 1, len(chances)):
            levels[:, at] += chances[higher] * levels[:, higher]


def _left(table: Numbers, axis: int, shown: Numbers) -> Numbers:
    # Summed level by level and not by a product of matrices, whose order of adding up depends on the processor.
    shape = (*table.shape[:axis], *table.shape[axis + 1 :])
    levels = _levels(table, axis).reshape(math.prod(shape[:axis]), len(shown), -1, shown.shape[1])
    weighed = sum(likelihood * levels[:, at] for at, likelihood in enumerate(shown) if likelihood.any())
    return np.asarray(weighed).reshape(shape)


def _weighed(chances: Numbers, table: Numbers) -> Numbers:
    """The sum over levels, the first axis of a table, in one order on every machine."""
    return np.asarray(sum(chance * level for chance, level in zip(chances, table, strict=True)))


def _levels(table: Numbers, axis: int) -> Numbers:
    """A view of a table whose second axis is this one."""
    return table.reshape(math.prod(table.shape[:axis]), table.shape[axis], -1)
