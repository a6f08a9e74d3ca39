"""`triage trees compare`: what trees for one symptom take and what their ends cost, side by side."""

import argparse
import json
import os
import sys
from dataclasses import asdict
from pathlib import Path
from typing import TYPE_CHECKING, Final

from triage.cli.authoring.asked import FLOOR, add_shop, as_table, expect, weights_of
from triage.errors import EXIT_OK, TriageError
from triage.present.cleaning import clean, clean_line

if TYPE_CHECKING:
    from collections.abc import Sequence

    from triage.knowledge.models import Knowledge, Pulley, Tree
    from triage.reasoning.route.comparing import Appraisal, Estimate
    from triage.reasoning.route.followed_ways import NextNode
    from triage.record.weights import Weights

_FIGURES: Final = (
    ("minutes", "minutes", 1.0),
    ("loss [min]", "loss", 1.0),
    ("minutes and loss [min]", "together", 1.0),
    ("loss at the best end [min]", "least_loss", 1.0),
    ("names a cause [%]", "named", 100.0),
    ("of those, right [%]", "right", 100.0),
)


def add(actions: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Add the action to `triage trees`."""
    parser = actions.add_parser(
        "compare",
        help="weigh trees for one symptom against each other",
        description="Weighs trees for one symptom on the network of causes and signs: expected minutes with "
        "change-over, expected loss where what they conclude is put right, how often they are right, and the cause "
        "each does worst with. Ways that few vehicles take are drawn by chance, seeded; ± is half of the 95 % "
        "interval (normal). Right is a conclusion that names what made the complaint. Beside a tree also: grown, what "
        "pays most for its minutes next, as long as anything pays.",
    )
    parser.add_argument("trees", metavar="TREE", nargs="+", help="a tree file, a symptom, or grown")
    parser.add_argument("--pulley", metavar="TYPE", help="one specified pulley type; each as often by default")
    add_shop(parser)
    parser.add_argument("--json", action="store_true", help="everything as one JSON object")
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Print the trees side by side.

    Raises:
        TriageError: a tree is unknown, there is no such pulley type, or the trees are for different symptoms.
        DocumentFaulty: a tree file has faults.
    """
    from triage.knowledge.models import PULLEYS
    from triage.reasoning.route.comparing import appraise, routes_of
    from triage.reasoning.route.routing import GROWN

    expect(args.pulley or PULLEYS[0], PULLEYS, "pulley type")
    pulleys = tuple(pulley for pulley in PULLEYS if args.pulley in (None, pulley))
    read = {name: _read(name) for name in args.trees if name != GROWN}
    symptoms = list(dict.fromkeys(tree.symptom for _, tree in read.values()))
    if len(symptoms) != 1:
        told = f"The trees are for {' and '.join(symptoms)}." if symptoms else "No tree is named."
        raise TriageError(told, "Compare trees for one symptom.")
    knowledge, _ = next(iter(read.values()))
    weights = weights_of(args, knowledge)
    found = []
    for number, name in enumerate(args.trees, 1):
        sys.stderr.write(f"Weighing {clean_line(name)}, {number} of {len(args.trees)}\n")
        around, tree = read.get(name) or next(iter(read.values()))
        routes = _grown(around, tree, pulleys, weights) if name == GROWN else routes_of(around, tree, pulleys)
        found.append((clean_line(name), appraise(around, tree.symptom, routes, weights, FLOOR)))
    sys.stdout.write(_as_json(symptoms[0], pulleys, found) if args.json else _as_text(knowledge, found))
    return EXIT_OK


def _grown(
    knowledge: "Knowledge", tree: "Tree", pulleys: "Sequence[Pulley]", weights: "Weights"
) -> "dict[str, NextNode]":
    from triage.reasoning.route.routing import RoutePlanner

    return {pulley: RoutePlanner(knowledge, tree.symptom, pulley, weights).route() for pulley in pulleys}


def _read(name: str) -> "tuple[Knowledge, Tree]":
    """A tree with the knowledge around it."""
    from triage.cli.knowing import laid_over, shipped_knowledge
    from triage.knowledge.loading import load_knowledge, symptom_of
    from triage.knowledge.nearest import nearest
    from triage.knowledge.shipped import trees_folder

    shipped = shipped_knowledge()
    if name in shipped.trees:
        return shipped, shipped.trees[name]
    path = Path(name)
    if not os.path.lexists(path):
        raise TriageError(f"There is no symptom and no tree file '{name}'.", nearest(name, shipped.trees))
    symptom = symptom_of(path)
    changed = load_knowledge(trees_folder(), path, laid_over())
    return changed, changed.trees[symptom]


def _as_json(symptom: str, pulleys: "Sequence[Pulley]", found: "Sequence[tuple[str, Appraisal]]") -> str:
    trees = [{"tree": name, **asdict(appraisal)} for name, appraisal in found]
    return json.dumps({"symptom": symptom, "pulleys": list(pulleys), "trees": trees}, allow_nan=False) + "\n"


def _as_text(knowledge: "Knowledge", found: "Sequence[tuple[str, Appraisal]]") -> str:
    from triage.present.steps.shares import share

    rows = [("", *(name for name, _ in found))]
    rows += [
        (heading, *(_said(getattr(appraisal, field), scale) for _, appraisal in found))
        for heading, field, scale in _FIGURES
    ]
    rows.append(("longest way [min]", *(f"{appraisal.longest_min:.0f}" for _, appraisal in found)))
    rows.append(("drawn by chance [%]", *(f"{100 * appraisal.drawn:.0f}" for _, appraisal in found)))
    lines = as_table(rows).splitlines()
    for name, appraisal in found:
        slowest, missed = appraisal.causes[appraisal.slowest], appraisal.causes[appraisal.missed]
        names = [knowledge.causes[cause].name for cause in (appraisal.slowest, appraisal.missed)]
        lines += ["", f"{name}: takes longest with: {names[0]}, {slowest.minutes:.0f} min in the mean."]
        lines.append(f"{name}: leaves in most often: {names[1]}, {share(1 - missed.named)} of the times.")
    return clean("\n".join(lines)) + "\n"


def _said(figure: "Estimate", scale: float) -> str:
    return f"{scale * figure.value:.1f}" + (f" ± {scale * figure.within:.1f}" if figure.within else "")
