"""`triage trees check`: whether a folder of knowledge is sound."""

import argparse
import os
import sys
from pathlib import Path
from typing import TYPE_CHECKING

from triage.errors import EXIT_DISAGREES, EXIT_OK, DocumentFaulty, Fault, Place, TriageError
from triage.present.cleaning import clean

if TYPE_CHECKING:
    from collections.abc import Iterator

    from triage.knowledge.models import Knowledge

_FLOOR = "No session begins with this: docs/safety.md says what the program itself holds to."


def add(actions: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Add the action to those of `triage trees`."""
    check = actions.add_parser("check", help="name every fault with file, line and column; exit 1 when there is any")
    check.add_argument(
        "path",
        metavar="PATH",
        nargs="?",
        type=Path,
        help="a folder, or one tree file in place of the shipped tree of its symptom; by default the shipped trees, "
        "and the shop's own laid over them",
    )
    check.add_argument("--laid", action="store_true", help="the folder is one that is laid over the shipped trees")
    check.set_defaults(run=run_check)


def run_check(args: argparse.Namespace) -> int:
    """Print every fault of a folder of knowledge, or of one tree file among the shipped ones, and how many there are.

    Raises:
        TriageError: there is no such folder or file.
    """
    from triage.app.authoring import faults_for_authors
    from triage.documents import is_there
    from triage.knowledge.loading import load_knowledge
    from triage.knowledge.safety_floor import shortfalls
    from triage.knowledge.wording.matching import Matcher
    from triage.knowledge.wording.words import FILE, check_words, load_words
    from triage.listening.wording_faults import check_phrasebook

    folder, own, over = _folders(args)
    faults: tuple[Fault, ...] = ()
    try:
        knowledge = load_knowledge(folder, own, over)
    except DocumentFaulty as error:
        faults = error.faults
    else:
        place = Place(str(folder / "interlocks.yaml"), 1, 1)
        faults = tuple(Fault(place, sentence, _FLOOR) for sentence in shortfalls(knowledge))
    wording = () if faults or over else check_phrasebook(folder, knowledge)
    faults += (*check_words(folder, () if faults else knowledge.trees), *wording)
    if not faults:
        matcher = Matcher(load_words(folder), knowledge.trees) if is_there(folder / FILE) else None
        told = [faults_for_authors(one, knowledge, matcher) for one in (folder, over) if one]
        faults = tuple(fault for each in told for fault in each)
    if faults:
        said = clean(DocumentFaulty(faults).message)
        sys.stdout.write(f"{said}\n{len(faults)} {'fault' if len(faults) == 1 else 'faults'}.\n")
        return EXIT_DISAGREES
    if over:
        sys.stderr.write(f"With the shop's own trees of {clean(str(over))} over them.\n")
    else:
        sys.stderr.writelines(_practice_notes(folder, knowledge))
    sizes = ((len(getattr(knowledge, name)), name) for name in ("trees", "checks", "causes", "remedies"))
    sys.stdout.write(f"No faults: {', '.join(f'{count} {name}' for count, name in sizes)}.\n")
    return EXIT_OK


def _folders(args: argparse.Namespace) -> tuple[Path, Path | None, Path | None]:
    """The folder, a tree file that stands in place of one in it, and a folder laid over it.

    Raises:
        TriageError: there is no such folder or file.
    """
    from triage.cli.knowing import laid_over
    from triage.knowledge.shipped import trees_folder

    named = args.path
    if named is None:
        return trees_folder(), None, laid_over()
    if os.path.lexists(named) and not named.is_dir():
        return trees_folder(), named, None
    if not named.is_dir():
        raise TriageError(
            f"There is no folder or file {named}.", "Name the folder that holds sources.yaml, or one tree file."
        )
    return (trees_folder(), None, named) if args.laid else (named, None, None)


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
