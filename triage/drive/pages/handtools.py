"""The bay's arithmetic as pages of text, the same for the command line and for every face.

A page shows the formula, the numbers put in as they were understood, the result, its uncertainty from the ± typed, and
where the formula comes from.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from triage.drive.bay.formula import Formula, FormulaPart
from triage.drive.bay.formulas import FORMULAS, evaluate
from triage.drive.pages.figures_page import NOTICE
from triage.errors import QuantityImplausible, QuantityRefused, QuantityUnclear, TriageError
from triage.knowledge.nearest import nearest
from triage.units import KINDS, Quantity, parse_quantity, say_back, say_quantity, standard_uncertainty

CONVERT = "convert"


@dataclass(frozen=True)
class WorkedFormula:
    """A tool worked out.

    Args:
        formula: which tool.
        typed: the quantities as they were understood; the last parts may be left out.
        value: the result in SI.
        uncertainty: its standard uncertainty in SI; none where no ± was typed.
    """

    formula: Formula
    typed: tuple[Quantity, ...]
    value: float
    uncertainty: float | None


def answer(words: Sequence[str], titles: Mapping[str, str]) -> str:
    """Answer what a person asks of the hand tools with a page of text.

    Args:
        words: nothing for a list, a name for what it takes, a name and quantities for a result.
        titles: titles of sources by their keys.

    Raises:
        TriageError: there is no such tool.
        QuantityRefused: a value cannot be, or there are too many or too few.
    """
    if not words:
        return _list()
    name, *texts = words
    if name == CONVERT:
        return converted(texts)
    formula = tool_named(name)
    return _page(work_out(formula, texts), titles) if texts else _usage(formula, titles)


def tool_named(name: str) -> Formula:
    """Find a tool by its id.

    Raises:
        TriageError: there is no such tool; the hint names the nearest.
    """
    if name not in FORMULAS:
        hint = nearest(name, [*FORMULAS, CONVERT]) or "The command tool alone lists them all."
        raise TriageError(f"There is no tool '{name}'.", hint)
    return FORMULAS[name]


def work_out(formula: Formula, texts: Sequence[str]) -> WorkedFormula:
    """Work a tool out from what was typed.

    Args:
        formula: which tool.
        texts: quantities in the order of its parts.

    Returns:
        the result with its uncertainty.

    Raises:
        QuantityRefused: a value cannot be, or there are too many or too few.
        QuantityUnclear: a value has two readings.

    Source: jcgm-100
    """
    typed = tuple(_typed(formula, texts))
    values = [quantity.value for quantity in typed]
    values += [part.usual for part in formula.parts[len(typed) :] if part.usual is not None]
    spreads = [standard_uncertainty(quantity.spread) for quantity in typed]
    spreads += [0.0] * (len(values) - len(spreads))
    value, uncertainty = evaluate(formula.id, values, spreads)
    return WorkedFormula(formula, typed, value, uncertainty if any(spreads) else None)


def converted(texts: Sequence[str]) -> str:
    """Say a quantity in another unit: the quantity with its unit, and the other unit.

    Raises:
        QuantityRefused: no kind of quantity has both units, no such quantity can be, or something is missing.
    """
    if len(texts) != len(("quantity", "unit")):
        raise QuantityRefused("convert takes a quantity and a unit.", 'Such as: convert "13 in·lbf" "N·m".')
    text, unit = texts
    implausible = None
    for kind in KINDS:
        try:
            quantity = parse_quantity(text, kind)
            said = say_quantity(quantity.value, kind, unit, digits=6)
        except QuantityImplausible as error:  # another kind may reach further
            implausible = implausible or error
        except QuantityRefused:
            continue
        else:
            if not quantity.assumed:
                return f"{say_back(quantity)} = {said}\n"
    raise implausible or QuantityRefused(
        f"“{text}” cannot be said in {unit}.", "Type the unit with the number, both of one kind."
    )


def _list() -> str:
    rows = [(formula.id, formula.title) for formula in FORMULAS.values()]
    rows.append((CONVERT, "One quantity in another unit"))
    return "".join(f"{name:<22}{title}\n" for name, title in rows)


def _usage(formula: Formula, titles: Mapping[str, str]) -> str:
    lines = [formula.title, f"  {formula.text}", "", f"{formula.id} takes, in this order:"]
    lines += [f"  {part.symbol:<3}{_called(part)}" for part in formula.parts]
    return "\n".join([*lines, "", *_foot(formula, titles), ""])


def _called(part: FormulaPart) -> str:
    usual = "" if part.usual is None else f", {say_quantity(part.usual, part.kind)} when left out"
    unit = KINDS[part.kind].usual
    return f"{part.name} ({f'in {unit} when no unit is typed' if unit else 'a number'}{usual})"


def _foot(formula: Formula, titles: Mapping[str, str]) -> list[str]:
    return [f"Source: {titles.get(formula.source, formula.source)}.", f"Limits: {formula.limits}", NOTICE]


def _page(working: WorkedFormula, titles: Mapping[str, str]) -> str:
    formula = working.formula
    lines = [formula.title, f"  {formula.text}", "", *_put_in(working), "", _result(working), ""]
    return "\n".join([*lines, *_foot(formula, titles), ""])


def _typed(formula: Formula, texts: Sequence[str]) -> list[Quantity]:
    needed = sum(part.usual is None for part in formula.parts)
    if not needed <= len(texts) <= len(formula.parts):
        names = ", ".join(part.name for part in formula.parts)
        raise QuantityRefused(f"{formula.id} takes {len(formula.parts)} values, not {len(texts)}.", f"Give {names}.")
    typed = []
    for part, text in zip(formula.parts, texts, strict=False):
        try:
            typed.append(parse_quantity(text, part.kind))
        except (QuantityRefused, QuantityUnclear) as error:
            raise type(error)(f"The {part.name}: {error.message}", error.hint) from error
    return typed


def _put_in(working: WorkedFormula) -> list[str]:
    parts = working.formula.parts
    said = [say_back(quantity) for quantity in working.typed]
    said += [f"{say_quantity(part.usual or 0.0, part.kind)} (usual)" for part in parts[len(working.typed) :]]
    return [f"  {part.symbol:<3}{part.name:<34} {text}" for part, text in zip(parts, said, strict=True)]


def _result(working: WorkedFormula) -> str:
    kind = working.formula.result_kind
    name = working.formula.text.rpartition("=")[0].rpartition(",")[2].strip()
    same_kind = (quantity.unit for quantity in working.typed if quantity.kind == kind)
    unit = "%" if kind == "number" else next(same_kind, "")
    said = f"  {name} = {say_quantity(working.value, kind, unit)}"
    if working.uncertainty is None:
        return f"{said}; how sure it is stays unknown, because no ± was typed"
    width = say_quantity(working.uncertainty, kind, unit, digits=2)
    return f"{said}, standard uncertainty {width} from the ± typed"
