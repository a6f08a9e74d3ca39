"""`triage trees grow`: a tree from the numbers alone, as an author's start."""

import argparse
import sys
from typing import TYPE_CHECKING

from triage.cli.authoring.asked import FLOOR, add_shop, expect, weights_of
from triage.cli.writing import add_target, refuse_target, write_file
from triage.errors import EXIT_OK

if TYPE_CHECKING:
    from triage.knowledge.models import Knowledge, Tree
    from triage.record.weights import Weights

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
    add_shop(grow)
    add_target(grow, "--write", "FILE.yaml", "write the tree there")
    grow.set_defaults(run=run_grow)


def run_grow(args: argparse.Namespace) -> int:
    """Grow a tree and say how good it is.

    Raises:
        TriageError: there is no such symptom, tool or pulley type.
        StoreUnavailable: the file cannot be written.
    """
    from triage.cli.knowing import shipped_knowledge
    from triage.knowledge.models import PULLEYS

    if args.write is not None:
        refuse_target(args.write, overwrite=args.overwrite)
    knowledge = shipped_knowledge()
    expect(args.symptom, knowledge.trees, "symptom")
    expect(args.pulley, PULLEYS, "pulley type")
    for tool in args.without:
        expect(tool, knowledge.tools, "tool")
    text = _grown(knowledge, args.symptom, args.pulley, frozenset(args.without), weights_of(args, knowledge))
    if args.write is None:
        sys.stdout.write(text)
    else:
        write_file(args.write, text, "tree", overwrite=args.overwrite)
    return EXIT_OK


def _grown(knowledge: "Knowledge", symptom: str, pulley: str, without: frozenset[str], weights: "Weights") -> str:
    from triage.reasoning.inference.rounding import recorded
    from triage.reasoning.route.comparing import appraise, routes_of
    from triage.reasoning.route.growing import grow
    from triage.reasoning.route.grown_tree import left_out, tree_of
    from triage.reasoning.route.routing import RoutePlanner

    lacking = {check.id for check in knowledge.checks.values() if without & set(check.tools)}
    planner = RoutePlanner(knowledge, symptom, pulley, weights, left_out(knowledge, symptom) | lacking)
    tree = tree_of(planner, grow(planner, _progress))
    found = appraise(knowledge, symptom, routes_of(knowledge, tree, [pulley]), weights, FLOOR)
    minutes, loss, cost = (recorded(one.value, 1) for one in (found.minutes, found.loss, found.together))
    told = (
        f"Expected: {minutes} min of checks and {loss} min of loss, together {cost} min.",
        f"It names a cause for {found.named.value:.0%} of vehicles, right for {found.right.value:.0%} of these.",
        f"{len(tree.nodes)} nodes.",
    )
    sys.stderr.write("".join(f"{line}\n" for line in told))
    return _document(tree, pulley, without, told)


def _progress(checks: int, ended: float) -> None:
    if checks % EVERY == 0:
        sys.stderr.write(f"{checks} checks; {ended:.0%} of the vehicles are at an end.\n")


def _document(tree: "Tree", pulley: str, without: frozenset[str], told: tuple[str, ...]) -> str:
    from triage.documents.writing import write_text
    from triage.reasoning.route.grown_tree import UNKNOWN

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
