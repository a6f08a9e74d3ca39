"""How much difference of tension a wrap can hold before the belt slips on it.

The belt is taken as a thin flexible band and friction as one figure, the same at every speed of sliding. Real belts
creep a little before they slip, and wet ones lose 30 to 40 percent of their friction.
"""

import math


def flat_ratio(friction: float, wrap_rad: float) -> float:
    """Say which ratio of tensions a smooth wrap can hold: e^(μ·θ).

    Args:
        friction: coefficient of friction between belt and pulley [1].
        wrap_rad: angle of contact [rad].

    Returns:
        tight over slack tension at the edge of slipping, both net of m·v² [1].

    Source: khurmi, beer-johnston
    """
    return math.exp(friction * wrap_rad)


def grooved_ratio(friction: float, wrap_rad: float, groove_rad: float) -> float:
    """Say which ratio of tensions a wrap in grooves can hold: e^(μ·θ/sin β), β half the groove angle.

    Args:
        friction: coefficient of friction between belt and groove [1].
        wrap_rad: angle of contact [rad].
        groove_rad: whole angle of a groove [rad].

    Returns:
        tight over slack tension at the edge of slipping, both net of m·v² [1].

    Source: khurmi
    """
    return math.exp(friction * wrap_rad / math.sin(groove_rad / 2))


def centrifugal_tension(mass_kg_m: float, belt_m_s: float) -> float:
    """Say how much of a span's tension only holds the belt on its curve and presses on nothing: m·v².

    Args:
        mass_kg_m: mass of the belt per length [kg/m].
        belt_m_s: speed of the belt [m/s].

    Returns:
        tension that gives no grip [N].

    Source: khurmi
    """
    return mass_kg_m * belt_m_s**2


def slip_margin(available_ratio: float, one_side_n: float, other_side_n: float) -> float:
    """Compare the ratio of tensions that a wrap can hold with the ratio that is asked of it.

    Args:
        available_ratio: ratio at the edge of slipping [1].
        one_side_n: tension on one side, net of m·v² [N].
        other_side_n: tension on the other side, net of m·v² [N].

    Returns:
        available over needed; below one the belt slips, zero where one side has gone slack [1].

    Source: khurmi
    """
    slack, tight = sorted((one_side_n, other_side_n))
    return available_ratio * max(slack, 0.0) / tight if tight > 0 else 0.0


def friction_needed(contact_rad: float, one_side_n: float, other_side_n: float) -> float:
    """Say below which friction a wrap slips: ln(T₁/T₂)/contact.

    Unlike a ratio of ratios this compares a long wrap with a short one: the share of grip used is this over μ.

    Args:
        contact_rad: angle of contact, over the sine of half the groove angle in grooves [rad].
        one_side_n: tension on one side, net of m·v² [N].
        other_side_n: tension on the other side, net of m·v² [N].

    Returns:
        coefficient of friction; infinite where a side goes slack [1].

    Source: khurmi
    """
    slack, tight = sorted((one_side_n, other_side_n))
    return math.log(tight / slack) / contact_rad if slack > 0 else math.inf
