"""Weigh every shipped tree against the program's own advice, and write the page.

    python docs/making/make_comparison.py [PULLEY TYPE…]

Writes docs/made/comparison.md, by default for the plainest and the fullest kind of vehicle, each as often.
Seeded: the same knowledge gives the same page.
"""

import random
import runpy
import sys
from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import NamedTuple

from triage.documents.reading import read_document
from triage.knowledge.loading import load_knowledge
from triage.knowledge.models import Knowledge
from triage.knowledge.scales import STRENGTHS
from triage.knowledge.shipped import trees_folder
from triage.reasoning.advice.changeover import Minutes
from triage.reasoning.advice.stakes import staked, stakes_of
from triage.reasoning.inference.network import network_of
from triage.reasoning.route.comparing import Appraisal, Estimate, appraise, named_in, routes_of
from triage.reasoning.route.followed_ways import NextNode, ways
from triage.reasoning.route.routing import GROWN, RoutePlanner
from triage.record.weights import Weights

PULLEYS = ("solid", "decoupler")
FLOOR = 5e-3
TREE = "tree"
DRAWS = 3
KINDS = {
    "anywhere": "asked",
    "stopped": "stopped",
    "running": "running",
    "running-belt-off": "running",
    "isolated": "isolated",
    "isolated-belt-off": "isolated",
    "belt-off": "belt off",
}
"""What is done in each vehicle state, in one word."""
INTRODUCTION = """# The trees beside the advice

<!-- Made by docs/making/make_comparison.py: run it again, do not change this page. -->

Each shipped tree, weighed on the network of causes and signs beside the program's own advice; how, is said in
[the method](../method.md#weighing-a-tree). Specified pulley: {pulleys}, each as often. Minutes of the bay. ± is half of
the 95 % interval, from the ways that were drawn by chance. No real vehicle stands behind any of it.

- **tree**: the authored tree.
- **grown**: what pays most for its minutes comes next, as long as anything pays, behind the tree's precautions. It is
  what a session's worth says on screen, what its own route does, and what `triage trees grow` writes down.

*Best end*: the loss if the best were made of what is known at the end. *Names*: share of vehicles for which a cause is
named. *Right*: of those, the share on which it made the complaint; that it is there is not enough. *Slowest*: the cause
that takes most minutes in the mean. *Missed*: the cause that most often made the complaint and is not named.

The minutes of [simulated vehicles](simulation.md) are others. Those are drawn over all five pulley types, each as
often; here stand {pulleys} alone. A clutch or decoupler has checks of its own, and an unknown type gets them too.
"""
LONGER = """
## Where the minutes go

Minutes by what is done, and by how much the tree takes longer than the grown way. *Turning*: what it takes to turn the
vehicle from one state into another, and what is used up. *Forbids running*: of the vehicles with a fault behind the
complaint that forbids a running engine, such as a damaged belt or a loose pulley, the share on which that is named.
"""
WHY = """
## Why people walk the longer way

{longer} of {trees} trees take more than 15 % longer than the grown way. Minutes of the tree over minutes of the grown
way: {factors}. They were mended with these figures at hand: what tells few vehicles apart comes behind the stage with
the belt off, on the rest only.

{loses} of {trees} trees lose more than the grown way, and {less} would even if the best were made of what is known at
each end: they end with less known. Tree by tree: the checks that take the most minutes more than on the grown way, what
they are paid for, and what to mend next. What is paid for has no price in these figures, and whether it is worth its
minutes is judgement.

{reasons}

What comes back in all of them:

- **Stopped.** Everything that could forbid a running engine is looked at while the drive stands, in one round, also
  where the engine may not have to run at all. That is most of what is longer.
- **Running.** Whoever repairs the vehicle hears or sees the complaint once before the belt comes off. The same check
  proves the repair afterwards, so it is made before it for something to compare with. The grown way gives the proof no
  worth.
- **Belt off.** Everything that turns is turned once, the likeliest first.
- **Nothing found.** What is seldom behind a complaint is still looked at before the search ends: the pulley in both
  directions, what is behind its cap, a belt that looks worn.
- **What forbids a running engine comes first.** A tree stands by a damaged belt or a loose bracket as soon as it is
  seen, also where something else is likelier to have made the complaint: nobody goes on with it, and nobody drives
  away with it. The last column of the table above says how often each way names such a fault: the tree more often
  in {safer} of {trees}.
- **One finding, one conclusion.** A tree can be followed on paper, and each conclusion says which finding it rests on.
  The grown way weighs all findings together, and its reasons are figures.

Numbers from memory are no reason. The same ways on vehicles of which every base rate and strength is wrong by 30 % in
odds, up or down at random; minutes and loss together, as assumed and for {draws} such draws:

{disturbed}

No reason either, and to be mended by whoever writes the trees: conclusions that follow one finding against several
others. They are why the *loss* of a tree is above its *best end*. These lose
most, in minutes over all vehicles with the complaint; beside them what would be concluded instead, most often.
A session says at such a conclusion that the findings do not carry it, and at each step which check is worth most.
Where the better one is another fault of the same part, the vehicle is cured all the same.
"""
HERE = Path(__file__).resolve().parent
REASONS, MADE = HERE / "comparison-reasons.yaml", HERE.parent / "made"
MOST_SPENT = 4
MEND = "| symptom | node | names | made it there | loses | better, most often |\n|---|---|---|---|---|---|"
MOST_MENDED = 3
MOST_LONGER = 1.15
"""As much longer as a tree may take without a word."""


