"""One step after another: Moreau's time stepping with the implicit midpoint rule and projected Gauss-Seidel sweeps.

The step is fixed and no event is looked for: friction, slip, slack, clutch and stops are projections inside the step,
so that what sticks really sticks. Pulleys and spans are one block, solved with an inverse worked out beforehand as if
every span pulled; arm, joint, rotor and slip are further blocks, and the sweeps go round them. At a contact that holds
the speed at the end of the step is nothing: the midpoint rule alone would let it ring. Sums run in a fixed order and no
linear algebra of a library comes in, so that the same input gives the same bytes on every processor.

Source: acary-2008, studer-2008
"""

import math
from dataclasses import dataclass

import numpy as np

from triage.drive.motion.block import inverses
from triage.drive.motion.laws.crank import compression
from triage.drive.motion.laws.dry_friction import held, stuck
from triage.drive.motion.laws.slip import beyond_grip, slip_now, slips_now
from triage.drive.motion.laws.span import creep, tension
from triage.drive.motion.machine import Array, Machine

SWEEPS = 3
"""Sweeps of a step; more of them change figures by far less than halving the step does."""
SLIPPING = 2
"""How many times as many a step takes in which the belt slips."""
LOOKS_AFTER = 8
"""Steps between two looks at what the last sweep still changed."""
SLIP_ROUNDS = 2
"""Corrections of every pulley's slip within a sweep."""
NEAR_STANDSTILL_RAD_S = 5.0
"""Below it loads may hold a pulley, and are projected; far more than a step can take away."""


@dataclass
class State:
    """Where a machine is at the end of a step; n pulleys, one column a variant.

    Args:
        pulleys_rad_s: speeds in the direction of travel, shape (n, variants).
        stretch_m: what went into each span without the arm's doing, shape (n, variants).
        arm_rad: angle of the arm.
        arm_rad_s: its speed.
        rotor_rad_s: speed of the rotor.
        wind_rad: twist of the joint's spring.
        crank_rad: angle of the crank.
    """

    pulleys_rad_s: Array
    stretch_m: Array
    arm_rad: Array
    arm_rad_s: Array
    rotor_rad_s: Array
    wind_rad: Array
    crank_rad: Array


