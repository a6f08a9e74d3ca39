"""The trade's knowledge as pages to walk without a vehicle: trees, checks, causes, remedies, and a search over them."""

from dataclasses import dataclass
from typing import Literal

from triage.knowledge.models import Knowledge, Node
from triage.present.shapes import ENDS
from triage.tui.pages.page_screen import Page, Way

MOST_HITS = 30


@dataclass(frozen=True)
class Spot:
    """One place in the knowledge.

    Args:
        kind: what stands there.
        id: which; for a search, the words looked for.
        tree: the tree that a node is of.
    """

    kind: Literal["trees", "node", "check", "cause", "remedy", "search"]
    id: str = ""
    tree: str = ""


TREES = Spot("trees")
_KEYS = "Number · words: search · Enter: back · Esc: leave"


def page_at(knowledge: Knowledge, spot: Spot) -> Page[Spot]:
    """What stands at a place, and where it goes on."""
    makers = {
        "trees": _trees,
        "node": _node,
        "check": _check,
        "cause": _cause,
        "remedy": _remedy,
        "search": _search,
    }
    return makers[spot.kind](knowledge, spot)


def _trees(knowledge: Knowledge, _spot: Spot) -> Page[Spot]:
    ways = tuple(Way(tree.name, Spot("node", tree.start, symptom)) for symptom, tree in knowledge.trees.items())
    return Page("Trees", ("Walk a tree without a vehicle. Nothing is recorded.",), ways, _KEYS)


def _node(knowledge: Knowledge, spot: Spot) -> Page[Spot]:
    tree = knowledge.trees[spot.tree]
    node = tree.nodes[spot.id]
    lines = [node.because] if node.because else []
    ways: list[Way[Spot]] = []
    if node.check:
        check = knowledge.checks[node.check]
        lines = [check.name, check.question, *lines]
        ways = [Way(f"{_words(knowledge, node, o)}", Spot("node", to, spot.tree)) for o, to in node.next.items()]
        ways += [Way("Could not be done", Spot("node", node.cannot, spot.tree))] if node.cannot else []
        ways += [Way("Does not fit this vehicle", Spot("node", node.skip, spot.tree))] if node.skip else []
        ways.append(Way("About this check", Spot("check", node.check)))
    elif node.by_pulley:
        lines = ["It goes on by the specified alternator pulley.", *lines]
        ways = [Way(kind, Spot("node", to, spot.tree)) for kind, to in node.by_pulley.items()]
    elif node.conclude:
        lines = ["Conclusion", *lines]
        ways = [Way(knowledge.causes[cause].name, Spot("cause", cause)) for cause in node.conclude]
    else:
        lines = [ENDS.get(node.end or "", ""), *lines]
    return Page(f"{tree.name} · {spot.id}", tuple(lines), tuple(ways), _KEYS)


def _words(knowledge: Knowledge, node: Node, outcome_id: str) -> str:
    outcome = knowledge.checks[node.check or ""].outcome(outcome_id)
    return outcome.words if outcome else outcome_id


def _check(knowledge: Knowledge, spot: Spot) -> Page[Spot]:
    check = knowledge.checks[spot.id]
    state = knowledge.states.get(check.state)
    lines = [
        check.question,
        *([f"Vehicle: {state.words}"] if state else []),
        *(f"  ! {hazard}" for hazard in check.hazards),
        *(f"  {number}. {step}" for number, step in enumerate(check.steps, 1)),
        f"Why: {check.why}",
        f"About {check.minutes:g} min",
        *(f"Source: {knowledge.sources[key].title}" for key in check.sources),
    ]
    signs = [outcome.sign for outcome in check.outcomes if outcome.sign] + ([check.sign] if check.sign else [])
    causes = dict.fromkeys(cause for sign in signs for cause in knowledge.signs[sign].produced_by)
    ways = tuple(Way(f"Can speak for: {knowledge.causes[cause].name}", Spot("cause", cause)) for cause in causes)
    return Page(f"Check · {check.name}", tuple(lines), ways, _KEYS)


def _cause(knowledge: Knowledge, spot: Spot) -> Page[Spot]:
    cause = knowledge.causes[spot.id]
    lines = (f"Part: {cause.part}", cause.meaning, f"How common: {cause.commonness} (judgement, from memory)")
    remedy = knowledge.remedies[cause.remedy]
    return Page(f"Cause · {cause.name}", lines, (Way(f"Remedy: {remedy.name}", Spot("remedy", remedy.id)),), _KEYS)


def _remedy(knowledge: Knowledge, spot: Spot) -> Page[Spot]:
    remedy = knowledge.remedies[spot.id]
    lines = (
        f"Vehicle: {knowledge.states[remedy.state].words}",
        *(f"  ! {caution}" for caution in remedy.cautions),
        *(f"  {number}. {step}" for number, step in enumerate(remedy.steps, 1)),
        *(f"  Part: {part.name}. {part.why}" for part in remedy.parts),
        f"If it is left: {remedy.if_left}",
        *(f"Source: {knowledge.sources[key].title}" for key in remedy.sources),
    )
    ways = tuple(Way(f"Repeat: {knowledge.checks[check].name}", Spot("check", check)) for check in remedy.repeat)
    return Page(f"Remedy · {remedy.name}", lines, ways, _KEYS)


def _search(knowledge: Knowledge, spot: Spot) -> Page[Spot]:
    wanted = spot.id.lower().split()
    shelves: tuple[tuple[Literal["check", "cause", "remedy"], dict[str, str]], ...] = (
        ("check", {one.id: f"{one.name}. {one.question}" for one in knowledge.checks.values()}),
        ("cause", {one.id: f"{one.name}. {one.meaning}" for one in knowledge.causes.values()}),
        ("remedy", {one.id: one.name for one in knowledge.remedies.values()}),
    )
    hits = tuple(
        Way(f"{kind}: {words}", Spot(kind, one))
        for kind, shelf in shelves
        for one, words in shelf.items()
        if all(word in f"{one} {words}".lower() for word in wanted)
    )
    more = (f"The first {MOST_HITS} of {len(hits)}; type more words.",) if len(hits) > MOST_HITS else ()
    lines = more if hits else ("Nothing was found among checks, causes and remedies. Type other words.",)
    return Page(f"Search · {spot.id}", lines, hits[:MOST_HITS], _KEYS)
