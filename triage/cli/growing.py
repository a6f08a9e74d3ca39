"""`triage trees grow`: a tree from the numbers alone, as an author's start."""

import argparse
import sys
from typing import TYPE_CHECKING

from triage.cli.writing import add_target, refuse_target, write_file
from triage.errors import EXIT_OK, TriageError

if TYPE_CHECKING:
    from collections.abc import Iterable

    from triage.knowledge.models import Knowledge, Tree
    from triage.reasoning.weights import Weights

EVERY = 20
"""Checks between two lines of progress."""


def add(actions: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Add the action to those of `triage trees`."""
    grow = actions.add_parser(
        "grow",
        help="grow a tree from the numbers of the knowledge, ready to be edited",
        description=(
            "Grows a tree for one symptom from causes, signs, checks and minutes, behind the precautions of the "
            "authored tree. The tree goes to standard output, progress and its expected cost to standard error. "
            "Without --pulley it serves every vehicle and turns by pulley type before it names what only some can "
            "have; with it, it is for vehicles with that pulley alone: compare it with the same --pulley."
        ),
    )
    grow.add_argument("symptom", metavar="SYMPTOM", help="its id, such as shutdown-buzz")
    grow.add_argument("--without", metavar="TOOL", nargs="+", default=[], help="tools that are not at hand")
    grow.add_argument("--pulley", metavar="TYPE", default="unknown", help="for this specified pulley type alone")
    grow.add_argument("--shop", action="store_true", help="by the shop file's own minutes and losses")
    add_target(grow, "--write", "FILE.yaml", "write the tree there")
    grow.set_defaults(run=run_grow)


def run_grow(args: argparse.Namespace) -> int:
    """Grow a tree and say how good it is.

    Raises:
        TriageError: there is no such symptom, tool or pulley type.
        StoreUnavailable: the file cannot be written.
    """
    from triage.app.shop import read_shop
    from triage.cli.knowing import shipped_knowledge
    from triage.knowledge.models import PULLEYS
    from triage.reasoning.weights import Weights
    from triage.store import shop_file_path

    if args.write is not None:
        refuse_target(args.write, overwrite=args.overwrite)
    knowledge = shipped_knowledge()
    _expect(args.symptom, knowledge.trees, "symptom")
    _expect(args.pulley, PULLEYS, "pulley type")
    for tool in args.without:
        _expect(tool, knowledge.tools, "tool")
    weights = read_shop(shop_file_path(), knowledge).weights if args.shop else Weights()
    text = _grown(knowledge, args.symptom, args.pulley, frozenset(args.without), weights)
    if args.write is None:
        sys.stdout.write(text)
    else:
        write_file(args.write, text, "tree", overwrite=args.overwrite)
    return EXIT_OK


def _expect(name: str, known: "Iterable[str]", what: str) -> None:
    from triage.knowledge.nearest import nearest

    names = list(known)
    if name not in names:
        hint = nearest(name, names)
        if not hint:
            hint = f"Known: {', '.join(sorted(names))}."
        raise TriageError(f"There is no {what} '{name}'.", hint)


def _grown(knowledge: "Knowledge", symptom: str, pulley: str, without: frozenset[str], weights: "Weights") -> str:
    from triage.reasoning.bounding import lower_bound
    from triage.reasoning.growing import grow, totals
    from triage.reasoning.grown_tree import left_out, tree_of
    from triage.reasoning.searching import Vehicle, search_of

    vehicle = Vehicle(symptom, pulley, without=without, left_out=left_out(knowledge, symptom))
    search = search_of(knowledge, vehicle, weights)
    grown = grow(search.problem, search.root, _progress)
    tree = tree_of(knowledge, symptom, pulley, search, grown)
    found = totals(search.problem, grown)
    bound = lower_bound(search.problem, search.root, search.turns)
    cost, least, error = found.minutes + found.loss, bound.cost_min, bound.error_min
    told = (
        f"Expected: {found.minutes:.1f} min of checks and {found.loss:.1f} min of loss, together {cost:.1f} min.",
        f"No route comes below {least:.1f} min (standard error {error:.1f}): at most {cost - least:.1f} min to gain.",
        f"{len(tree.nodes)} nodes. The numbers hold {search.kept:.0%} of what may be wrong.",
    )
    sys.stderr.write("".join(f"{line}\n" for line in told))
    return _document(tree, pulley, without, told)


def _progress(checks: int, ended: float) -> None:
    if checks % EVERY == 0:
        sys.stderr.write(f"{checks} checks; {ended:.0%} of the vehicles are at an end.\n")


def _document(tree: "Tree", pulley: str, without: frozenset[str], told: tuple[str, ...]) -> str:
    from triage.documents.writing import write_text
    from triage.reasoning.grown_tree import UNKNOWN

    lacking = f", without {', '.join(sorted(without))}" if without else ""
    whose = "a pulley of unknown type" if pulley == UNKNOWN else f"the specified pulley: {pulley}"
    serves = (
        "It serves every vehicle: what only some pulley types can have is named for those alone."
        if pulley == UNKNOWN
        else f"Only for vehicles with that pulley: compare it with --pulley {pulley}."
    )
    head = (f"Grown from the numbers of the knowledge for {whose}{lacking}. Nobody has reviewed it.", serves, *told)
    data = tree.model_dump(exclude_defaults=True, mode="json")
    return "".join(f"# {line}\n" for line in head) + write_text(data)
