"""The laws of a moving drive smoothed and given to a general solver: a second opinion, written apart from the first.

Dry friction is a steep tanh, slip needs a little excess for its speed, and nothing sticks. Time steps are the solver's.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
from scipy.integrate import solve_ivp

from triage.drive.mechanics.arm import arm_motion, arm_spans, turned
from triage.drive.motion.events import Event
from triage.drive.motion.machine import Machine
from triage.drive.motion.starting import steady

Array = npt.NDArray[np.float64]
STEEP_RAD_S = 0.005
"""Speed of the arm at which its friction is three quarters of its limit."""
GIVE_NS_M = 5.0
"""Excess over grip for each metre a second of slip."""
ROUNDS = 12


@dataclass(frozen=True)
class Smooth:
    """How a run went: k times, n pulleys."""

    times_s: Array
    arm_rad: Array
    rotor_rad_s: Array


class SmoothedDrive:
    """One variant of a machine in one event, with the crank's speed given."""

    def __init__(self, machine: Machine, event: Event, column: int = 0) -> None:
        self.m, self.event, self.column = machine, event, column
        self.n = len(machine.parts)
        self.r = machine.radii_m[:, 0].tolist()
        self.k = machine.rates_n_m[:, 0].tolist()
        self.J = machine.inertias_kg_m2[:, column].tolist()
        self.load = machine.loads_nm[:, column].tolist()
        self.joint = machine.joints[column]
        self.beta = machine.parameters.span_damping_s
        self.table = self._arm_table() if machine.drive.arm else None

    def _arm_table(self) -> tuple[Array, Array, Array]:
        """Growth of the two spans, their slopes and the logarithms of three grips over the arm's angle."""
        route, arm = self.m.route, self.m.drive.arm
        assert arm is not None
        angles = np.linspace(-0.2, 0.2, 801)
        rows = []
        for angle in angles:
            path = turned(route, arm, float(angle))
            row, heads = [], {}
            for span, sign in arm_spans(path, arm):
                after = (span + 1) % self.n
                heads[span] = math.remainder(path.spans[span].heading_rad - route.spans[span].heading_rad, math.tau)
                taken = path.turns[span] * self.r[span] - path.turns[after] * self.r[after]
                row.append(path.spans[span].length_m - route.spans[span].length_m + taken * heads[span])
                row.append(sign * arm_motion(path, arm, span)[0])
            for at in ((arm.pulley - 1) % self.n, arm.pulley, (arm.pulley + 1) % self.n):
                turn = heads.get(at, 0.0) - heads.get((at - 1) % self.n, 0.0)
                wrap = route.wraps_rad[at] + path.turns[at] * turn
                row.append(math.log(self.m.grips[at, self.column]) * wrap / route.wraps_rad[at])
            rows.append(row)
        return angles, np.array(rows), np.diff(np.array(rows), axis=0) / (angles[1] - angles[0])

    def _arm(self, angle: float) -> list[float]:
        assert self.table is not None
        angles, rows, slopes = self.table
        cell = min(max(int((angle - angles[0]) / (angles[1] - angles[0])), 0), len(angles) - 2)
        read: list[float] = (rows[cell] + (angle - angles[cell]) * slopes[cell]).tolist()
        return read

    def crank(self, time_s: float) -> float:
        """Speed of the crank, ripple included."""
        course, ripple = self.event.course, self.event.ripple
        mean, speed = float(course.angle(np.array(time_s))), float(course.speed(np.array(time_s)))
        amplitude = ripple.idle_rad * (ripple.idle_rad_s / speed) ** 2
        later = float(course.speed(np.array(time_s + 1e-6)))
        falling = -2 * amplitude / speed * (later - speed) / 1e-6
        phase = ripple.order * mean
        return speed + amplitude * ripple.order * speed * math.cos(phase) + falling * math.sin(phase)

    def torque(self, time_s: float) -> float:
        """What the alternator takes."""
        return [torque for from_s, torque in self.event.torques_nm if from_s <= time_s + 1e-12][-1]

    def rates(self, time_s: float, y: Sequence[float]) -> list[float]:
        """Derivatives of speeds, stretches, arm and rotor."""
        n, m, r, k = self.n, self.m, self.r, self.k
        speeds = [self.crank(time_s), *y[1:n]]
        stretch, (arm, arm_speed, rotor, wind) = list(y[n : 2 * n]), y[2 * n : 2 * n + 4]
        grips = [math.log(one) for one in m.grips[:, self.column].tolist()]
        slope = [0.0] * n
        if self.table is not None:
            assert m.paths is not None
            at = m.paths.pulley
            g1, s1, g2, s2, *logs = self._arm(arm)
            stretch[at - 1] += g1
            stretch[at] += g2
            slope[at - 1], slope[at] = s1, s2
            for place, one in zip((at - 1, at, (at + 1) % n), logs, strict=True):
                grips[place] = one
        belt = [radius * speed for radius, speed in zip(r, speeds, strict=True)]
        own = m.mass_kg_m * belt[0] ** 2
        base = [
            m.rest_n + k[i] * (stretch[i] + self.beta * (belt[(i + 1) % n] - belt[i] + slope[i] * arm_speed))
            for i in range(n)
        ]
        slips, tensions = self._slips(base, grips, own)
        grown = [belt[(i + 1) % n] + slips[(i + 1) % n] - belt[i] - slips[i] for i in range(n)]
        if m.parameters.creep:
            grown = [g + belt[0] * (tensions[i - 1] - tensions[i]) / m.stiffness_n for i, g in enumerate(grown)]
        taken = self.torque(time_s) + m.parameters.rotor_drag_nm
        fan = m.parameters.windage_nm_s2 * rotor * abs(rotor)
        turning, winding, rotor_rate = 0.0, 0.0, 0.0
        alternator = m.alternator or 0
        if not self.joint.rigid:
            over = speeds[alternator] - rotor
            free = self.joint.spring_nm_rad * wind + self.joint.damping_nm_s * over
            turning = min(max(free, self.joint.lower_nm), self.joint.upper_nm)
            winding = (turning - self.joint.spring_nm_rad * wind) / self.joint.damping_nm_s
            rotor_rate = (turning - taken - fan) / m.rotor_kg_m2
        rates = [0.0] * n
        for i in range(1, n):
            push = r[i] * (tensions[i] - tensions[i - 1]) - self.load[i]
            if i == alternator:
                ring_fan = m.parameters.windage_nm_s2 * speeds[i] ** 2
                push -= taken + ring_fan if self.joint.rigid else turning
            rates[i] = push / self.J[i]
        return [*rates, *grown, *self._arm_rates(arm, arm_speed, slope, tensions, own), rotor_rate, winding]

    def _arm_rates(
        self, arm: float, speed: float, slope: list[float], tensions: list[float], own: float
    ) -> list[float]:
        if self.table is None:
            return [0.0, 0.0]
        m, column = self.m, self.column
        pulled = sum(one * (tension - own) for one, tension in zip(slope, tensions, strict=True))
        rubbing = m.arm_friction_nm[column] * math.tanh(speed / STEEP_RAD_S)
        spring = m.pretension_nm[column] - m.arm_rate_nm_rad[column] * arm
        return [speed, float((spring - pulled - rubbing) / m.arm_kg_m2)]

    def _slips(self, base: list[float], grips: list[float], own: float) -> tuple[list[float], list[float]]:
        """Speeds of slip at which the excess over grip is what that speed needs, and the tensions that it leaves."""
        n, slips = self.n, [0.0] * self.n
        damped = [one * self.beta for one in self.k]
        pulls = list(base)
        tensions = [max(one, 0.0) for one in pulls]
        for _ in range(ROUNDS):
            moved = False
            for i in range(n):
                before, after, ratio = tensions[i - 1], tensions[i], math.exp(grips[i])
                ahead = after - before - (ratio - 1) * max(before - own, 0.0) - GIVE_NS_M * max(slips[i], 0.0)
                back = before - after - (ratio - 1) * max(after - own, 0.0) - GIVE_NS_M * max(-slips[i], 0.0)
                if ahead <= 0 and back <= 0 and slips[i] == 0:
                    continue
                up = max(0.0, max(slips[i], 0.0) + ahead / (damped[i] + ratio * damped[i - 1] + GIVE_NS_M))
                down = max(0.0, max(-slips[i], 0.0) + back / (damped[i - 1] + ratio * damped[i] + GIVE_NS_M))
                change = up - down - slips[i]
                slips[i] += change
                pulls[i] -= damped[i] * change
                pulls[i - 1] += damped[i - 1] * change
                tensions[i], tensions[i - 1] = max(pulls[i], 0.0), max(pulls[i - 1], 0.0)
                moved = moved or abs(change) > 1e-9
            if not moved:
                break
        return slips, tensions

    def solve(self, seconds: float, points: int, *, method: str = "LSODA", rtol: float = 1e-6) -> Smooth:
        """Let the solver carry the drive, and look at it at even times."""
        begun = steady(self.m, self.event.course.speeds_rad_s[0], self.event.torques_nm[0][1])
        c = self.column
        y = [*begun.pulleys_rad_s[:, c], *begun.stretch_m[:, c], begun.arm_rad[c], 0.0, begun.rotor_rad_s[c]]
        scales = [1e-6] * self.n + [1e-9] * self.n + [1e-8, 1e-6, 1e-6, 1e-8]
        told = solve_ivp(
            self.rates,
            (0.0, seconds),
            [float(one) for one in [*y, begun.wind_rad[c]]],
            method=method,
            t_eval=np.linspace(0.0, seconds, points),
            rtol=rtol,
            atol=scales,
            max_step=1e-3,
        )
        rotor = told.y[(self.m.alternator or 0) if self.joint.rigid else 2 * self.n + 2]
        return Smooth(told.t, told.y[2 * self.n], rotor)
