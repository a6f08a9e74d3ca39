"""`triage tool`: the bay's arithmetic, with formula, numbers, result, uncertainty and source."""

import argparse
import json
import re
import sys

from triage.cli.bay.typed import typed_text
from triage.errors import EXIT_OK, QuantityRefused
from triage.present.cleaning import clean


def add(commands: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Add the command to the command line."""
    parser = commands.add_parser(
        "tool",
        help="work out torques with adapters, angles, slip, span tension, bearing rates",
        description="Without a name: lists the tools. With a name alone: says what it takes, in order.",
        epilog="The figures explain. The vehicle maker's procedure decides.",
    )
    # The parser's own pattern knows -5 but takes "-2mm" for an option.
    parser._negative_number_matcher = re.compile("-[.,]?[0-9]")  # noqa: SLF001
    which, example = "which tool, such as adapter-setting", 'quantities in order, such as "100 ± 4 lbf·in"'
    parser.add_argument("name", metavar="NAME", nargs="?", type=typed_text, help=which)
    parser.add_argument("values", metavar="VALUE", nargs="*", type=typed_text, help=example)
    parser.add_argument("--json", action="store_true", help="result and uncertainty of a tool in SI; not for convert")
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Work a tool out and print how.

    Raises:
        TriageError: there is no such tool.
        QuantityRefused: a value cannot be, or there are too many or too few.
    """
    from triage.drive.pages.handtools import answer

    if args.json and args.values:
        sys.stdout.write(_as_json(args.name, args.values))
    else:
        words = [args.name, *args.values] if args.name else []
        sys.stdout.write(clean(answer(words, _titles())))
    return EXIT_OK


def _as_json(name: str, texts: list[str]) -> str:
    from triage.drive.pages.handtools import CONVERT, tool_named, work_out
    from triage.units import KINDS

    if name == CONVERT:
        raise QuantityRefused("convert has no --json: its result is in the unit asked for.", "Leave --json out.")
    working = work_out(tool_named(name), texts)
    fields = {
        "tool": working.formula.id,
        "value": working.value,
        "uncertainty": working.uncertainty,
        "unit": KINDS[working.formula.result_kind].si,
    }
    return json.dumps(fields, ensure_ascii=False, allow_nan=False) + "\n"


def _titles() -> dict[str, str]:
    from triage.documents import Model, build
    from triage.documents.reading import read_document
    from triage.knowledge.models import Source
    from triage.knowledge.shipped import trees_folder

    class Sources(Model):
        sources: tuple[Source, ...]

    listed = build(read_document(trees_folder() / "sources.yaml"), Sources).sources
    return {source.id: source.title for source in listed}
