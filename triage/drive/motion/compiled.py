"""The steps of `stepping` once more, as one loop that a compiler takes: the same laws, one variant after the other.

Only where the compiler is installed. Sums run in another order than in `stepping`, so figures agree closely and not to
the byte; a test holds both to each other.
"""

import math
from collections.abc import Callable
from dataclasses import fields
from importlib import import_module
from importlib.util import find_spec
from typing import TYPE_CHECKING, Any

import numpy as np

from triage.drive.motion.machine import Array
from triage.drive.motion.stepping import LOOKS_AFTER, NEAR_STANDSTILL_RAD_S, SLIP_ROUNDS, SLIPPING, State, Stepper

if TYPE_CHECKING:
    from triage.drive.motion.stretch import Stretch

# Without the compiler the module can still be looked at; `simulate` does not come here then.
njit: Callable[..., Any] = import_module("numba").njit if find_spec("numba") else lambda **_: lambda function: function
_QUARTER, _TURN, _TERMS = math.pi / 2, math.tau, 12


def compiled(function: Callable[..., Any]) -> Callable[..., Any]:
    """Have a function compiled when it is first called, and kept on disk for later; anew where it cannot be kept."""
    try:
        return njit(cache=True)(function)  # type: ignore[no-any-return]
    except RuntimeError:
        return njit()(function)  # type: ignore[no-any-return]


class CompiledSteps:
    """Carries the variants of a stepper through some steps at once, each by itself.

    Args:
        stepper: with the machine, its state and what stays the same in every step; its state is moved on.
    """

    def __init__(self, stepper: Stepper) -> None:
        """Lay out what stays the same."""
        self._stepper, machine = stepper, stepper.machine
        # What is written into must be nobody else's.
        stepper.state = State(*(getattr(stepper.state, field.name).copy() for field in fields(State)))
        paths = machine.paths
        self._cubics = (
            np.ascontiguousarray(np.moveaxis(paths.cubics, 2, 0))
            if paths
            else np.zeros((len(machine.variants), 4, 5, 1))
        )
        self._whole = (
            len(machine.parts),
            stepper.sweeps,
            stepper.free_crank,
            -1 if machine.alternator is None else machine.alternator,
            -1 if paths is None else paths.pulley,
            machine.parameters.creep,
        )
        self._figures = (
            stepper.step_s,
            machine.mass_kg_m,
            machine.rest_n,
            machine.stiffness_n,
            machine.parameters.windage_nm_s2,
            machine.parameters.crank.compression_nm,
            machine.parameters.ripple_order or 2.0,
            machine.rotor_kg_m2,
            machine.arm_kg_m2,
            paths.low_rad if paths else 0.0,
            paths.high_rad if paths else 0.0,
            paths.cell_rad if paths else 1.0,
        )
        self._radii = np.ascontiguousarray(machine.radii_m[:, 0])
        self._rates = np.ascontiguousarray(machine.rates_n_m[:, 0])

    def carry(self, speeds: Array, kept: "Stretch") -> float:
        """Go so many steps further as there are speeds of the crank.

        Args:
            speeds: mean speed of the crank in each step [rad/s].
            kept: rows to be filled, as `running.Stretch` has them.

        Returns:
            what the last sweep of a step still changed in a rim's speed, the most of all steps looked at [m/s].
        """
        unsettled = [self._carry_one(column, speeds, kept) for column in range(len(self._stepper.machine.variants))]
        return max(unsettled) if all(map(math.isfinite, unsettled)) else math.inf

    def _carry_one(self, column: int, speeds: Array, kept: "Stretch") -> float:
        stepper, state, machine = self._stepper, self._stepper.state, self._stepper.machine
        joint = stepper.joint_rows(column)
        wide = np.array(
            [
                state.pulleys_rad_s[:, column],
                state.stretch_m[:, column],
                stepper.loads_on_nm[:, column],
                stepper.slip_m_s[:, column],
                stepper.grips[:, column],
            ]
        )
        narrow = np.array([getattr(state, name)[column] for name in _NARROW])
        held = np.array([stepper.rotor_load_nm[column], stepper.arm_load_nm[column]])
        around = np.ascontiguousarray(stepper.around_n[:, column])
        arm = (machine.pretension_nm[column], machine.arm_rate_nm_rad[column], machine.arm_friction_nm[column])
        limits = np.ascontiguousarray(stepper.loads_nm[:, column])
        out = [np.empty((len(speeds), len(self._radii))) for _ in range(3)]
        thin = np.empty((len(speeds), 4))
        unsettled = _carry(
            self._whole,
            self._figures,
            joint,
            tuple(map(float, arm)),
            (self._radii, self._rates, stepper.give[:, 0].copy(), stepper.rush[:, column].copy()),
            np.ascontiguousarray(stepper.inverse[:, :, column]),
            (stepper.stopping[:, column].copy(), limits, float(stepper.rotor_nm[column])),
            self._cubics[column],
            speeds,
            (wide, narrow, held, around),
            (out[0], out[1], out[2], thin),
        )
        state.pulleys_rad_s[:, column], state.stretch_m[:, column] = wide[0], wide[1]
        stepper.loads_on_nm[:, column], stepper.slip_m_s[:, column], stepper.grips[:, column] = (
            wide[2],
            wide[3],
            wide[4],
        )
        for name, value in zip(_NARROW, narrow, strict=True):
            getattr(state, name)[column] = value
        stepper.rotor_load_nm[column], stepper.arm_load_nm[column] = held
        stepper.around_n[:, column] = around
        kept.tensions_n[:, :, column], kept.slip_m_s[:, :, column], kept.pulleys_rad_s[:, :, column] = out
        kept.arm_rad[:, column], kept.rotor_rad_s[:, column] = thin[:, 0], thin[:, 1]
        kept.slide_rad_s[:, column], kept.joint_nm[:, column] = thin[:, 2], thin[:, 3]
        return float(unsettled)


