"""Torque wrenches with something in front of them.

An adapter moves the bolt away from the wrench's own square, so the hand works on a longer or a shorter lever than the
scale was made for.
"""

import math


def adapter_setting(torque_nm: float, wrench_m: float, adapter_m: float, angle_rad: float) -> float:
    """Say what to set on the wrench so that the bolt gets its torque: T·L/(L + E·cos θ).

    Args:
        torque_nm: torque that the fastener shall get [N·m].
        wrench_m: from the wrench's square to the middle of the grip [m].
        adapter_m: from the wrench's square to the fastener [m].
        angle_rad: between wrench and adapter; zero straight on, a quarter turn at a right angle, half a turn when it
            points back along the handle [rad].

    Returns:
        setting or reading of the wrench [N·m].

    Raises:
        ValueError: the adapter points so far back that the fastener lies under or behind the hand.

    Source: navedtra-14315, tm-1-1500-204-23-9
    """
    return torque_nm * wrench_m / _lever(wrench_m, adapter_m, angle_rad)


def adapter_torque(reading_nm: float, wrench_m: float, adapter_m: float, angle_rad: float) -> float:
    """Say what the fastener gets when the wrench shows a reading: T·(L + E·cos θ)/L.

    Args:
        reading_nm: setting or reading of the wrench [N·m].
        wrench_m: from the wrench's square to the middle of the grip [m].
        adapter_m: from the wrench's square to the fastener [m].
        angle_rad: between wrench and adapter; zero straight on [rad].

    Returns:
        torque at the fastener [N·m].

    Raises:
        ValueError: the adapter points so far back that the fastener lies under or behind the hand.

    Source: navedtra-14315, tm-1-1500-204-23-9
    """
    return reading_nm * _lever(wrench_m, adapter_m, angle_rad) / wrench_m


def _lever(wrench_m: float, adapter_m: float, angle_rad: float) -> float:
    lever_m = wrench_m + adapter_m * math.cos(angle_rad)
    if lever_m <= 0:
        raise ValueError("The adapter points back as far as the hand, so no setting gives a torque.")
    return lever_m
