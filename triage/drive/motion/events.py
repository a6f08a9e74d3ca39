"""What happens to a drive: five events, each with its speeds, its loads, and the window of its figures.

| event | what happens | figures from |
|---|---|---|
| idle | 4 s steady at idle | the last half |
| sweep | 1 s steady, then from one speed to another at a rate | the ramp |
| slow-down | 1 s steady, then down to idle at a rate; 2 s in all, or what it needs | ramp and 0.1 s more; slip: all |
| load-step | 2 s of idle with 1 N·m at the alternator, then the step; 2.6 s in all | 0.5 s after the step |
| switch-off | crank let go, no torque at the alternator, until everything stands | from 10 ms on |
"""

import math
from dataclasses import dataclass
from typing import Literal, get_args

from triage.drive.motion.laws.crank import Course, Ripple

EventKind = Literal["idle", "sweep", "slow-down", "load-step", "switch-off"]
EVENT_KINDS: tuple[EventKind, ...] = get_args(EventKind)

STEADY_S = 1.0
"""Steady running before a ramp."""
AFTER_RAMP_S = 0.1
"""How long after a ramp its figures still run."""
BEFORE_STEP_S, BEFORE_STEP_NM, STEP_WINDOW_S, STEP_RUN_S = 2.0, 1.0, 0.5, 2.6
IDLE_RUN_S = 4.0
SLOWING_RUN_S = 2.0
SWITCHED_OFF_S = 0.01
"""When the figures of switching off begin."""
LONGEST_S = 60.0
"""Longest run that is taken; a judgement of ours, so that a slip of the keyboard does not run for hours."""


@dataclass(frozen=True)
class Event:
    """One thing that happens to a drive.

    Args:
        kind: which of the five.
        course: mean speed of the crank; where it is free only its start counts.
        ripple: shake of the firings; nothing while the crank is free.
        seconds: length of the run, the most that it may take where it ends by itself [s].
        window_s: from when to when figures are taken [s].
        torques_nm: from when on the alternator takes which torque [s, N·m].
        free_crank: whether nothing drives the crank.
        slip_from_s: from when on slip is counted [s].
    """

    kind: EventKind
    course: Course
    ripple: Ripple
    seconds: float
    window_s: tuple[float, float]
    torques_nm: tuple[tuple[float, float], ...]
    free_crank: bool = False
    slip_from_s: float = 0.0


@dataclass(frozen=True)
class Wish:
    """What may be asked of an event; none means as usual.

    Args:
        rpm: speed of the crank at the start [rad/s].
        to: speed at the end of a sweep [rad/s].
        rate: change of the crank's speed [rad/s²].
        seconds: length of the run [s].
        step_nm: torque of the alternator after a step [N·m].
    """

    rpm: float | None = None
    to: float | None = None
    rate: float | None = None
    seconds: float | None = None
    step_nm: float | None = None


USUAL_RATE = 2000 * math.tau / 60
"""A crank that loses 2000 r/min each second; from memory."""
SWEPT = 600 * math.tau / 60, 1200 * math.tau / 60
"""Between which speeds a sweep tells pulley types apart; from memory."""
SWEEP_RATE = 100 * math.tau / 60
"""A slow sweep; from memory."""
FASTER = 4
"""How many times idle a slow-down begins at."""


def idle(ripple: Ripple, alternator_nm: float, wish: Wish) -> Event:
    """Run steadily, by itself at idle.

    Args:
        ripple: shake of the firings.
        alternator_nm: torque of the alternator [N·m].
        wish: speed and length of the run, in [SI].

    Returns:
        the event, times in [s].

    Source: common-practice
    """
    speed, seconds = wish.rpm or ripple.idle_rad_s, wish.seconds or IDLE_RUN_S
    window = seconds / 2, seconds
    return Event(
        "idle", Course([0.0], [speed]), ripple, seconds, window, ((0.0, alternator_nm),), slip_from_s=window[0]
    )


def sweep(ripple: Ripple, alternator_nm: float, wish: Wish) -> Event:
    """Go slowly from one speed to another.

    Args:
        ripple: shake of the firings.
        alternator_nm: torque of the alternator [N·m].
        wish: speeds and rate, in [SI].

    Returns:
        the event, times in [s].

    Source: common-practice
    """
    start, end = wish.rpm or SWEPT[0], wish.to or SWEPT[1]
    rate = wish.rate or (abs(end - start) / (wish.seconds - STEADY_S) if _room(wish) else SWEEP_RATE)  # type: ignore[operator]
    window = STEADY_S, STEADY_S + abs(end - start) / rate
    course = Course([0.0, *window], [start, start, end])
    return Event("sweep", course, ripple, window[1], window, ((0.0, alternator_nm),), slip_from_s=window[0])


def _room(wish: Wish) -> bool:
    return wish.seconds is not None and wish.seconds > STEADY_S


def slow_down(ripple: Ripple, alternator_nm: float, wish: Wish) -> Event:
    """Let the engine fall to idle.

    Args:
        ripple: shake of the firings.
        alternator_nm: torque of the alternator [N·m].
        wish: speed, rate and length of the run, in [SI].

    Returns:
        the event, times in [s].

    Source: common-practice
    """
    start, rate = wish.rpm or FASTER * ripple.idle_rad_s, wish.rate or USUAL_RATE
    end = wish.to or ripple.idle_rad_s
    ramp = STEADY_S, STEADY_S + abs(start - end) / rate
    window = ramp[0], ramp[1] + AFTER_RAMP_S
    seconds = max(wish.seconds or SLOWING_RUN_S, window[1])
    course = Course([0.0, *ramp], [start, start, end])
    return Event("slow-down", course, ripple, seconds, window, ((0.0, alternator_nm),))


def load_step(ripple: Ripple, alternator_nm: float, wish: Wish) -> Event:
    """Switch a large consumer on.

    Args:
        ripple: shake of the firings.
        alternator_nm: torque after the step where none is asked for [N·m].
        wish: speed, torque and length of the run, in [SI].

    Returns:
        the event, times in [s].

    Source: common-practice
    """
    after = alternator_nm if wish.step_nm is None else wish.step_nm
    window = BEFORE_STEP_S, BEFORE_STEP_S + STEP_WINDOW_S
    seconds = max(wish.seconds or STEP_RUN_S, window[1])
    course = Course([0.0], [wish.rpm or ripple.idle_rad_s])
    torques = (0.0, BEFORE_STEP_NM), (BEFORE_STEP_S, after)
    return Event("load-step", course, ripple, seconds, window, torques, slip_from_s=window[0])


def switch_off(ripple: Ripple, alternator_nm: float, wish: Wish) -> Event:  # noqa: ARG001
    """Switch the engine off.

    Args:
        ripple: not used: firing is over.
        alternator_nm: not used: without a field the alternator takes nothing [N·m].
        wish: speed at the start and the longest that it may take, in [SI].

    Returns:
        the event, times in [s].

    Source: common-practice
    """
    course = Course([0.0], [wish.rpm or ripple.idle_rad_s])
    seconds = wish.seconds or LONGEST_S
    window = SWITCHED_OFF_S, seconds
    return Event(
        "switch-off", course, ripple, seconds, window, ((0.0, 0.0),), free_crank=True, slip_from_s=SWITCHED_OFF_S
    )


EVENTS = {"idle": idle, "sweep": sweep, "slow-down": slow_down, "load-step": load_step, "switch-off": switch_off}
"""How each event is made from ripple, torque of the alternator and wishes."""
