"""What the commands for authors share: recorded cases as asked for, names that must be known, a shop's own figures."""

import argparse
from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Final

from triage.errors import TriageError

if TYPE_CHECKING:
    from triage.app.cases import Case
    from triage.knowledge.models import Knowledge
    from triage.record.readings import AccuracyUsed
    from triage.record.weights import Weights

FLOOR: Final = 1e-3
"""Share of vehicles below which ways are drawn, so that an answer comes within seconds."""


def add_cases(parser: argparse.ArgumentParser, told_of_json: str) -> None:
    """Let files of cases be named, and JSON be asked for."""
    parser.add_argument("files", metavar="FILE", nargs="+", type=Path, help="a list of cases in YAML")
    parser.add_argument("--json", action="store_true", help=told_of_json)


def cases_of(args: argparse.Namespace) -> "tuple[Knowledge, dict[str, AccuracyUsed], list[Case]]":
    """The cases asked for, and by what they are judged.

    Raises:
        DocumentFaulty: a file of cases has faults.
    """
    from triage.app.cases import read_cases
    from triage.app.shop.shop_file import Shop, accuracies
    from triage.cli.knowing import shipped_knowledge

    knowledge = shipped_knowledge()
    # The shop file stays out of it: a case comes to the same everywhere.
    return knowledge, accuracies(knowledge, Shop()), [one for file in args.files for one in read_cases(file, knowledge)]


def add_shop(parser: argparse.ArgumentParser) -> None:
    """Let the shop's own figures be asked for."""
    parser.add_argument("--shop", action="store_true", help="by the shop file's own minutes and losses")


def weights_of(args: argparse.Namespace, knowledge: "Knowledge") -> "Weights":
    """What checks take and wrong ends cost: the shop's own figures where they were asked for."""
    from triage.app.shop.shop_file import read_shop
    from triage.record.weights import Weights
    from triage.store import shop_file_path

    return read_shop(shop_file_path(), knowledge).weights if args.shop else Weights()


def as_table(rows: Sequence[Sequence[str]]) -> str:
    """Rows of cells under each other, each column as wide as its widest."""
    widths = [max(map(len, column)) for column in zip(*rows, strict=True)]
    lines = ("  ".join(cell.ljust(width) for cell, width in zip(row, widths, strict=True)) for row in rows)
    return "".join(f"{line.rstrip()}\n" for line in lines)


def expect(name: str, known: Iterable[str], what: str) -> None:
    """Refuse a name that is not known.

    Raises:
        TriageError: it is not; the nearest one is named, or all of them.
    """
    from triage.knowledge.nearest import nearest

    names = list(known)
    if name not in names:
        hint = nearest(name, names) or f"Known: {', '.join(sorted(names))}."
        raise TriageError(f"There is no {what} '{name}'.", hint)
