"""What a machine did in some steps, in rows."""

from dataclasses import dataclass

from triage.drive.motion.machine import Array


@dataclass(frozen=True)
class Stretch:
    """What a machine did in some steps; k steps, n pulleys, one column a variant.

    Args:
        ends_s: times at the ends of the steps, shape (k,).
        tensions_n: of the spans in the middle of each step, shape (k, n, variants).
        slip_m_s: of the belt over each rim in each step, likewise.
        pulleys_rad_s: speeds at the ends, likewise.
        arm_rad: angles of the arm at the ends, shape (k, variants).
        rotor_rad_s: speeds of the rotor at the ends, likewise.
        slide_rad_s: how fast the joint's slider let go in each step, below zero where the rotor runs ahead, likewise.
        joint_nm: torque from ring to rotor in each step, likewise.
    """

    ends_s: Array
    tensions_n: Array
    slip_m_s: Array
    pulleys_rad_s: Array
    arm_rad: Array
    rotor_rad_s: Array
    slide_rad_s: Array
    joint_nm: Array