_NARROW = ("arm_rad", "arm_rad_s", "rotor_rad_s", "wind_rad", "crank_rad")


@compiled
def _sine(angle):  # type: ignore[no-untyped-def]
    turned = angle - _TURN * np.round(angle / _TURN)
    if turned > _QUARTER:
        turned = math.pi - turned
    elif turned < -_QUARTER:
        turned = -math.pi - turned
    square, summed = turned * turned, 1.0
    for term in range(_TERMS, 0, -1):
        summed = 1.0 - square / (2 * term * (2 * term + 1)) * summed
    return turned * summed


@compiled
def _held(torque, end, stopping, limit):  # type: ignore[no-untyped-def]
    return min(max(torque + end * stopping, -limit), limit)


@compiled
def _slip(slip, before, after, give_before, give_after, own, grip):  # type: ignore[no-untyped-def]
    holding = grip - 1.0
    forward = after - before - holding * max(before - own, 0.0)
    backward = before - after - holding * max(after - own, 0.0)
    ahead = max(slip, 0.0) + forward / (give_after + grip * give_before)
    back = max(-slip, 0.0) + backward / (give_before + grip * give_after)
    return max(ahead, 0.0) - max(back, 0.0)


@compiled
def _must_slip(n, around, own, grips):  # type: ignore[no-untyped-def]
    for i in range(n):
        before, after = around[i], around[i + 1]
        pressing = max(min(before, after) - own, 0.0)
        if abs(after - before) - (grips[i] - 1.0) * pressing > 0:
            return True
    return False


@compiled
def _flow(n, pull, around, slips, gives, own, grips, flowing):  # type: ignore[no-untyped-def]
    for i in range(n):
        before, after = around[i], around[i + 1]
        holding = grips[i] - 1.0
        forward = after - before - holding * max(before - own, 0.0)
        backward = before - after - holding * max(after - own, 0.0)
        flowing[i] = max(forward, backward) > 0 or slips[i] != 0
    for _ in range(SLIP_ROUNDS):
        for i in range(n):
            if not flowing[i]:
                continue
            first = (i - 1) % n
            was = slips[i]
            now = _slip(was, around[i], around[i + 1], gives[first], gives[i], own, grips[i])
            slips[i] = now
            pull[first] += gives[first] * (now - was)
            around[first + 1] = max(pull[first], 0.0)
            pull[i] += gives[i] * (was - now)
            around[i + 1] = max(pull[i], 0.0)
            around[0] = around[n]


