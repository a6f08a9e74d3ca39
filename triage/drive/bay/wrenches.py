"""Torque wrenches with something in front of them.

An adapter moves the bolt away from the wrench's own square, so the hand works on a longer or a shorter lever than the
scale was made for. Straight on its angle is zero, at a right angle a quarter turn, back along the handle half a turn.

Source: navedtra-14315, tm-1-1500-204-23-9
"""

import math

from triage.drive.bay.formula import Formula, FormulaPart


def _setting(torque_nm: float, wrench_m: float, adapter_m: float, angle_rad: float) -> float:
    return torque_nm * wrench_m / _lever(wrench_m, adapter_m, angle_rad)


def _torque(reading_nm: float, wrench_m: float, adapter_m: float, angle_rad: float) -> float:
    return reading_nm * _lever(wrench_m, adapter_m, angle_rad) / wrench_m


def _lever(wrench_m: float, adapter_m: float, angle_rad: float) -> float:
    lever_m = wrench_m + adapter_m * math.cos(angle_rad)
    if lever_m <= 0:
        raise ValueError("The adapter points back as far as the hand, so no setting gives a torque.")
    return lever_m


_WRENCH = (
    FormulaPart("wrench length", "length", "L"),
    FormulaPart("adapter length", "length", "E"),
    FormulaPart("angle between wrench and adapter", "angle", "θ", "any", usual=0.0),
)
_WRENCH_LIMITS = "The hand pulls at the middle of the grip. Not for wrenches that read twist in their drive square."

WRENCHES = (
    Formula(
        "adapter-setting",
        "What to set on a torque wrench with an adapter in front",
        (FormulaPart("wanted torque", "torque", "T"), *_WRENCH),
        "torque",
        _setting,
        "setting = T·L / (L + E·cos θ)",
        "navedtra-14315",
        _WRENCH_LIMITS,
    ),
    Formula(
        "adapter-torque",
        "What the fastener gets from a reading with an adapter in front",
        (FormulaPart("reading of the wrench", "torque", "T"), *_WRENCH),
        "torque",
        _torque,
        "torque = T·(L + E·cos θ) / L",
        "navedtra-14315",
        _WRENCH_LIMITS,
    ),
)