class Stepper:
    """Carries a machine through time by fixed steps.

    Args:
        machine: n pulleys and some variants.
        state: where it begins; it is moved on from there.
        step_s: width of a step [s].
        free_crank: whether nothing drives the crank.
        sweeps: how often the blocks are gone round.
    """

    def __init__(
        self, machine: Machine, state: State, step_s: float, *, free_crank: bool = False, sweeps: int = SWEEPS
    ) -> None:
        """Work out what stays the same in every step."""
        self.machine, self.state, self.step_s, self.sweeps = machine, state, step_s, sweeps
        self.free_crank = free_crank
        parameters = machine.parameters
        count, variants = machine.inertias_kg_m2.shape
        self._radii = machine.radii_m
        self._give = machine.rates_n_m * (step_s / 2 + parameters.span_damping_s)
        self._rush = 2 / step_s * machine.inertias_kg_m2
        self._joint_rows()
        self._inverse = inverses(
            self._rush, self._radii[:, 0], self._give[:, 0], self._hold, self._at, free_crank=free_crank
        )
        self._stopping = 0.5 / np.maximum(np.einsum("iiv->iv", self._inverse), 1e-300)
        self._grips = machine.grips.copy()
        self.loads_nm = machine.loads_nm.copy()
        self._load = self.loads_nm.copy()
        if free_crank:
            self.loads_nm[0] = parameters.crank.friction_nm
            self._load[0] = parameters.crank.friction_nm
        self.rotor_nm = np.zeros(variants)
        self._rotor_load = np.zeros(variants)
        self._arm_load = np.zeros(variants)
        self.slip_m_s = np.zeros((count, variants))
        self.slide_rad_s = np.zeros(variants)
        self.joint_nm = np.zeros(variants)
        self._around = np.zeros((count + 1, variants))
        self._belt = np.zeros((count + 1, variants))
        self.tensions_n = np.zeros((count, variants))
        self.unsettled_m_s = 0.0
        self._taken = 0

    def _joint_rows(self) -> None:
        joints, machine, step_s = self.machine.joints, self.machine, self.step_s
        rigid = machine.rigid
        self._at = machine.alternator if machine.alternator is not None else 0
        self._rigid = rigid
        self._spring = np.array([1.0 if j.rigid else j.spring_nm_rad for j in joints])
        damping = np.array([j.damping_nm_s for j in joints])
        self._hold = np.where(rigid, 0.0, self._spring * step_s / 2 + damping)
        self._lower = np.array([-math.inf if j.rigid else j.lower_nm for j in joints])
        self._upper = np.array([math.inf if j.rigid else j.upper_nm for j in joints])
        # While the slider moves, spring and damper relax towards its torque: exactly so over one step.
        self._relaxing = np.array(
            [
                0.0
                if j.rigid or j.damping_nm_s == 0
                else round(math.exp(-step_s * j.spring_nm_rad / j.damping_nm_s), 12)
                for j in joints
            ]
        )
        self._rotor_rush = 2 / step_s * machine.rotor_kg_m2
        self._rotor_stiff = self._rotor_rush + self._hold

    def set_rotor_load(self, torque_nm: float) -> None:
        """Let the alternator take a torque from now on, beside the drag of its bearings."""
        if self.machine.alternator is None:
            return
        whole = torque_nm + self.machine.parameters.rotor_drag_nm
        self.rotor_nm = np.where(self._rigid, 0.0, whole)
        self._rotor_load = self.rotor_nm.copy()
        self.loads_nm[self._at] = np.where(self._rigid, whole, 0.0)
        self._load[self._at] = self.loads_nm[self._at]

    def step(self, crank_rad_s: float) -> None:
        """Go one step further.

        Args:
            crank_rad_s: mean speed of a given crank over the step; not used where the crank is free.
        """
        state, half = self.state, self.step_s / 2
        begun, arm_begun, rotor_begun = state.pulleys_rad_s, state.arm_rad_s, state.rotor_rad_s
        pulleys, arm, rotor = begun.copy(), arm_begun.copy(), rotor_begun.copy()
        if not self.free_crank:
            pulleys[0] = crank_rad_s
        belt_m_s = self._radii[0] * pulleys[0]
        own_n = self.machine.mass_kg_m * belt_m_s * belt_m_s
        resting = self._resting(half)
        if self.machine.paths is not None:
            self._arm_before(arm_begun, own_n)
        pushed = None
        if self.free_crank:
            order, crank = self.machine.parameters.ripple_order or 2.0, self.machine.parameters.crank
            pushed = compression(state.crank_rad + half * pulleys[0], crank.compression_nm, order)
        slow = bool(min(pulleys.min(), rotor.min()) < NEAR_STANDSTILL_RAD_S)
        self._fan = self.machine.parameters.windage_nm_s2 * rotor * np.abs(rotor)
        sliding = bool(self.slip_m_s.any())
        around, before, after = self._around, self._around[:-1], self._around[1:]
        moved, earlier, left = pulleys, pulleys, self.sweeps * (SLIPPING if sliding else 1)
        while left:
            left -= 1
            rate = self._stretching(pulleys, belt_m_s, before, after)
            pull = resting + self._give * self._with_arm(rate, arm)
            after[:] = tension(pull)
            around[0] = after[-1]
            if sliding:
                self._flow(pull, own_n)
            elif not left and slips_now(before, after, own_n, self._grips):
                # Few steps slip, so that is looked for once they have settled, and they settle anew.
                sliding, left = True, self.sweeps * SLIPPING
            turning = self._joint_torque(pulleys[self._at] - rotor)
            if self.machine.paths is not None:
                arm = self._arm_step(arm, arm_begun)
            rotor = self._rotor_step(rotor, rotor_begun, turning, slow=slow)
            moved = self._pulley_step(pulleys, begun, turning, pushed, slow=slow)
            earlier, pulleys = pulleys, moved
        self._taken += 1
        if self._taken % LOOKS_AFTER == 0:
            self.unsettled_m_s = float(np.abs((moved - earlier) * self._radii).max())
        self._finish(pulleys, arm, rotor, belt_m_s)

    def _resting(self, half: float) -> Array:
        """What the spans would pull if nothing moved in this step; reads the arm's table on the way."""
        state, machine = self.state, self.machine
        stretch = state.stretch_m
        if machine.paths is not None:
            stretch = stretch.copy()
            at, count = machine.paths.pulley, len(machine.parts)
            self._ends = [(at - 1) % count, at]
            growth, self._slope, grip = machine.paths.at(state.arm_rad, half * state.arm_rad_s)
            stretch[self._ends[0]] += growth[0]
            stretch[at] += growth[1]
            self._grips[self._ends[0]], self._grips[at], self._grips[(at + 1) % count] = grip
        resting: Array = machine.rest_n + machine.rates_n_m * stretch
        return resting

    def _stretching(self, pulleys: Array, belt_m_s: Array, before: Array, after: Array) -> Array:
        """How fast the spans grow by what belt goes in and out."""
        belt = self._belt
        np.multiply(self._radii, pulleys, out=belt[:-1])
        belt[:-1] += self.slip_m_s
        belt[-1] = belt[0]
        rate: Array = belt[1:] - belt[:-1]
        if self.machine.parameters.creep:
            rate += creep(belt_m_s, before, after, self.machine.stiffness_n)
        return rate

    def _with_arm(self, rate: Array, arm: Array) -> Array:
        if not self.machine.paths is not None:
            return rate
        rate[self._ends] += self._slope * arm
        return rate

    def _flow(self, pull: Array, own_n: Array) -> None:
        """Let the belt slip as far as grip asks, one pulley of one variant after the other."""
        around, give, slips = self._around, self._give[:, 0], self.slip_m_s
        beyond = beyond_grip(around[:-1], around[1:], own_n, self._grips)
        where = np.argwhere((np.maximum(*beyond) > 0) | (slips != 0)).tolist()
        for _ in range(SLIP_ROUNDS):
            for at, column in where:
                sides = (around.item(at, column), around.item(at + 1, column))
                gives, own = (give.item(at - 1), give.item(at)), own_n.item(column)
                was = slips.item(at, column)
                now = slip_now(was, sides, gives, own, self._grips.item(at, column))
                slips[at, column] = now
                for span, change in ((at - 1, gives[0] * (now - was)), (at, gives[1] * (was - now))):
                    pull[span, column] += change
                    around[span % len(give) + 1, column] = max(pull.item(span, column), 0.0)
                around[0, column] = around[-1, column]

    def _joint_torque(self, over: Array) -> Array:
        """What ring gives to rotor, and what the slider lets go."""
        self._over = over
        free = self._spring * self.state.wind_rad + self._hold * over
        self.joint_nm = np.where(self._rigid, 0.0, np.minimum(np.maximum(free, self._lower), self._upper))
        self._beyond = free - self.joint_nm
        return self.joint_nm

    def _arm_before(self, begun: Array, own_n: Array) -> None:
        """What stays the same for the arm in all sweeps of a step."""
        machine, half, place = self.machine, self.step_s / 2, self.state.arm_rad
        slope, paths = self._slope, machine.paths
        rate, rush = machine.arm_rate_nm_rad, machine.arm_kg_m2 / half
        give = self._give[self._ends, :]
        self._arm_stiff = rush + half * rate + (give * slope * slope).sum(axis=0)
        self._arm_push = rush * begun + machine.pretension_nm - rate * place + own_n * (slope[0] + slope[1])
        self._arm_drop = rush + half * rate
        if paths is not None:
            self._arm_low, self._arm_high = (
                (paths.low_rad - place) / self.step_s,
                (paths.high_rad - place) / self.step_s,
            )

    def _arm_step(self, arm: Array, begun: Array) -> Array:
        slope, (first, second) = self._slope, self._ends
        pulled = self._around[first + 1] * slope[0] + self._around[second + 1] * slope[1]
        free = arm + (self._arm_push - self._arm_drop * arm - pulled) / self._arm_stiff
        end = 2 * (free - self._arm_load / self._arm_stiff) - begun
        self._arm_load = held(self._arm_load, end, self._arm_stiff / 2, self.machine.arm_friction_nm)
        further = free - self._arm_load / self._arm_stiff
        stopped: Array = np.minimum(np.maximum(further, self._arm_low), self._arm_high)
        self._at_stop = stopped != further
        return stopped

    def _rotor_step(self, rotor: Array, begun: Array, turning: Array, *, slow: bool) -> Array:
        if self.machine.alternator is None:
            return rotor
        stiff = self._rotor_stiff
        push = self._rotor_rush * (begun - rotor) + turning - self._fan
        if slow:
            end = 2 * (rotor + (push - self._rotor_load) / stiff) - begun
            self._rotor_load = held(self._rotor_load, end, stiff / 2, self.rotor_nm)
        further: Array = rotor + (push - self._rotor_load) / stiff
        return further

    def _pulley_step(self, pulleys: Array, begun: Array, turning: Array, pushed: Array | None, *, slow: bool) -> Array:
        around = self._around
        push = self._rush * (begun - pulleys) + self._radii * (around[1:] - around[:-1]) - self._load
        if self.machine.alternator is not None:
            push[self._at] -= np.where(self._rigid, self._fan, turning)
        if pushed is not None:
            push[0] += pushed
        further: Array = pulleys + np.add.reduce(self._inverse * push[:, None, :], axis=0)
        if slow:
            load = held(self._load, 2 * further - begun, self._stopping, self.loads_nm)
            further = further + np.add.reduce(self._inverse * (self._load - load)[:, None, :], axis=0)
            self._load = load
        return further

    def _finish(self, pulleys: Array, arm: Array, rotor: Array, belt_m_s: Array) -> None:
        state, step_s = self.state, self.step_s
        before, after = self._around[:-1], self._around[1:]
        self.tensions_n = after.copy()
        state.stretch_m = state.stretch_m + step_s * self._stretching(pulleys, belt_m_s, before, after)
        ended = 2 * pulleys - state.pulleys_rad_s
        ended[stuck(self._load, self.loads_nm)] = 0.0
        if not self.free_crank:
            ended[0] = pulleys[0]
        state.pulleys_rad_s = ended
        state.crank_rad = state.crank_rad + step_s * pulleys[0]
        if self.machine.paths is not None:
            state.arm_rad = state.arm_rad + step_s * arm
            holds = stuck(self._arm_load, self.machine.arm_friction_nm) | self._at_stop
            state.arm_rad_s = np.where(holds, 0.0, 2 * arm - state.arm_rad_s)
        slides = self._beyond != 0
        self.slide_rad_s = np.where(slides, self._beyond / np.where(self._hold > 0, self._hold, 1.0), 0.0)
        resting = self.joint_nm / self._spring
        relaxed = resting + (state.wind_rad - resting) * self._relaxing
        state.wind_rad = np.where(slides, relaxed, state.wind_rad + step_s * np.where(self._rigid, 0.0, self._over))
        ended_rotor = 2 * rotor - state.rotor_rad_s
        ended_rotor[stuck(self._rotor_load, self.rotor_nm)] = 0.0
        state.rotor_rad_s = np.where(self._rigid, state.pulleys_rad_s[self._at], ended_rotor)