@dataclass(frozen=True)
class Weighed:
    """One way to search for one complaint."""

    routes: Mapping[str, NextNode]
    appraisal: Appraisal
    spent: Mapping[str, float]
    by_check: Mapping[str, float]


class Ending(NamedTuple):
    """One way to one conclusion: shares of vehicles, what they lose there, and what would be better."""

    share: float
    right: float
    lost: float
    better: str


def weighed(knowledge: Knowledge, symptom: str, name: str, pulleys: Sequence[str]) -> Weighed:
    """Weigh the tree or a rival of it."""
    sys.stderr.write(f"{symptom}: {name}\n")
    if name == TREE:
        routes = routes_of(knowledge, knowledge.trees[symptom], pulleys)
    else:
        routes = {pulley: RoutePlanner(knowledge, symptom, pulley, Weights()).route() for pulley in pulleys}
    return Weighed(routes, appraise(knowledge, symptom, routes, Weights(), FLOOR), *spent(knowledge, symptom, routes))


def spent(
    knowledge: Knowledge, symptom: str, routes: Mapping[str, NextNode]
) -> tuple[dict[str, float], dict[str, float]]:
    """Mean minutes by what is done, and by check."""
    minutes: dict[str, float] = defaultdict(float)
    by_check: dict[str, float] = defaultdict(float)
    for pulley, route in routes.items():
        for way in ways(knowledge, symptom, route, network_of(knowledge, pulley), pulley, Minutes(), FLOOR):
            share = way.share / len(routes)
            checks = [knowledge.checks[check] for check in way.findings]
            minutes["turning"] += share * (way.minutes - sum(check.minutes for check in checks))
            for check in checks:
                minutes[KINDS[check.state]] += share * check.minutes
                by_check[check.id] += share * check.minutes
    return minutes, by_check


def forbidding(knowledge: Knowledge) -> frozenset[str]:
    """The causes that usually show in an outcome that forbids a running engine."""
    signs = {
        outcome.sign for check in knowledge.checks.values() for outcome in check.outcomes if outcome.closes_running
    }
    return frozenset(
        cause
        for sign in signs
        if sign
        for cause, levels in knowledge.signs[sign].produced_by.items()
        if max(STRENGTHS[strength] for strength in levels.values()) >= STRENGTHS["usually"]
    )


def page(knowledge: Knowledge, pulleys: Sequence[str]) -> Iterator[str]:
    """The lines of the page."""
    yield INTRODUCTION.format(pulleys=" and ".join(pulleys))
    yield "| symptom | way | minutes | loss | together | best end | names | right | slowest | missed |"
    yield "|---|---|---|---|---|---|---|---|---|---|"
    found = {}
    for symptom in knowledge.trees:
        for name in (TREE, GROWN):
            found[symptom, name] = weighed(knowledge, symptom, name, pulleys)
            yield row(knowledge, symptom, name, found[symptom, name].appraisal)
    yield LONGER
    kinds = (*dict.fromkeys(KINDS.values()), "turning")
    yield f"| symptom | way | {' | '.join(kinds)} | all | forbids running |"
    yield f"|---|---|{'---|' * (len(kinds) + 2)}"
    for symptom in knowledge.trees:
        yield from minutes_rows(symptom, found[symptom, TREE], found[symptom, GROWN], forbidding(knowledge))
    both = [(symptom, name) for symptom in knowledge.trees for name in (TREE, GROWN)]
    yield why(knowledge, found, {key: when_wrong(knowledge, *key, found[key].routes) for key in both})
    yield MEND
    for symptom in knowledge.trees:
        sys.stderr.write(f"{symptom}: conclusions\n")
        yield from mend_rows(knowledge, symptom, pulleys)


