"""The next check of a planned route, and where it ends: what a session off its tree, a grown tree and a rival go by.

What pays most for its minutes comes next, as long as anything pays; so does the worth of a check on screen, by the same
figures. Only the tree's own checks are used, behind its author's precautions: where what pays may only be made after
others, the first of those comes next.
"""

from collections.abc import Callable, Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property

from triage.knowledge.grounds import Grounds, grounds
from triage.knowledge.models import Knowledge, Node
from triage.knowledge.precautions import NOT_DONE, Precautions
from triage.reasoning.advice.changeover import ARRIVED, Standing, minutes_of, standing_after
from triage.reasoning.advice.stakes import Stakes, stakes_of
from triage.reasoning.advice.worth import NextChecks, Standpoint, Weigher
from triage.reasoning.inference.answers import leading_answers
from triage.reasoning.inference.evidence import Alternative, Likelihoods, both, complaint
from triage.reasoning.inference.kept_per_knowledge import kept
from triage.reasoning.inference.network import NO_SHIFTS, Shifts, rates_of
from triage.reasoning.route.followed_ways import NextNode
from triage.record.weights import Weights

GROWN = "grown"
"""The name of a planned route where it is weighed against trees."""


@dataclass(frozen=True)
class RoutePlace:
    """Where a planned route stands.

    Args:
        made: the outcome of each check so far, `NOT_DONE` where it could not be done.
        known: what the complaint and the outcomes say, by sign.
        spoken: the causes that something spoke for.
        standing: how the vehicle stands.
    """

    made: Mapping[str, str]
    known: Likelihoods
    spoken: frozenset[str] = frozenset()
    standing: Standing = ARRIVED


@dataclass(frozen=True)
class RoutePlanner:
    """Plans routes for one complaint at one kind of vehicle.

    Args:
        knowledge: causes, signs, checks and the complaint's tree.
        symptom: the complaint.
        pulley: the specified pulley type.
        weights: what checks and turns of the vehicle take, and what wrong ends cost.
        left_out: checks that are not to be made.
    """

    knowledge: Knowledge
    symptom: str
    pulley: str
    weights: Weights
    left_out: frozenset[str] = frozenset()
    _seen: dict[tuple[tuple[str, str], ...], tuple[str | None, NextChecks]] = field(default_factory=dict, compare=False)
    _open: dict[frozenset[tuple[str, str]], frozenset[str]] = field(default_factory=dict, compare=False)

    @cached_property
    def weigher(self) -> Weigher:
        """Weighs its checks."""
        return weigher_of(self.knowledge, self.symptom, self.pulley, self.weights)

    @cached_property
    def precautions(self) -> Precautions:
        """What the author makes sure of before each check."""
        return Precautions(self.knowledge, self.knowledge.trees[self.symptom], self.pulley)

    @property
    def start(self) -> RoutePlace:
        """Where every route begins."""
        told = complaint(self.knowledge, self.symptom)
        return RoutePlace({}, {sign: likelihood for one in told for sign, likelihood in one.signs.items()})

    def after(self, place: RoutePlace, check: str, outcome: str) -> RoutePlace:
        """Where it stands after an outcome; what could not be done tells nothing and moves nothing."""
        made = {**place.made, check: outcome}
        if outcome == NOT_DONE:
            return RoutePlace(made, place.known, place.spoken, place.standing)
        (likelihoods,) = next(
            one.likelihoods
            for one in leading_answers(self.knowledge, self.pulley, check)
            if one.outcomes == ((check, outcome),)
        )
        spoken = place.spoken | self.weigher.grounds.get(check, {}).get(outcome, frozenset())
        standing = standing_after(self.knowledge, self.knowledge.checks[check], place.standing)
        return RoutePlace(made, both(place.known, likelihoods), spoken, standing)

    def next(self, place: RoutePlace) -> tuple[str | None, NextChecks]:
        """The next check, None where the search ends, and the figures that say so."""
        key = tuple(place.made.items())
        if key not in self._seen:
            now = [check for check in self.open_after(place.made) if check not in place.made]
            left = [check for check in self.precautions.checks if check not in {*place.made, *self.left_out}]
            outlook = self.weigher.outlook(
                Standpoint((Alternative(1.0, dict(place.known)),), place.spoken, place.standing), left
            )
            assert outlook is not None  # noqa: S101 - a place is only come to by what can be
            self._seen[key] = next_of(outlook, now, lambda: openers(self.precautions, place.made, now)), outlook
        return self._seen[key]

    def open_after(self, made: Mapping[str, str]) -> list[str]:
        """The checks that may be made now, in the author's order."""
        opened = self._opened(made)
        return [check for check in self.precautions.checks if check in opened and check not in self.left_out]

    def _opened(self, made: Mapping[str, str]) -> frozenset[str]:
        lacking = dict.fromkeys(self.left_out, NOT_DONE)
        told = {check: outcome for check, outcome in {**lacking, **made}.items() if check in self.precautions.guards}
        key = frozenset(told.items())
        if key not in self._open:
            self._open[key] = self.precautions.open_after(told)
        return self._open[key]

    def route(self) -> NextNode:
        """The route, planned where vehicles come."""
        places: dict[tuple[tuple[str, str], ...], RoutePlace] = {(): self.start}

        def place(told: tuple[tuple[str, str], ...]) -> RoutePlace:
            if told not in places:
                places[told] = self.after(place(told[:-1]), *told[-1])
            return places[told]

        def route(findings: Mapping[str, tuple[str, ...]]) -> Node:
            check, outlook = self.next(place(tuple((check, outcome) for check, (outcome,) in findings.items())))
            if check is not None:
                return Node(check=check)
            named = self.named(outlook)
            return Node(conclude=named) if named else Node(end="undecided")

        return route

    def named(self, outlook: NextChecks) -> tuple[str, ...]:
        """The causes that the best end names."""
        return tuple(self.weigher.stakes.network.causes[at] for at in outlook.end)


