"""`triage rank`: which causes the findings of recorded cases make likely, without walking a tree."""

import argparse
import json
import sys
from pathlib import Path
from typing import TYPE_CHECKING

from triage.errors import EXIT_OK
from triage.present.cleaning import clean_line

if TYPE_CHECKING:
    from triage.reasoning.advice.ranking import Ranking

_SHOWN = 3
_CONTRADICTION = "the findings contradict each other"


def add(commands: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Add the command to the command line."""
    parser = commands.add_parser(
        "rank",
        help="say which causes the findings of recorded cases make likely",
        description="Ranks the causes by how likely they made the complaint, after the findings that each case lists. "
        "No tree is walked: a check that is not listed counts for nothing.",
    )
    parser.add_argument("files", metavar="FILE", nargs="+", type=Path, help="a list of cases in YAML")
    parser.add_argument(
        "--json",
        action="store_true",
        help="every cause with its probability of having made the complaint and of being there, as one JSON object",
    )
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Print which causes are likely in each case.

    Raises:
        DocumentFaulty: a file of cases has faults.
    """
    from triage.app.cases import rank_case, read_cases
    from triage.app.shop.shop_file import Shop, accuracies
    from triage.cli.knowing import shipped_knowledge
    from triage.present.steps.shares import share

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
    for case_id, ranking in ranked:
        told = ", ".join(
            f"{knowledge.causes[one.cause].name} {share(one.probability)}" for one in ranking.likely[:_SHOWN]
        )
        sys.stdout.write(f"{clean_line(case_id)}: {told or _CONTRADICTION}\n")
    return EXIT_OK


def _as_json(ranked: "list[tuple[str, Ranking]]") -> str:
    cases = [
        {
            "id": case_id,
            "likely": [
                {"cause": one.cause, "probability": one.probability, "present": one.present} for one in ranking.likely
            ],
            "unlisted": ranking.unlisted,
        }
        for case_id, ranking in ranked
    ]
    # Escaped to plain letters, so that an id out of a file does nothing to a terminal.
    return json.dumps({"cases": cases}, allow_nan=False) + "\n"
