"""Whether a spring between pulley and rotor keeps the engine's firing out of the rotor.

One inertia on one undamped spring, shaken at one frequency. Damping lowers the peak near resonance and lets a little
more through far above it.
"""

import math

ISOLATION_LIMIT = math.sqrt(2)
"""A spring passes on less than it is given only above this ratio of shaking to natural frequency; Grover."""


def spring_frequency(stiffness_nm_rad: float, inertia_kg_m2: float) -> float:
    """Find the natural frequency of an inertia on a torsion spring: √(k/J)/2π.

    Args:
        stiffness_nm_rad: stiffness of the spring [N·m/rad].
        inertia_kg_m2: inertia that it turns [kg·m²].

    Returns:
        natural frequency [Hz].

    Source: grover
    """
    return math.sqrt(stiffness_nm_rad / inertia_kg_m2) / (2 * math.pi)


def transmissibility(shaken_hz: float, natural_hz: float) -> float:
    """Say which share of a shake comes through an undamped spring: 1/|1 − (f/f₀)²|.

    Args:
        shaken_hz: frequency of the shake [Hz].
        natural_hz: natural frequency of what hangs on the spring [Hz].

    Returns:
        amplitude behind the spring over amplitude before it, infinite at resonance [1].

    Source: grover
    """
    detuning = abs(1 - (shaken_hz / natural_hz) ** 2)
    return 1 / detuning if detuning > 0 else math.inf
