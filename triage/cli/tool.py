"""`triage tool`: the bay's arithmetic, with formula, numbers, result, uncertainty and source."""

import argparse
import json
import re
import sys
from typing import TYPE_CHECKING

from triage.errors import EXIT_OK, QuantityRefused, QuantityUnclear, TriageError

if TYPE_CHECKING:
    from collections.abc import Iterable

    from triage.drive.formula import Formula, Part
    from triage.units import Quantity

_CONVERT = "convert"
_LIST_HINT = "triage tool alone lists them all."


def add(commands: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Add the command to the command line."""
    parser = commands.add_parser(
        "tool",
        help="work out torques with adapters, angles, slip, span tension, bearing rates",
        description="Without a name: lists the tools. With a name alone: says what it takes, in order.",
        epilog="The figures explain. The vehicle maker's procedure decides.",
    )
    # The parser's own pattern knows -5 but takes "-2 mm" for an option.
    parser._negative_number_matcher = re.compile("-[.,]?[0-9]")  # noqa: SLF001
    parser.add_argument("name", metavar="NAME", nargs="?", help="which tool, such as adapter-setting")
    parser.add_argument("values", metavar="VALUE", nargs="*", help='quantities in order, such as "100 ± 4 lbf·in"')
    parser.add_argument("--json", action="store_true", help="result and standard uncertainty in SI")
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Work a tool out and print how.

    Raises:
        TriageError: there is no such tool, or it takes other values.
        QuantityRefused: a value cannot be.
    """
    from triage.drive.formulas import FORMULAS

    if args.name is None:
        said = _list(FORMULAS.values())
    elif args.name == _CONVERT:
        said = _converted(args.values)
    else:
        formula = FORMULAS.get(args.name)
        if formula is None:
            from triage.knowledge.nearest import nearest

            raise TriageError(
                f"There is no tool '{args.name}'.", nearest(args.name, [*FORMULAS, _CONVERT]) or _LIST_HINT
            )
        said = _worked(formula, args.values, as_json=args.json) if args.values else _usage(formula)
    sys.stdout.write(said)
    return EXIT_OK


def _list(formulas: "Iterable[Formula]") -> str:
    rows = [(formula.id, formula.title) for formula in formulas]
    rows.append((_CONVERT, "One quantity in another unit"))
    return "".join(f"{name:<22}{title}\n" for name, title in rows)


def _usage(formula: "Formula") -> str:
    lines = [formula.title, f"  {formula.text}", "", f"triage tool {formula.id} takes, in this order:"]
    lines += [f"  {part.symbol:<3}{_called(part)}" for part in formula.parts]
    return "\n".join([*lines, "", *_foot(formula), ""])


def _called(part: "Part") -> str:
    from triage.units import KINDS, say_quantity

    usual = "" if part.usual is None else f", {say_quantity(part.usual, part.kind)} when left out"
    unit = KINDS[part.kind].usual
    return f"{part.name} ({f'in {unit} when no unit is typed' if unit else 'a number'}{usual})"


def _foot(formula: "Formula") -> list[str]:
    return [
        f"Source: {_source_title(formula.source)}.",
        f"Limits: {formula.limits}",
        "The figures explain. The vehicle maker's procedure decides.",
    ]


def _source_title(key: str) -> str:
    from triage.documents import Model, build, read_document
    from triage.knowledge.models import Source
    from triage.knowledge.shipped import trees_folder

    class Sources(Model):
        sources: tuple[Source, ...]

    listed = build(read_document(trees_folder() / "sources.yaml"), Sources).sources
    return next((source.title for source in listed if source.id == key), key)


def _worked(formula: "Formula", texts: list[str], *, as_json: bool) -> str:
    from triage.drive.formula import standard_uncertainty
    from triage.drive.formulas import evaluate

    typed = _typed(formula, texts)
    values = [quantity.value for quantity in typed]
    values += [part.usual for part in formula.parts[len(typed) :] if part.usual is not None]
    spreads = [standard_uncertainty(quantity.spread) for quantity in typed]
    spreads += [0.0] * (len(values) - len(spreads))
    value, uncertainty = evaluate(formula.id, values, spreads)
    if as_json:
        from triage.units import KINDS

        fields = {
            "tool": formula.id,
            "value": value,
            "uncertainty": uncertainty if any(spreads) else None,
            "unit": KINDS[formula.result_kind].si,
        }
        return json.dumps(fields, ensure_ascii=False, allow_nan=False) + "\n"
    lines = [formula.title, f"  {formula.text}", "", *_put_in(formula, typed)]
    return "\n".join([*lines, "", _result(formula, typed, value, uncertainty), "", *_foot(formula), ""])


def _typed(formula: "Formula", texts: list[str]) -> "list[Quantity]":
    from triage.units import parse_quantity

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


def _put_in(formula: "Formula", typed: "list[Quantity]") -> list[str]:
    from triage.units import say_back, say_quantity

    said = [say_back(quantity) for quantity in typed]
    said += [f"{say_quantity(part.usual or 0.0, part.kind)} (usual)" for part in formula.parts[len(typed) :]]
    return [f"  {part.symbol:<3}{part.name:<34} {text}" for part, text in zip(formula.parts, said, strict=True)]


def _result(formula: "Formula", typed: "list[Quantity]", value: float, uncertainty: float) -> str:
    from triage.units import say_quantity

    name = formula.text.rpartition("=")[0].rpartition(",")[2].strip()
    same_kind = (quantity.unit for quantity in typed if quantity.kind == formula.result_kind)
    unit = "%" if formula.result_kind == "number" else next(same_kind, "")
    said = f"  {name} = {say_quantity(value, formula.result_kind, unit)}"
    if uncertainty:
        width = say_quantity(uncertainty, formula.result_kind, unit, digits=2)
        return f"{said}, standard uncertainty {width} from the ± typed"
    return f"{said}; how sure it is stays unknown, because no ± was typed"


def _converted(texts: list[str]) -> str:
    from triage.units import KINDS, parse_quantity, say_back, say_quantity

    if len(texts) != len(("text", "unit")):
        raise QuantityRefused("convert takes a quantity and a unit.", 'Such as: triage tool convert "13 in·lbf" "N·m".')
    text, unit = texts
    for kind in KINDS:
        try:
            quantity = parse_quantity(text, kind)
            said = say_quantity(quantity.value, kind, unit, digits=6)
        except QuantityRefused:
            continue
        if not quantity.assumed:
            return f"{say_back(quantity)} = {said}\n"
    raise QuantityRefused(f"“{text}” cannot be said in {unit}.", "Type the unit with the number, both of one kind.")
