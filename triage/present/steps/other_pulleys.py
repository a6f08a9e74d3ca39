"""What other pulleys and faults would do in this drive, in words and drawn side by side, out of the record."""

from triage.present.text import wrapped
from triage.record.layouts import Predicted, Predictions

HEADING = "What another pulley, or a fault, would do in this drive"
SAME = "What stands together cannot be told apart by these checks."
_BAR = 6
_WIDE = len("one-way-clutch, weak-tensioner") + 1
_NOTHING = "nothing that these checks would read"
_FULL = {"arm": 6.0, "slip": 100.0, "coast": 10.0}
"""Where a bar is full: an arm that flutters, a slip that all hear, a coast that all see; a judgement of ours."""


def alike_lines(predictions: Predictions) -> list[str]:
    """What each would show to the checks, those together that would show the same."""
    groups: dict[tuple[str, ...], list[str]] = {}
    for row in predictions.rows:
        groups.setdefault(row.signs, []).append(_name(row, predictions))
    said = [f"{_sentence(signs)}: {'; '.join(names)}." for signs, names in groups.items()]
    return [f"{HEADING}, worked out {_conditions(predictions)}:", *said, *([SAME] if said else []), *predictions.left]


def side_by_side(predictions: Predictions) -> list[str]:
    """The figures as bars beside each other, a row for each."""
    head = f"{'':<{_WIDE}}{'arm mm':<{_BAR + 7}}{'slips mm':<{_BAR + 9}}coasts s"
    return [head.rstrip(), *(_row(row) for row in predictions.rows)]


def prediction_lines(predictions: Predictions, columns: int) -> list[str]:
    """Both, on lines of at most so many characters where the drawing has room, else the words alone."""
    words = [line for said in alike_lines(predictions) for line in wrapped(said, columns)]
    drawn = side_by_side(predictions)
    return [*words, "", *drawn] if max(map(len, drawn)) <= columns else words


def _conditions(predictions: Predictions) -> str:
    shake = f"with {predictions.ripple_deg:g}° of shake by firing (from memory)"
    slowing = f"{predictions.from_rpm:.0f} r/min by {predictions.slowing_rpm_per_s:.0f} each second"
    return f"{shake}: at idle ({predictions.idle_rpm:.0f} r/min), slowing from {slowing}, and switched off there"


def _sentence(signs: tuple[str, ...]) -> str:
    said = ", ".join(signs) or _NOTHING
    return said[0].upper() + said[1:]


def _name(row: Predicted, predictions: Predictions) -> str:
    if row.fault:
        return f"{row.pulley}, {row.fault}"
    return f"{row.pulley}, as the layout has it" if row.pulley == predictions.fitted else row.pulley


def _row(row: Predicted) -> str:
    name = f"{row.pulley}, {row.fault}" if row.fault else row.pulley
    arm, slip, coast = _bar(row.arm_mm, "arm"), _bar(row.slip_mm, "slip"), _bar(row.coast_s, "coast")
    return f"{name:<{_WIDE}}{arm:<{_BAR + 7}}{slip:<{_BAR + 9}}{coast}".rstrip()


def _bar(value: float | None, kind: str) -> str:
    if value is None:
        return "-"
    cells = round(_BAR * min(value / _FULL[kind], 1.0))
    return f"{value:.1f} {'#' * cells}".rstrip()
