"""What another pulley and the usual faults would do in this drive, in the events that the checks of a session make."""

import math
from collections.abc import Callable

from triage.drive.layout.assembly import Drive, assemble
from triage.drive.motion.events import EventKind, Wish
from triage.drive.motion.figures import DIGITS
from triage.drive.motion.parameters import parameters_of
from triage.drive.motion.signs import arm_words, coast_words, lag, lag_words, slip_words
from triage.drive.motion.simulating import USUAL_RIPPLE_RAD, Answer, Question, compared, fitted, simulate
from triage.errors import TriageError
from triage.record.layout import Layout
from triage.record.layouts import Predicted, Predictions

SLOWING_RPM_PER_S = 4000.0
"""An engine whose pedal is let go at raised speed; from memory."""
FROM_RPM = 2500.0
"""Check snap-deceleration raises the engine to below 3000 r/min, coast-down switches off at 2000 to 2500."""
IDLE_S = 1.5
"""Long enough for some twenty firings in the window; a judgement of ours."""
_RAD_S = math.tau / 60
EVENTS: tuple[tuple[EventKind, Wish, float], ...] = (
    ("idle", Wish(seconds=IDLE_S), 0.3),
    ("slow-down", Wish(rpm=FROM_RPM * _RAD_S, rate=SLOWING_RPM_PER_S * _RAD_S, seconds=IDLE_S), 0.7),
    ("switch-off", Wish(rpm=FROM_RPM * _RAD_S), 1.0),
)
"""What is run, and how much of the whole is done behind it, about."""


def predictions(layout: Layout, progress: Callable[[float], None]) -> Predictions:
    """Carry four pulley types and the usual faults through idling, slowing and switching off.

    Args:
        layout: of the drive.
        progress: told again and again how much is done, from 0 to 1; whatever it raises stops the work [1].

    Returns:
        what each would do, as the checks would read it.

    Raises:
        TriageError: the layout does not say enough, or no engine turns so.

    Source: acary-2008, from-memory
    """
    drive, parameters = assemble(layout), parameters_of(layout)
    if drive.alternator is None:
        raise TriageError("The layout has no alternator, so there is no pulley type to try.")
    variants, left = compared(drive, parameters)
    answers, begun = [], 0.0
    for kind, wish, ended in EVENTS:
        told = _part(progress, begun, ended)
        answers.append(simulate(drive, parameters, Question(kind, variants, wish), told))
        begun = ended
    return Predictions(
        fitted=fitted(drive),
        idle_rpm=_rounded((drive.idle_rev_s or 0.0) * 60),
        from_rpm=FROM_RPM,
        slowing_rpm_per_s=SLOWING_RPM_PER_S,
        ripple_deg=_rounded(math.degrees(USUAL_RIPPLE_RAD)),
        rows=tuple(_row(drive, answers, column) for column in range(len(variants))),
        left=left,
    )


def _part(progress: Callable[[float], None], begun: float, ended: float) -> Callable[[float], None]:
    return lambda share: progress(begun + (ended - begun) * share)


def _row(drive: Drive, answers: list[Answer], column: int) -> Predicted:
    idle, slowing, stopping = (answer.figures[column] for answer in answers)
    variant = answers[0].machine.variants[column]
    lags = lag(idle, float(answers[0].series.ring_rpm[:, column].mean()))
    arm_mm = idle.arm_swing_mm if drive.arm else None
    words = (
        "" if arm_mm is None else arm_words(arm_mm),
        lag_words(lags),
        slip_words(slowing.slip_mm),
        coast_words(stopping),
    )
    return Predicted(
        pulley=variant.pulley,
        fault=variant.fault,
        arm_mm=None if arm_mm is None else _rounded(arm_mm),
        lag=None if lags is None else _rounded(lags),
        slip_mm=_rounded(slowing.slip_mm),
        coast_s=None if stopping.coast_s is None else _rounded(stopping.coast_s),
        signs=tuple(word for word in words if word),
    )


def _rounded(value: float) -> float:
    return float(f"{value:.{DIGITS}g}")