@compiled
def _stretching(n, radii, pulleys, slips, around, belt, stiffness, creep, rate):  # type: ignore[no-untyped-def]
    for i in range(n):
        after = (i + 1) % n
        rate[i] = (radii[after] * pulleys[after] + slips[after]) - (radii[i] * pulleys[i] + slips[i])
        if creep:
            rate[i] += max(belt, 0.0) * (around[i] - around[i + 1]) / stiffness


@compiled
def _carry(whole, figures, joint, arm_own, drive, inverse, limits, cubics, speeds, moving, out):  # type: ignore[no-untyped-def]
    n, sweeps, free_crank, at, tensioner, creep = whole
    step, mass, rest, stiffness, windage, peak, order, rotor_inertia, arm_inertia, low, high, cell_rad = figures
    spring, hold, lower, upper, relaxing, rigid = joint
    pretension, arm_rate, arm_friction = arm_own
    radii, rates, gives, rush = drive
    stopping, loads, rotor_limit = limits
    wide, narrow, held, around = moving
    begun, stretch, load, slips, grips = wide[0], wide[1], wide[2], wide[3], wide[4]
    arm_place, arm_begun, rotor_begun, wind, crank = narrow[0], narrow[1], narrow[2], narrow[3], narrow[4]
    rotor_load, arm_load = held[0], held[1]
    half = step / 2
    ring = max(at, 0)
    pulleys, moved = np.empty(n), np.empty(n)
    resting, rate, pull, push = np.empty(n), np.empty(n), np.empty(n), np.empty(n)
    flowing = np.zeros(n, np.bool_)
    before_arm, after_arm = (tensioner - 1) % n, tensioner
    slope0, slope1 = 0.0, 0.0
    arm_stiff, arm_push, arm_drop, arm_low, arm_high = 1.0, 0.0, 0.0, 0.0, 0.0
    rotor_rush = 2 / step * rotor_inertia
    rotor_stiff = rotor_rush + hold
    worst = 0.0
    for taken in range(len(speeds)):
        for i in range(n):
            pulleys[i] = begun[i]
        arm, rotor = arm_begun, rotor_begun
        if not free_crank:
            pulleys[0] = speeds[taken]
        belt = radii[0] * pulleys[0]
        own = mass * belt * belt
        for i in range(n):
            resting[i] = stretch[i]
        if tensioner >= 0:
            place = int((arm_place - low) / cell_rad) if math.isfinite(arm_place) else 0
            cell = min(max(place, 0), cubics.shape[2] - 1)
            over = arm_place - (low + cell * cell_rad)
            further = over + half * arm_begun
            c0, c1, c2, c3 = cubics[0, :, cell], cubics[1, :, cell], cubics[2, :, cell], cubics[3, :, cell]
            resting[before_arm] += c0[0] + over * (c1[0] + over * (c2[0] + over * c3[0]))
            resting[after_arm] += c0[1] + over * (c1[1] + over * (c2[1] + over * c3[1]))
            slope0 = c1[0] + further * (2 * c2[0] + further * (3 * c3[0]))
            slope1 = c1[1] + further * (2 * c2[1] + further * (3 * c3[1]))
            grips[before_arm] = c0[2] + further * (c1[2] + further * (c2[2] + further * c3[2]))
            grips[after_arm] = c0[3] + further * (c1[3] + further * (c2[3] + further * c3[3]))
            grips[(tensioner + 1) % n] = c0[4] + further * (c1[4] + further * (c2[4] + further * c3[4]))
            arm_rush = arm_inertia / half
            arm_drop = arm_rush + half * arm_rate
            arm_stiff = arm_drop + gives[before_arm] * slope0 * slope0 + gives[after_arm] * slope1 * slope1
            arm_push = arm_rush * arm_begun + pretension - arm_rate * arm_place + own * (slope0 + slope1)
            arm_low, arm_high = (low - arm_place) / step, (high - arm_place) / step
        lowest = rotor
        for i in range(n):
            resting[i] = rest + rates[i] * resting[i]
            lowest = min(lowest, pulleys[i])
        pushed = -peak * _sine(order * (crank + half * pulleys[0])) if free_crank else 0.0
        slow = lowest < NEAR_STANDSTILL_RAD_S
        fan = windage * rotor * abs(rotor)
        sliding = False
        for i in range(n):
            sliding = sliding or slips[i] != 0
        left = sweeps * (SLIPPING if sliding else 1)
        twist, beyond, torque, at_stop, changed = 0.0, 0.0, 0.0, False, 0.0
        while left:
            left -= 1
            _stretching(n, radii, pulleys, slips, around, belt, stiffness, creep, rate)
            if tensioner >= 0:
                rate[before_arm] += slope0 * arm
                rate[after_arm] += slope1 * arm
            for i in range(n):
                pull[i] = resting[i] + gives[i] * rate[i]
                around[i + 1] = max(pull[i], 0.0)
            around[0] = around[n]
            if sliding:
                _flow(n, pull, around, slips, gives, own, grips, flowing)
            elif left == 0 and _must_slip(n, around, own, grips):
                sliding, left = True, sweeps * SLIPPING
            twist = pulleys[ring] - rotor
            free = spring * wind + hold * twist
            torque = 0.0 if rigid else min(max(free, lower), upper)
            beyond = free - torque
            if tensioner >= 0:
                pulled = around[before_arm + 1] * slope0 + around[after_arm + 1] * slope1
                loose = arm + (arm_push - arm_drop * arm - pulled) / arm_stiff
                arm_load = _held(arm_load, 2 * (loose - arm_load / arm_stiff) - arm_begun, arm_stiff / 2, arm_friction)
                further = loose - arm_load / arm_stiff
                arm = min(max(further, arm_low), arm_high)
                at_stop = arm != further
            if at >= 0:
                shove = rotor_rush * (rotor_begun - rotor) + torque - fan
                if slow:
                    end = 2 * (rotor + (shove - rotor_load) / rotor_stiff) - rotor_begun
                    rotor_load = _held(rotor_load, end, rotor_stiff / 2, rotor_limit)
                rotor = rotor + (shove - rotor_load) / rotor_stiff
            for i in range(n):
                push[i] = rush[i] * (begun[i] - pulleys[i]) + radii[i] * (around[i + 1] - around[i]) - load[i]
            if at >= 0:
                push[at] -= fan if rigid else torque
            push[0] += pushed
            changed = 0.0
            for i in range(n):
                summed = 0.0
                for j in range(n):
                    summed += inverse[i, j] * push[j]
                moved[i] = pulleys[i] + summed
            if slow:
                for i in range(n):
                    was = load[i]
                    load[i] = _held(was, 2 * moved[i] - begun[i], stopping[i], loads[i])
                    push[i] = was - load[i]
                for i in range(n):
                    for j in range(n):
                        moved[i] += inverse[i, j] * push[j]
            for i in range(n):
                changed = max(changed, abs(moved[i] - pulleys[i]) * radii[i])
                pulleys[i] = moved[i]
        if (taken + 1) % LOOKS_AFTER == 0:
            if not math.isfinite(changed):
                return math.inf
            worst = max(worst, changed)
        _stretching(n, radii, pulleys, slips, around, belt, stiffness, creep, rate)
        for i in range(n):
            out[0][taken, i], out[1][taken, i] = around[i + 1], slips[i]
            stretch[i] += step * rate[i]
            ended = 2 * pulleys[i] - begun[i]
            begun[i] = 0.0 if abs(load[i]) < loads[i] else ended
        if not free_crank:
            begun[0] = pulleys[0]
        crank += step * pulleys[0]
        if tensioner >= 0:
            arm_place += step * arm
            arm_begun = 0.0 if at_stop or abs(arm_load) < arm_friction else 2 * arm - arm_begun
        slide = 0.0
        if beyond != 0:
            slide = beyond / (hold if hold > 0 else 1.0)
            settled = torque / spring
            wind = settled + (wind - settled) * relaxing
        elif not rigid:
            wind += step * twist
        ended = 2 * rotor - rotor_begun
        rotor_begun = begun[ring] if rigid else (0.0 if abs(rotor_load) < rotor_limit else ended)
        for i in range(n):
            out[2][taken, i] = begun[i]
        out[3][taken, 0], out[3][taken, 1], out[3][taken, 2], out[3][taken, 3] = arm_place, rotor_begun, slide, torque
    narrow[0], narrow[1], narrow[2], narrow[3], narrow[4] = arm_place, arm_begun, rotor_begun, wind, crank
    held[0], held[1] = rotor_load, arm_load
    return worst
