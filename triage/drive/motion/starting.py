"""The steady drive that an event begins with: speeds, stretch of the spans, arm and spring in balance."""

import numpy as np

from triage.drive.motion.machine import Array, Machine
from triage.drive.motion.rest import settled
from triage.drive.motion.stepping import State


def steady(machine: Machine, crank_rad_s: float, alternator_nm: float) -> State:
    """Find the state of a drive that has run steadily for long.

    Args:
        machine: n pulleys and some variants.
        crank_rad_s: speed of the crank [rad/s].
        alternator_nm: what the alternator takes beside drag and windage [N·m].

    Returns:
        the state, in [SI].

    Source: beikmann-1996, khurmi
    """
    belt_m_s = float(machine.radii_m[0, 0]) * crank_rad_s
    torques = machine.loads_nm.copy()
    joint_nm = np.zeros(len(machine.variants))
    if machine.alternator is not None:
        joint_nm = _joint_torques(machine, belt_m_s / float(machine.radii_m[machine.alternator, 0]), alternator_nm)
        torques[machine.alternator] = joint_nm
    tensions, arm_rad = settled(machine, torques, machine.mass_kg_m * belt_m_s * belt_m_s)
    speeds = _speeds(machine, tensions, belt_m_s)
    stretch = (tensions - machine.rest_n) / machine.rates_n_m - _growth(machine, arm_rad)
    at = machine.alternator or 0
    springs = np.array([joint.spring_nm_rad for joint in machine.joints])
    return State(
        pulleys_rad_s=speeds,
        stretch_m=stretch,
        arm_rad=arm_rad,
        arm_rad_s=np.zeros_like(arm_rad),
        rotor_rad_s=speeds[at].copy(),
        wind_rad=np.where(machine.rigid, 0.0, joint_nm / springs),
        crank_rad=np.zeros_like(arm_rad),
    )


def _joint_torques(machine: Machine, rotor_rad_s: float, alternator_nm: float) -> Array:
    drag = machine.parameters.rotor_drag_nm + machine.parameters.windage_nm_s2 * rotor_rad_s * rotor_rad_s
    return np.array(
        [alternator_nm + drag if j.rigid else min(alternator_nm + drag, j.upper_nm) for j in machine.joints]
    )


def _speeds(machine: Machine, tensions: Array, belt_m_s: float) -> Array:
    """Speeds of the pulleys, each a little slower than the one before by the creep of the belt."""
    share = np.zeros_like(tensions)
    if machine.parameters.creep:
        share = (tensions - np.concatenate([tensions[-1:], tensions[:-1]])) / machine.stiffness_n
    gained = np.cumsum(share, axis=0)
    rims = belt_m_s * (1 + np.concatenate([np.zeros_like(gained[:1]), gained[:-1]]))
    speeds: Array = rims / machine.radii_m
    return speeds


def _growth(machine: Machine, arm_rad: Array) -> Array:
    grown = np.zeros((len(machine.parts), len(arm_rad)))
    if machine.paths is not None:
        growth, _, _ = machine.paths.at(arm_rad, np.zeros_like(arm_rad))
        grown[(machine.paths.pulley - 1) % len(grown)] += growth[0]
        grown[machine.paths.pulley] += growth[1]
    return grown