def row(knowledge: Knowledge, symptom: str, name: str, appraisal: Appraisal) -> str:
    """One line of the first table."""
    figures = (appraisal.minutes, appraisal.loss, appraisal.together, appraisal.least_loss)
    shares = (appraisal.named, appraisal.right)
    slowest, missed = (knowledge.causes[cause].name for cause in (appraisal.slowest, appraisal.missed))
    cells = [
        *(said(figure, 1.0) for figure in figures),
        *(f"{said(share, 100.0)} %" for share in shares),
        f"{slowest}, {appraisal.causes[appraisal.slowest].minutes:.0f}",
        f"{missed}, {100 * (1 - appraisal.causes[appraisal.missed].named):.0f} %",
    ]
    return f"| {symptom} | {name} | {' | '.join(cells)} |"


def said(figure: Estimate, scale: float) -> str:
    """A figure with its interval."""
    within = f" ± {scale * figure.within:.1f}" if scale * figure.within >= 0.05 else ""
    return f"{scale * figure.value:.1f}{within}"


def minutes_rows(symptom: str, tree: Weighed, grown: Weighed, unsafe: frozenset[str]) -> Iterator[str]:
    """The lines of one symptom in the second table."""
    kinds = (*dict.fromkeys(KINDS.values()), "turning")
    for name, one in ((TREE, tree), (GROWN, grown)):
        spent = [one.spent.get(kind, 0.0) for kind in kinds]
        cells = [f"{minutes:.1f}" for minutes in (*spent, sum(spent))]
        yield f"| {symptom} | {name} | {' | '.join(cells)} | {100 * safe_share(one.appraisal, unsafe):.0f} % |"
    more = [tree.spent.get(kind, 0.0) - grown.spent.get(kind, 0.0) for kind in kinds]
    yield f"| {symptom} | longer by | {' | '.join(f'{minutes:+.1f}' for minutes in (*more, sum(more)))} | |"


def safe_share(appraisal: Appraisal, unsafe: frozenset[str]) -> float:
    """Of the vehicles with a fault that forbids running, the share on which it is named; 0 where none can be there."""
    fates = [fate for cause, fate in appraisal.causes.items() if cause in unsafe]
    there = sum(fate.there for fate in fates)
    return sum(fate.there * fate.named for fate in fates) / there if there else 0.0


def mend_rows(knowledge: Knowledge, symptom: str, pulleys: Sequence[str]) -> Iterator[str]:
    """The conclusions of a tree that lose most against the best that could be made of what is known there."""
    tree = knowledge.trees[symptom]
    name_of = {id(node): node_id for node_id, node in tree.nodes.items()}
    ended: dict[str, list[Ending]] = defaultdict(list)
    for pulley, route in routes_of(knowledge, tree, pulleys).items():
        stakes = stakes_of(knowledge, pulley, symptom, Weights())
        network = stakes.network
        for way in ways(knowledge, symptom, route, network, pulley, Minutes(), FLOOR):
            named, in_vain_min = named_in(network, way.node, Weights())
            sums = stakes.summed(way.known)
            best = stakes.best(sums)
            lost = in_vain_min + stakes.cost_min(way.known, named, sums) - stakes.cost_min(way.known, best, sums)
            better = knowledge.causes[network.causes[best[0]]].name if best else "nothing yet"
            share = way.share / len(pulleys)
            ended[name_of[id(way.node)]].append(
                Ending(share, share * stakes.any_made(way.known, named, sums), share * lost, better)
            )
    concluding = [node_id for node_id in ended if tree.nodes[node_id].conclude]
    for node_id in sorted(concluding, key=lambda one: -sum(end.lost for end in ended[one]))[:MOST_MENDED]:
        share, right, lost = (sum(column) for column in zip(*(end[:3] for end in ended[node_id]), strict=True))
        instead: dict[str, float] = defaultdict(float)
        for end in ended[node_id]:
            instead[end.better] += end.lost
        named_there = ", ".join(knowledge.causes[cause].name for cause in tree.nodes[node_id].conclude)
        better = max(instead, key=lambda name: instead[name])
        yield f"| {symptom} | {node_id} | {named_there} | {100 * right / share:.0f} % | {lost:.1f} | {better} |"


