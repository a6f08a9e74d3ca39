"""`triage trees new`: a start for a tree of the shop's own, laid over the shipped trees."""

import argparse
import re
from typing import TYPE_CHECKING, Final

from triage.cli.writing import refuse_target, write_file
from triage.errors import TriageError

if TYPE_CHECKING:
    from pathlib import Path

ID: Final = re.compile(r"[a-z][a-z0-9]*(-[a-z0-9]+)*")
_HEAD: Final = "signs:\n"


def add(actions: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Add the action to those of `triage trees`."""
    new = actions.add_parser(
        "new",
        help="begin a tree of the shop's own: sign, tree and one case, ready to be edited",
        description="Writes a sound start into the folder of the shop's own trees, beside the shop file. It is laid "
        "over the shipped trees at once; `triage trees check` says whether it still holds.",
    )
    new.add_argument("symptom", metavar="SYMPTOM", help="a new id, such as whine-at-speed")
    new.add_argument("--name", metavar="TEXT", default="", help="what screens call it")
    new.add_argument("--phrase", metavar="TEXT", default="", help="how a customer says it; the name by default")
    new.set_defaults(run=run_new)


def run_new(args: argparse.Namespace) -> int:
    """Write the files of a start, and check all that is there then.

    Raises:
        TriageError: the id is none, or there is such a symptom or sign already.
        StoreUnavailable: a file cannot be written.
    """
    from triage.app.new_tree import SIGNS, start_of
    from triage.cli.authoring.checking import run_check
    from triage.cli.knowing import shipped_knowledge
    from triage.store import shop_trees_folder

    symptom, folder = args.symptom, shop_trees_folder()
    if not ID.fullmatch(symptom):
        raise TriageError(f"'{symptom}' is no id.", "Small letters, digits and hyphens: whine-at-speed.")
    knowledge = shipped_knowledge()
    if symptom in knowledge.trees or symptom in knowledge.signs:
        raise TriageError(f"There is '{symptom}' already.", "Take another id; `triage trees draw` shows what is there.")
    name = args.name or symptom.replace("-", " ").capitalize()
    files = start_of(symptom, name, args.phrase or name)
    for place in files:
        if place != SIGNS:
            refuse_target(folder / place, overwrite=False)
    for place, content in files.items():
        path = folder / place
        path.parent.mkdir(parents=True, exist_ok=True)
        if place == SIGNS:
            write_file(path, _with(path, content), "sign", overwrite=True)
        else:
            write_file(path, content, "case" if place.startswith("cases/") else "tree")
    args.path, args.laid = None, False
    return run_check(args)


def _with(path: "Path", sign: str) -> str:
    """The signs that are there, and one more behind them."""
    there = path.read_text("utf-8") if path.exists() else _HEAD
    return f"{there.rstrip()}\n{sign}"