def openers(precautions: Precautions, made: Mapping[str, str], now: Iterable[str]) -> list[str]:
    """The checks that let others be made which may not be made yet, alone or else with others of them."""
    may = precautions.open_after(made)
    guards = [check for check in now if check in precautions.guards]
    alone = [
        check
        for check in guards
        if any(
            precautions.open_after({**made, check: outcome.id}) - may for outcome in precautions.guards[check].outcomes
        )
    ]
    return alone or _open_together(precautions, made, guards)


def _open_together(precautions: Precautions, made: Mapping[str, str], guards: Sequence[str]) -> list[str]:
    """Of some precautions those without which all of them, normal, would open less."""
    normal = {check: precautions.guards[check].outcomes[0].id for check in guards}
    most = precautions.open_after({**made, **normal})

    def less(check: str) -> bool:
        others = {other: outcome for other, outcome in normal.items() if other != check}
        return bool(most - precautions.open_after({**made, **others}))

    return [check for check in guards if less(check)]


def next_of(outlook: NextChecks, now: Collection[str], opening: Callable[[], Sequence[str]]) -> str | None:
    """The check that comes next; None where nothing pays, or what pays cannot be come to.

    Args:
        outlook: what the checks that are left are worth.
        now: those that may be made now.
        opening: those of them that let others be made.
    """
    best = outlook.best
    if best is None or best.checks[0] in now:
        return best.checks[0] if best else None
    if first := opening()[:1]:
        return first[0]
    reached = [one for one in (*outlook.checks, *outlook.rounds) if one.pays and one.checks[0] in now]
    return min(reached, key=lambda one: one.order).checks[0] if reached else None


def weigher_of(
    knowledge: Knowledge, symptom: str, pulley: str, weights: Weights, shifts: Shifts = NO_SHIFTS
) -> Weigher:
    """What weighs the checks for a complaint; all of it that no finding changes is kept."""
    name = ("weigher", symptom, pulley, weights.model_dump_json())
    stakes: Stakes = kept(knowledge, name, lambda: stakes_of(knowledge, pulley, symptom, weights))
    if shifts:
        stakes = stakes.with_rates(rates_of(knowledge, stakes.network.causes, shifts))
    return Weigher(knowledge, pulley, stakes, minutes_of(weights), grounds_of(knowledge, symptom))


def grounds_of(knowledge: Knowledge, symptom: str) -> Grounds:
    """The grounds of a symptom's tree."""
    return kept(knowledge, ("grounds", symptom), lambda: grounds(knowledge, knowledge.trees[symptom]))
