"""Pulleys and spans as one block of a step: its inverse, worked out once in plain arithmetic of a fixed order."""

import numpy as np
import numpy.typing as npt

Array = npt.NDArray[np.float64]


def inverses(rush: Array, radii_m: Array, give: Array, hold: Array, ring: int, *, free_crank: bool) -> Array:
    """Say how much the pulleys' speeds change for a unit torque at each, all spans pulling.

    Args:
        rush: torque for a unit change of each pulley's mean speed, shape (n, variants) [N·m·s].
        radii_m: n pitch radii [m].
        give: tension that each of n spans gains with its rate of stretch [N·s/m].
        hold: what the joint of each variant adds at its ring [N·m·s].
        ring: position of that ring [1].
        free_crank: whether the crank is one of the unknown; a given one has no row and no column.

    Returns:
        shape (n, n, variants) [1/(N·m·s)].

    Source: acary-2008
    """
    count, variants = rush.shape
    inverse = np.zeros((count, count, variants))
    known: dict[tuple[float, ...], Array] = {}
    for column in range(variants):
        own = [float(one) for one in rush[:, column]]
        own[ring] += float(hold[column])
        if tuple(own) not in known:
            known[tuple(own)] = _inverted(_block(own, radii_m, give), start=0 if free_crank else 1)
        inverse[:, :, column] = known[tuple(own)]
    return inverse


def _block(own: list[float], radii: Array, give: Array) -> list[list[float]]:
    count = len(own)
    block = [[0.0] * count for _ in own]
    for at, one in enumerate(own):
        block[at][at] += one
        after = (at + 1) % count
        first, second, pull = float(radii[at]), float(radii[after]), float(give[at])
        block[at][at] += pull * first * first
        block[after][after] += pull * second * second
        block[at][after] -= pull * first * second
        block[after][at] -= pull * first * second
    return block


def _inverted(block: list[list[float]], start: int) -> Array:
    """Gauss and Jordan's elimination; the block is symmetric and positive, so it needs no pivots."""
    count = len(block)
    rows = [[*row, *(float(at == other) for other in range(count))] for at, row in enumerate(block)]
    for pivot in range(start, count):
        scale = rows[pivot][pivot]
        rows[pivot] = [one / scale for one in rows[pivot]]
        for at in range(start, count):
            if at != pivot and rows[at][pivot] != 0:
                factor = rows[at][pivot]
                rows[at] = [one - factor * other for one, other in zip(rows[at], rows[pivot], strict=True)]
    inverse = np.zeros((count, count))
    for at in range(start, count):
        inverse[at, start:] = rows[at][count + start :]
    return inverse
