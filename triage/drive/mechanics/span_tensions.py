"""How a belt's tension goes up and down from span to span when its pulleys take or give torque.

Leaving a pulley that takes torque M the belt pulls harder by M/r. That gives differences; the level comes from a
sprung arm (`triage.drive.mechanics.arm`), or from what keeps a mean where it was.
"""

from collections.abc import Sequence


def steps_of(torques_nm: Sequence[float], radii_m: Sequence[float]) -> tuple[float, ...]:
    """Add up what every pulley adds to the belt's pull, from the span that leaves the crank.

    Args:
        torques_nm: n torques that the belt gives to the pulleys, in running direction; the crank's, first, is not
            used [N·m].
        radii_m: n pitch radii [m].

    Returns:
        n differences of tension from the first span, span i leaving pulley i [N].

    Source: beikmann-1996
    """
    steps = [0.0]
    for torque_nm, radius_m in zip(torques_nm[1:], radii_m[1:], strict=True):
        steps.append(steps[-1] + torque_nm / radius_m)
    return tuple(steps)


def level_by(steps_n: Sequence[float], weights: Sequence[float], mean_n: float) -> tuple[float, ...]:
    """Find the tension of every span from the mean that is kept.

    Args:
        steps_n: n differences from the first span [N].
        weights: n shares with which spans keep the mean: span lengths, or one for a tensioner's two spans [1].
        mean_n: what is kept [N].

    Returns:
        n tensions, span i leaving pulley i; a negative one means that the span goes slack [N].

    Source: beikmann-1996
    """
    mean = sum(weight * step for weight, step in zip(weights, steps_n, strict=True)) / sum(weights)
    return tuple(mean_n + step - mean for step in steps_n)
