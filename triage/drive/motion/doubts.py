"""Which figures of a run hang on the width of its steps: half of it is tried, where that costs little."""

import math

from triage.drive.motion.events import Event
from triage.drive.motion.figures import Figures, Watch
from triage.drive.motion.machine import Variant
from triage.drive.motion.running import UnsettledError, carried
from triage.drive.motion.simulating import Answer

SHARE = 0.01
"""A change by less is none; a judgement of ours."""
LEAST = {"tension": 5.0, "arm": 0.05, "rotor": 2.0, "overrun": 0.011, "ring": 0.011, "coast": 0.011, "slip": 0.05}
"""Nor is one by less than this, in the figure's own unit, by how its name begins; for times 10 ms and a few steps. A
judgement of ours."""


def doubts(answer: Answer) -> tuple[str, ...] | None:
    """Say which figures half a step changes.

    Args:
        answer: what came out of a run.

    Returns:
        a sentence for each variant that has such figures; none where steps are too slow for trying it.

    Source: from-memory
    """
    if answer.kernel != "numba":
        return None
    try:
        finer = _half(answer, answer.event)
    except UnsettledError:
        return ("With half the steps nothing settles: none of these figures is sure.",)
    pairs = zip(answer.machine.variants, answer.figures, finer, strict=True)
    return tuple(filter(None, (_sentence(variant, one, other) for variant, one, other in pairs)))


def _half(answer: Answer, event: Event) -> tuple[Figures, ...]:
    watch = Watch(answer.machine, event, answer.step_s / 2)
    for stretch in carried(answer.machine, event, answer.step_s / 2, kernel=answer.kernel):
        watch.take(stretch)
    return watch.figures()


def changed(coarse: Figures, fine: Figures) -> dict[str, tuple[float | None, float | None]]:
    """Find the figures that are not the same.

    Args:
        coarse: of a run.
        fine: of the same run with other steps.

    Returns:
        both by the names of the figures, with their units in them [SI].

    Source: from-memory
    """
    one, other = coarse.published(), fine.published()
    return {
        name: (_number(value), _number(other[name]))
        for name, value in one.items()
        if name.split("_")[0] in LEAST and not _alike(name, value, other[name])
    }


def _alike(name: str, one: object, other: object) -> bool:
    if isinstance(one, float) and isinstance(other, float):
        return math.isclose(one, other, rel_tol=SHARE, abs_tol=LEAST[name.split("_")[0]])
    return isinstance(one, dict) or one is other


def _number(value: object) -> float | None:
    return value if isinstance(value, float) else None


def _sentence(variant: Variant, coarse: Figures, fine: Figures) -> str:
    apart = changed(coarse, fine)
    if not apart:
        return ""
    named = f"{variant.pulley}, {variant.fault}" if variant.fault else variant.pulley
    said = ", ".join(f"{name} {_said(one)} becomes {_said(other)}" for name, (one, other) in apart.items())
    return f"Not sure, for half the step changes it ({named}): {said}."


def _said(value: float | None) -> str:
    return "unknown" if value is None else f"{value:g}"
