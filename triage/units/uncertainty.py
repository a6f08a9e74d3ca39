"""Standard uncertainty of a reading, from how far it may be off."""

import math


def standard_uncertainty(*half_widths: float) -> float:
    """Half-widths in one unit, each with every value within it as likely: a/√3; together in quadrature.

    Such are what stands after ±, half of a typed range, and the permissible deviation of an instrument.

    Source: JCGM 100:2008, 4.3.7 and 5.1.2, from memory.

    >>> round(standard_uncertainty(0.04 * 90.0), 4)
    2.0785
    """
    return math.hypot(*half_widths) / math.sqrt(3)
