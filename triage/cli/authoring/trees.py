"""`triage trees`: whether the trees are sound, and what one looks like."""

import argparse
import shutil
import sys

from triage.cli.authoring import beginning, checking, compare, growing
from triage.cli.authoring.asked import expect
from triage.cli.writing import add_target, refuse_target, write_file
from triage.errors import EXIT_OK

_NARROWEST = 60
"""Columns below which a drawing is not squeezed any further."""


def add(commands: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Add the command to the command line."""
    parser = commands.add_parser("trees", help="check, draw, grow or compare trees")
    actions = parser.add_subparsers(dest="action", metavar="ACTION", required=True)
    checking.add(actions)
    draw = actions.add_parser("draw", help="draw the tree of one symptom")
    draw.add_argument("symptom", metavar="SYMPTOM", help="its id, such as shutdown-buzz")
    add_target(draw, "--picture", "FILE.svg", "write it as a picture file too")
    draw.set_defaults(run=run_draw)
    beginning.add(actions)
    growing.add(actions)
    compare.add(actions)


def run_draw(args: argparse.Namespace) -> int:
    """Print a drawing of a tree, and write its picture where one is asked for.

    Raises:
        TriageError: there is no such symptom.
        StoreUnavailable: the picture cannot be written.
    """
    from triage.cli.knowing import shipped_knowledge
    from triage.knowledge.drawn.drawing import draw

    if args.picture is not None:
        refuse_target(args.picture, overwrite=args.overwrite)
    knowledge = shipped_knowledge()
    expect(args.symptom, knowledge.trees, "symptom")
    tree = knowledge.trees[args.symptom]
    if args.picture is not None:
        from triage.knowledge.drawn.picture import picture

        write_file(args.picture, picture(knowledge, tree), "picture", overwrite=args.overwrite)
    columns = shutil.get_terminal_size().columns
    sys.stdout.write(draw(knowledge, tree, max(columns, _NARROWEST)))
    return EXIT_OK
