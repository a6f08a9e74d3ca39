"""`triage rank`: which causes the findings of recorded cases make likely, without walking a tree."""

import argparse
import json
import sys
from pathlib import Path

from triage.errors import EXIT_OK
from triage.present.cleaning import clean_line

_SHOWN = 3
_CONTRADICTION = "the findings contradict each other"


def add(commands: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Add the command to the command line."""
    parser = commands.add_parser(
        "rank",
        help="say which causes the findings of recorded cases make likely",
        description="Ranks the causes behind the complaint and the findings that each case lists. No tree is walked: "
        "a check that is not listed counts for nothing.",
    )
    parser.add_argument("files", metavar="FILE", nargs="+", type=Path, help="a list of cases in YAML")
    parser.add_argument("--json", action="store_true", help="every cause with its probability, as one JSON object")
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Print which causes are likely in each case.

    Raises:
        DocumentFaulty: a file of cases has faults.
    """
    from triage.app.cases import rank_case, read_cases
    from triage.app.shop import Shop, accuracies
    from triage.cli.knowing import shipped_knowledge
    from triage.present.shares import share

    knowledge = shipped_knowledge()
    # The shop file stays out of it: a case comes to the same everywhere.
    instruments = accuracies(knowledge, Shop())
    ranked = [
        (case.id, rank_case(knowledge, case, instruments))
        for file in args.files
        for case in read_cases(file, knowledge)
    ]
    if args.json:
        sys.stdout.write(_as_json(ranked))
        return EXIT_OK
    for case_id, likely in ranked:
        told = ", ".join(f"{knowledge.causes[cause].name} {share(chance)}" for cause, chance in likely[:_SHOWN])
        sys.stdout.write(f"{clean_line(case_id)}: {told or _CONTRADICTION}\n")
    return EXIT_OK


def _as_json(ranked: list[tuple[str, tuple[tuple[str, float], ...]]]) -> str:
    cases = [
        {"id": case_id, "likely": [{"cause": cause, "probability": probability} for cause, probability in likely]}
        for case_id, likely in ranked
    ]
    # Escaped to plain letters, so that an id out of a file does nothing to a terminal.
    return json.dumps({"cases": cases}, allow_nan=False) + "\n"