def why(
    knowledge: Knowledge, found: Mapping[tuple[str, str], Weighed], disturbed: Mapping[tuple[str, str], Sequence[float]]
) -> str:
    """The words behind the second table, with what was counted."""
    unsafe = forbidding(knowledge)
    pairs = {symptom: (found[symptom, TREE].appraisal, found[symptom, GROWN].appraisal) for symptom in knowledge.trees}
    factors = {symptom: tree.minutes.value / grown.minutes.value for symptom, (tree, grown) in pairs.items()}
    rows = [f"| symptom | way | as assumed |{' disturbed |' * DRAWS}", f"|---|---|---|{'---|' * DRAWS}"]
    for (symptom, name), costs in disturbed.items():
        together = (found[symptom, name].appraisal.together.value, *costs)
        rows.append(f"| {symptom} | {name} | {' | '.join(f'{cost:.1f}' for cost in together)} |")
    return WHY.format(
        longer=sum(factor > MOST_LONGER for factor in factors.values()),
        trees=len(factors),
        factors=", ".join(f"{symptom} {factor:.2f}" for symptom, factor in factors.items()),
        loses=sum(tree.loss.value > grown.loss.value for tree, grown in pairs.values()),
        safer=sum(safe_share(tree, unsafe) > safe_share(grown, unsafe) for tree, grown in pairs.values()),
        less=sum(tree.least_loss.value > grown.loss.value for tree, grown in pairs.values()),
        reasons="\n".join(reasons(knowledge, found)),
        draws=DRAWS,
        disturbed="\n".join(rows),
    )


def reasons(knowledge: Knowledge, found: Mapping[tuple[str, str], Weighed]) -> Iterator[str]:
    """For each tree by how much it takes longer, with which checks, and why."""
    told = read_document(REASONS).data
    why = told if isinstance(told, dict) else {}
    for symptom in knowledge.trees:
        tree, grown = found[symptom, TREE], found[symptom, GROWN]
        factor = tree.appraisal.minutes.value / grown.appraisal.minutes.value
        more = {check: minutes - grown.by_check.get(check, 0.0) for check, minutes in tree.by_check.items()}
        most = sorted(more, key=lambda check: -more[check])[:MOST_SPENT]
        longest = ", ".join(f"{check} {more[check]:+.1f}" for check in most)
        yield f"- **{symptom}**, {100 * (factor - 1):.0f} % longer: {longest} min. {why.get(symptom, '')}".rstrip()


def when_wrong(knowledge: Knowledge, symptom: str, name: str, routes: Mapping[str, NextNode]) -> tuple[float, ...]:
    """Minutes and loss together on vehicles that are made with other numbers than the way was planned with."""
    sys.stderr.write(f"{symptom}: {name}, disturbed\n")
    disturbed = runpy.run_path(str(Path(__file__).with_name("make_simulation.py")))["disturbed"]
    costs = []
    for draw in range(DRAWS):
        chance, cost = random.Random(f"{symptom} {draw}"), 0.0  # noqa: S311 - seeded on purpose
        for pulley, route in routes.items():
            network = disturbed(network_of(knowledge, pulley), chance)
            stakes = staked(network, symptom, Weights())
            for way in ways(knowledge, symptom, route, network, pulley, Minutes(), FLOOR):
                named, in_vain_min = named_in(network, way.node, Weights())
                sums = stakes.summed(way.known)
                put_right = stakes.best(sums) if way.node.end == "undecided" else named
                loss = in_vain_min + stakes.cost_min(way.known, put_right, sums)
                cost += way.share * (way.minutes + loss) / len(routes)
        costs.append(cost)
    return tuple(costs)


if __name__ == "__main__":
    text = "\n".join(page(load_knowledge(trees_folder()), tuple(sys.argv[1:]) or PULLEYS)) + "\n"
    (MADE / "comparison.md").write_text(text, encoding="utf-8", newline="\n")
