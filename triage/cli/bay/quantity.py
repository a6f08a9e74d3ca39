"""`triage quantity`: how a typed reading is understood, for people and for scripts."""

import argparse
import json
import re
import sys

from triage.cli.bay.typed import typed_text
from triage.errors import EXIT_OK


def add(commands: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Add the command to the command line."""
    parser = commands.add_parser(
        "quantity",
        help="say how a typed reading is understood",
        description="Reads one quantity as a technician types it and says it back.",
    )
    # The parser's own pattern knows -5 but takes -5V for an option.
    parser._negative_number_matcher = re.compile("-[.,]?[0-9]")  # noqa: SLF001
    parser.add_argument("text", metavar="TEXT", type=typed_text, help='the reading, such as "9 in-lb"')
    parser.add_argument(
        "--as",
        dest="kind",
        metavar="KIND",
        required=True,
        help="torque, speed, time, length, distance, voltage, temperature, angle, frequency, force",
    )
    parser.add_argument("--json", action="store_true", help="kind, value and unit in SI; a range gives its middle")
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Print the quantity; what is refused or must be asked back is raised.

    Raises:
        QuantityRefused: not a quantity of this kind, or no such kind.
        QuantityUnclear: it has two readings.
    """
    from triage.units import KINDS, parse_quantity, say_back

    quantity = parse_quantity(args.text, args.kind)
    if args.json:
        fields = {"kind": quantity.kind, "value": quantity.value, "unit": KINDS[quantity.kind].si}
        said = json.dumps(fields, ensure_ascii=False, allow_nan=False)
    else:
        said = say_back(quantity)
    sys.stdout.write(f"{said}\n")
    return EXIT_OK
