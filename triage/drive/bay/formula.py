"""What a formula of the bay is: named parts of a kind each, one result, its source, and how far it can be trusted."""

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Literal

from triage.errors import QuantityRefused

DERIVATIVE_STEP = 1e-6
"""Step of a numeric derivative over the size of its quantity: small against any curve, large against rounding."""


@dataclass(frozen=True)
class FormulaPart:
    """One quantity that goes into a formula.

    Args:
        name: what it is, in words.
        kind: kind of quantity, as units.py names them.
        symbol: how the formula's text writes it.
        sign: which values make sense.
        usual: value in SI that holds when nothing is said; none where it must be said.
    """

    name: str
    kind: str
    symbol: str
    sign: Literal["positive", "not-negative", "any"] = "positive"
    usual: float | None = None


@dataclass(frozen=True)
class Formula:
    """One piece of the bay's arithmetic.

    Args:
        id: how commands and checks name it.
        title: what it is for.
        parts: what goes in, in the order in which `function` takes it.
        result_kind: kind of the result, as units.py names them.
        function: takes and returns SI figures, with speeds in revolutions per second.
        text: the formula as people write it.
        source: key in the list of sources.
        limits: where it stops being true.
    """

    id: str
    title: str
    parts: tuple[FormulaPart, ...]
    result_kind: str
    function: Callable[..., float]
    text: str
    source: str
    limits: str


def result_of(formula: Formula, values: Sequence[float]) -> float:
    """Put values into a formula.

    Args:
        formula: which one.
        values: one a part, in order, in the SI unit of its kind [SI].

    Returns:
        result in the SI unit of the formula's kind [SI].

    Raises:
        QuantityRefused: a value that makes no sense here, or values without a result.

    Source: jcgm-100
    """
    return _apply(formula, [sensible(part, value) for part, value in zip(formula.parts, values, strict=True)])


def uncertainty_of(formula: Formula, values: Sequence[float], uncertainties: Sequence[float]) -> float:
    """Carry standard uncertainties of the parts through a formula, to first order and as independent: √Σ(∂f/∂x·u)².

    Args:
        formula: which one.
        values: one a part, in order, in the SI unit of its kind [SI].
        uncertainties: one a part, standard uncertainty in the same unit, zero where it is exact [SI].

    Returns:
        standard uncertainty of the result [SI].

    Raises:
        QuantityRefused: a value that makes no sense here, or values without a result.

    Source: jcgm-100
    """
    squares = 0.0
    for position, uncertainty in enumerate(uncertainties):
        if uncertainty:
            squares += (_slope(formula, values, position, abs(uncertainty)) * uncertainty) ** 2
    return math.sqrt(squares)


def _slope(formula: Formula, values: Sequence[float], position: int, uncertainty: float) -> float:
    step = DERIVATIVE_STEP * max(abs(values[position]), uncertainty)
    moved = [*values]
    moved[position] += step
    above = _apply(formula, moved)
    moved[position] -= 2 * step
    return (above - _apply(formula, moved)) / (2 * step)


def _apply(formula: Formula, values: Sequence[float]) -> float:
    try:
        result = formula.function(*values)
    except ValueError as error:
        raise QuantityRefused(str(error), "Measure again and compare with the drive.") from error
    except ArithmeticError as error:
        raise QuantityRefused("These values have no result.", "Check the units that were typed.") from error
    if not math.isfinite(result):
        raise QuantityRefused("These values have no result.", "Check the units that were typed.")
    return result


def sensible(part: FormulaPart, value: float) -> float:
    """Insist on a value that a part can have.

    Args:
        part: one of a formula.
        value: in the SI unit of its kind [SI].

    Returns:
        the value [SI].

    Raises:
        QuantityRefused: a value that makes no sense here.

    Source: common-practice
    """
    if part.sign == "positive" and not value > 0:
        raise QuantityRefused(f"The {part.name} must be more than zero.")
    if part.sign == "not-negative" and not value >= 0:
        raise QuantityRefused(f"The {part.name} cannot be less than zero.")
    return value
