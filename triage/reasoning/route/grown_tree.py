"""A grown route as a tree like those that people write, with a reason in plain words at each node."""

from collections import Counter
from collections.abc import Mapping

from triage.knowledge.models import PULLEYS, Check, Knowledge, Node, Tree
from triage.knowledge.precautions import NOT_DONE
from triage.reasoning.inference.evidence import Alternative
from triage.reasoning.inference.making import believed
from triage.reasoning.inference.rounding import even, recorded
from triage.reasoning.route.growing import GrownNode
from triage.reasoning.route.routing import RoutePlace, RoutePlanner

MOST_ANSWERS = 5
"""A question with more answers would make one tree into as many; a tree that people read leaves it out."""
NAMED = 0.1
"""Causes less likely than this are not named in a reason [1]; a judgement, from memory."""
MOST_NAMED = 2
SURE = (
    (0.9, "What was found leaves little doubt."),
    (0.7, "What was found makes it likely."),
    (0.5, "What was found makes it more likely than not."),
    (0.0, "The likeliest by what was found, though not by much."),
)
"""How sure a conclusion is, from this probability on. Source: from-memory."""
UNKNOWN = "unknown"
"""The pulley type of which the others are what it may be."""
COUNTED = "-node-"
"""Before the number of a node whose id is not given yet."""


def left_out(knowledge: Knowledge, symptom: str) -> frozenset[str]:
    """The questions of a symptom's tree that have too many answers for a grown one."""
    checks = (knowledge.checks[node.check] for node in knowledge.trees[symptom].nodes.values() if node.check)
    return frozenset(check.id for check in checks if check.way == "ask" and len(check.outcomes) > MOST_ANSWERS)


def tree_of(planner: RoutePlanner, grown: GrownNode) -> Tree:
    """Write a grown route down as the tree of its symptom; branches that come to the same are written once.

    Args:
        planner: what planned it, with the authored tree whose name and phrases it keeps.
        grown: the route.
    """
    knowledge = planner.knowledge
    authored = knowledge.trees[planner.symptom]
    writer = _Writer(planner)
    nodes = _from_the_top(writer.nodes, writer.write(grown))
    made = [node.check for node in nodes.values() if node.check]
    proving = [check for check in made if knowledge.checks[check].proves]
    felt = [check for check in made if knowledge.checks[check].way != "ask"]
    repeat = authored.repeat if authored.repeat in made else (proving or felt or made)[0]
    return authored.model_copy(update={"start": next(iter(nodes)), "nodes": nodes, "uses": (), "repeat": repeat})


def _from_the_top(nodes: dict[str, Node], start: str) -> dict[str, Node]:
    """The nodes in the order in which a reader meets them, the normal outcome first, with ids that count them so."""
    waiting, order, counts = [start], dict[str, str](), Counter[str]()
    while waiting:
        node_id = waiting.pop()
        if node_id in order:
            continue
        name = node_id.rpartition(COUNTED)[0]
        counts[name] += 1
        order[node_id] = name if counts[name] == 1 else f"{name}-again-{counts[name]}"
        waiting += reversed(_targets(nodes[node_id]))
    return {new: _renamed(nodes[old], order) for old, new in order.items()}


def _targets(node: Node) -> list[str]:
    return [*node.next.values(), *(way for way in (node.cannot, node.skip) if way), *node.by_pulley.values()]


def _renamed(node: Node, order: dict[str, str]) -> Node:
    ways = {name: {key: order[way] for key, way in getattr(node, name).items()} for name in ("next", "by_pulley")}
    others = {name: order[way] for name in ("cannot", "skip") if (way := getattr(node, name))}
    return node.model_copy(update=ways | others)


