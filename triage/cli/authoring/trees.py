"""`triage trees`: whether the trees are sound, and what one looks like."""

import argparse
import os
import shutil
import sys
from pathlib import Path
from typing import TYPE_CHECKING

from triage.cli.authoring import compare, growing
from triage.cli.authoring.asked import expect
from triage.cli.writing import add_target, refuse_target, write_file
from triage.errors import EXIT_DISAGREES, EXIT_OK, DocumentFaulty, Fault, Place, TriageError
from triage.present.cleaning import clean

if TYPE_CHECKING:
    from collections.abc import Iterator

    from triage.knowledge.models import Knowledge

_FLOOR = "No session begins with this: docs/safety.md says what the program itself holds to."
_NARROWEST = 60
"""Columns below which a drawing is not squeezed any further."""


def add(commands: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Add the command to the command line."""
    parser = commands.add_parser("trees", help="check, draw, grow or compare trees")
    actions = parser.add_subparsers(dest="action", metavar="ACTION", required=True)
    check = actions.add_parser("check", help="name every fault with file, line and column; exit 1 when there is any")
    check.add_argument(
        "path",
        metavar="PATH",
        nargs="?",
        type=Path,
        help="a folder, or one tree file in place of the shipped tree of its symptom; the shipped trees by default",
    )
    check.set_defaults(run=run_check)
    draw = actions.add_parser("draw", help="draw the tree of one symptom")
    draw.add_argument("symptom", metavar="SYMPTOM", help="its id, such as shutdown-buzz")
    add_target(draw, "--picture", "FILE.svg", "write it as a picture file too")
    draw.set_defaults(run=run_draw)
    growing.add(actions)
    compare.add(actions)


def run_check(args: argparse.Namespace) -> int:
    """Print every fault of a folder of knowledge, or of one tree file among the shipped ones, and how many there are.

    Raises:
        TriageError: there is no such folder or file.
    """
    from triage.knowledge.loading import load_knowledge
    from triage.knowledge.safety_floor import shortfalls
    from triage.knowledge.shipped import trees_folder
    from triage.knowledge.wording.words import check_words
    from triage.listening.wording_faults import check_phrasebook

    own = args.path if args.path and os.path.lexists(args.path) and not args.path.is_dir() else None
    folder = trees_folder() if own else args.path or trees_folder()
    if not folder.is_dir():
        raise TriageError(
            f"There is no folder or file {folder}.", "Name the folder that holds sources.yaml, or one tree file."
        )
    faults: tuple[Fault, ...] = ()
    try:
        knowledge = load_knowledge(folder, own)
    except DocumentFaulty as error:
        faults = error.faults
    else:
        place = Place(str(folder / "interlocks.yaml"), 1, 1)
        faults = tuple(Fault(place, sentence, _FLOOR) for sentence in shortfalls(knowledge))
    wording = () if faults else check_phrasebook(folder, knowledge)
    faults += (*check_words(folder, () if faults else knowledge.trees), *wording)
    if faults:
        said = clean(DocumentFaulty(faults).message)
        sys.stdout.write(f"{said}\n{len(faults)} {'fault' if len(faults) == 1 else 'faults'}.\n")
        return EXIT_DISAGREES
    sys.stderr.writelines(_practice_notes(folder, knowledge))
    sizes = ((len(getattr(knowledge, name)), name) for name in ("trees", "checks", "causes", "remedies"))
    sys.stdout.write(f"No faults: {', '.join(f'{count} {name}' for count, name in sizes)}.\n")
    return EXIT_OK


def _practice_notes(folder: Path, knowledge: "Knowledge") -> "Iterator[str]":
    """What practice shows in the words of an outcome for want of better, and words that nothing shows any more.

    Raises:
        DocumentFaulty: the words of practice cannot be read.
    """
    from triage.documents import is_there
    from triage.practice.wording import FOLDER, load_practice_words, unknown, unperceived

    if not is_there(folder / FOLDER):
        return
    words = load_practice_words(folder)
    for what, named in (
        ("Practice has no words as perceived, and takes the outcome's own, for", unperceived(knowledge, words)),
        ("Practice has words as perceived for what is no outcome", unknown(knowledge, words)),
    ):
        listed = "; ".join(named)
        if listed:
            yield f"{what}: {listed}.\n"


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
