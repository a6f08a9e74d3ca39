"""`triage symptom`: which symptoms a complaint in free words may mean."""

import argparse
import json
import sys

from triage.errors import EXIT_OK

NOTHING_FITS = (
    "Nothing that triage knows fits these words. Say what is noticed, where, and when; or pick from the list."
)


def add(commands: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Add the command to the command line."""
    parser = commands.add_parser(
        "symptom",
        help="say which symptoms a complaint in free words may mean",
        description="Proposes symptoms for a complaint, the best first. A score orders them; it is no probability.",
    )
    parser.add_argument("text", metavar="TEXT", help='the complaint, such as "chirps like a cricket at idle"')
    parser.add_argument("--json", action="store_true", help="matches with symptom and score; empty when nothing fits")
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Print the proposals.

    Raises:
        TriageError: the text is too long, or the knowledge has faults.
    """
    from triage.cli.knowing import shipped_knowledge, shipped_matcher
    from triage.present.cleaning import clean

    knowledge = shipped_knowledge()
    trees, matches = knowledge.trees, shipped_matcher(knowledge).match(args.text)
    if args.json:
        fields = {"matches": [{"symptom": match.symptom, "score": match.score} for match in matches]}
        sys.stdout.write(json.dumps(fields, ensure_ascii=False, allow_nan=False) + "\n")
        return EXIT_OK
    lines = [f"{match.score:.2f}  {match.symptom}  {trees[match.symptom].name}" for match in matches]
    sys.stdout.write(clean("\n".join(lines) or NOTHING_FITS) + "\n")
    return EXIT_OK
