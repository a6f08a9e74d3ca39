"""`triage cases`: recorded cases walked without a person."""

import argparse
import json
import sys
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from triage.errors import EXIT_DISAGREES, EXIT_OK
from triage.present.cleaning import clean_line

if TYPE_CHECKING:
    from triage.app.cases import Walked

_AGREES = {True: "agrees", False: "DISAGREES", None: "not judged"}
_HEADINGS = ("case", "agrees", "concluded", "checks", "minutes")


def add(commands: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Add the command to the command line."""
    parser = commands.add_parser(
        "cases",
        help="walk recorded cases and say what each comes to",
        description="Walks recorded cases without a person. Exit code 1 when one comes to something else than it says.",
    )
    parser.add_argument("files", metavar="FILE", nargs="+", type=Path, help="a list of cases in YAML")
    parser.add_argument("--json", action="store_true", help="everything as one JSON object")
    parser.add_argument(
        "--route",
        choices=("tree", "grown"),
        default="tree",
        help="along the tree, or along a grown route; tree by default",
    )
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Print what each case comes to.

    Raises:
        DocumentFaulty: a file of cases has faults.
    """
    from triage.app.cases import read_cases, walk_case
    from triage.app.own_route import Planner
    from triage.app.shop.shop_file import Shop, accuracies
    from triage.cli.knowing import shipped_knowledge

    knowledge = shipped_knowledge()
    # The shop file stays out of it: a case comes to the same everywhere.
    instruments = accuracies(knowledge, Shop())
    cases = [case for file in args.files for case in read_cases(file, knowledge)]
    planner = Planner() if args.route == "grown" else None
    walked = [walk_case(knowledge, case, instruments, planner)[0] for case in cases]
    sys.stdout.write(_as_json(walked) if args.json else _as_table(walked))
    return EXIT_DISAGREES if any(one.agrees is False for one in walked) else EXIT_OK


def _as_json(walked: "Sequence[Walked]") -> str:
    cases = [
        {
            "id": one.id,
            "concluded": list(one.concluded),
            "likely": [
                {"cause": likely.cause, "probability": likely.probability, "present": likely.present}
                for likely in one.likely
            ],
            "checks": list(one.checks),
            "minutes": one.minutes,
            "agrees": one.agrees,
            "confirmations": one.counts.confirmations,
            "confirmations_job": one.counts.confirmations_job,
            "engine_starts": one.counts.engine_starts,
            "minutes_with_changes": one.counts.minutes_with_changes,
        }
        for one in walked
    ]
    # Escaped to plain letters, so that an id out of a file does nothing to a terminal.
    return json.dumps({"cases": cases, "agreed": _agreed(walked), "total": len(walked)}, allow_nan=False) + "\n"


def _as_table(walked: "Sequence[Walked]") -> str:
    rows = [_HEADINGS, *map(_row, walked)]
    widths = [max(map(len, column)) for column in zip(*rows, strict=True)]
    return "".join([*_lines(rows, widths), f"\n{_agreed(walked)} of {len(walked)} agree.\n"])


def _row(one: "Walked") -> tuple[str, ...]:
    concluded = ", ".join(one.concluded) or "nothing"
    return clean_line(one.id), _AGREES[one.agrees], concluded, str(len(one.checks)), f"{one.minutes:g}"


def _lines(rows: Sequence[tuple[str, ...]], widths: Sequence[int]) -> Iterator[str]:
    for row in rows:
        line = "  ".join(cell.ljust(width) for cell, width in zip(row, widths, strict=True))
        yield f"{line.rstrip()}\n"


def _agreed(walked: "Sequence[Walked]") -> int:
    return sum(one.agrees is True for one in walked)