class _Writer:
    """Nodes by id, each content once."""

    def __init__(self, planner: RoutePlanner) -> None:
        """Begin without a node."""
        self.nodes: dict[str, Node] = {}
        self._planner = planner
        self._knowledge = planner.knowledge
        self._pulley = planner.pulley
        self._ids: dict[str, str] = {}

    def write(self, branch: GrownNode) -> str:
        """Write a branch and all that follows it; gives the id of its node."""
        if branch.check is None:
            return self._ended(branch)
        check = self._knowledge.checks[branch.check]
        ways = {outcome: self.write(child) for outcome, child in branch.after.items()}
        # What could not be done, or cannot be by the numbers, tells nothing: it goes on as where all is normal.
        usual = (
            ways.get(check.normal(self._pulley))
            or ways[max(branch.after, key=lambda outcome: even(branch.after[outcome].share))]
        )
        cannot = ways.get(NOT_DONE, usual)
        told = {outcome.id: ways.get(outcome.id, cannot) for outcome in check.outcomes}
        node = Node(
            check=check.id,
            next=told,
            cannot=cannot,
            skip=usual if check.only_for else None,
            because=self._worth(branch, check),
        )
        return self._placed(check.id, node)

    def _placed(self, name: str, node: Node) -> str:
        content = node.model_dump_json()
        if content not in self._ids:
            self._ids[content] = f"{name}{COUNTED}{len(self.nodes)}"
            self.nodes[self._ids[content]] = node
        return self._ids[content]

    def _ended(self, branch: GrownNode) -> str:
        """Write an end: by pulley type where a vehicle whose type was not known may lack what it names."""
        kinds = PULLEYS if self._pulley == UNKNOWN else (self._pulley,)
        ends = {pulley: self._placed(*self._end(branch, pulley)) for pulley in kinds}
        if len(set(ends.values())) == 1:
            return ends[self._pulley]
        because = "Which faults there can be depends on the pulley type."
        return self._placed("by-pulley", Node.model_validate({"by_pulley": ends, "because": because}))

    def _end(self, branch: GrownNode, pulley: str) -> tuple[str, Node]:
        outlook = branch.outlook or self._planner.next(branch.place)[1]
        named = [cause for cause in self._planner.named(outlook) if self._fits(cause, pulley)]
        if not named:
            return "e-undecided", Node(end="undecided", because=self._nothing(branch, pulley))
        shares = self._made(branch.place)
        because = next(words for least, words in SURE if shares[named[0]] >= least)
        second = [cause for cause in self._likeliest(shares, pulley) if cause != named[0] and shares[cause] >= NAMED]
        if second:
            because += f" If the repair does not cure it, look next at: {self._cause(second[0])}."
        return f"c-{named[0]}", Node(conclude=tuple(named), because=because)

    def _nothing(self, branch: GrownNode, pulley: str) -> str:
        left = "no check is left that could carry one"
        why = left if branch.outlook else "few vehicles come here, so the tree was not grown further"
        return f"Nothing found carries a conclusion, and {why}. {self._likely(branch.place, pulley)}"

    def _worth(self, branch: GrownNode, check: Check) -> str:
        best = branch.outlook.best if branch.outlook else None
        if best is None or best.checks[0] != check.id:
            return "What follows needs it done first."
        worth = "Best for its time"
        if len(best.checks) > 1:
            worth += ", with what is made after it in the same stand"
        return f"{worth}. {self._likely(branch.place, self._pulley)}"

    def _likely(self, place: RoutePlace, pulley: str) -> str:
        shares = self._made(place)
        leading = self._likeliest(shares, pulley)[:MOST_NAMED]
        told = [self._cause(cause) for cause in leading if shares[cause] >= NAMED]
        return f"Likeliest so far: {'; '.join(told)}." if told else "No cause stands out so far."

    def _fits(self, cause: str, pulley: str) -> bool:
        only_for = self._knowledge.causes[cause].only_for
        return not only_for or pulley in only_for

    def _likeliest(self, shares: Mapping[str, float], pulley: str) -> list[str]:
        return sorted((cause for cause in shares if self._fits(cause, pulley)), key=lambda cause: -shares[cause])

    def _made(self, place: RoutePlace) -> dict[str, float]:
        stakes = self._planner.weigher.stakes
        belief = believed(stakes.network, stakes.symptom, (Alternative(1.0, dict(place.known)),))
        return {cause: recorded(probability) for cause, probability in belief.deciding.items()}

    def _cause(self, cause: str) -> str:
        return self._knowledge.causes[cause].name
