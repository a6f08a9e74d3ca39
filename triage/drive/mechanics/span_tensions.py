"""How a belt's tension goes up and down from span to span when its pulleys take or give torque.

Leaving a pulley that takes torque M the belt pulls harder by M/r. That gives differences; the level comes from the
tensioner, which keeps the mean of its two spans where it was at rest, or without one from the belt's length, which
keeps the mean over all spans. Tension at rest is also taken as the level while running: a sprung tensioner would add
m·v², so margins come out a little low for it.
"""

from collections.abc import Sequence


def span_tensions(
    torques_nm: Sequence[float], radii_m: Sequence[float], weights: Sequence[float], rest_n: float
) -> tuple[float, ...]:
    """Find the tension of every span, crank first.

    Args:
        torques_nm: n torques that the belt gives to the pulleys; the crank's own, first, is not used [N·m].
        radii_m: n pitch radii [m].
        weights: n shares with which spans keep the level: span lengths, or one for the tensioner's two spans [1].
        rest_n: span tension at rest [N].

    Returns:
        n tensions, span i leaving pulley i; a negative one means that the span goes slack [N].

    Source: beikmann-1996
    """
    steps = [0.0]
    for torque_nm, radius_m in zip(torques_nm[1:], radii_m[1:], strict=True):
        steps.append(steps[-1] + torque_nm / radius_m)
    mean = sum(weight * step for weight, step in zip(weights, steps, strict=True)) / sum(weights)
    return tuple(rest_n + step - mean for step in steps)
