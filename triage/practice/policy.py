"""The reference policy: what the program itself would do next, by the figures behind `worth` and grown routes.

What pays most for its minutes comes next, and where nothing pays the search ends; greedy, so not the best there could
be. What the author of a tree keeps before other checks has no price: its own minutes are charged to nobody.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

from triage.knowledge.models import Knowledge
from triage.knowledge.precautions import NOT_DONE, Precautions
from triage.reasoning.advice.changeover import Standing, minutes_of, standing_after
from triage.reasoning.advice.worth import NextChecks, Offer, Standpoint, Weigher
from triage.reasoning.inference.circumstances import VehicleFacts, shifts_of
from triage.reasoning.inference.evidence import Found, evidence_of
from triage.reasoning.inference.making import Belief, believed
from triage.reasoning.route.routing import next_of, openers, weigher_of
from triage.record.weights import Weights

MOST_AHEAD = 10
"""Checks that are looked at after an answer, the best of before first."""
LIKELY = 0.02
"""Answers of a smaller chance are taken to be the end of the search."""
Findings = Mapping[str, tuple[str, ...]]
"""The outcomes of each check, in the order in which they were found; none where it could not be done."""


@dataclass(frozen=True)
class Seen:
    """What the reference makes of a place.

    Args:
        outlook: what the checks that are left are worth.
        offer: what comes next; None where the search ends.
        end_min: what the best end costs from here [min].
        value_min: what it costs from here with the best offer, or none where none pays [min].
    """

    outlook: NextChecks
    offer: Offer | None
    end_min: float
    value_min: float


@dataclass(frozen=True)
class Reference:
    """The reference at one vehicle, by what is known of it.

    Args:
        knowledge: causes, signs, checks and trees.
        symptom: the complaint.
        pulley: the specified pulley type.
        driven_m: its odometer [m].
        weights: minutes and losses.
        lacking: tools that are not at hand.
    """

    knowledge: Knowledge
    symptom: str
    pulley: str
    driven_m: float | None
    weights: Weights
    lacking: tuple[str, ...] = ()

    @cached_property
    def precautions(self) -> Precautions:
        """What the author of the tree makes sure of before each check."""
        return Precautions(self.knowledge, self.knowledge.trees[self.symptom], self.pulley)

    def weigher(self, findings: Findings) -> Weigher:
        """What weighs checks, where answers about the past shift how likely causes are."""
        facts = VehicleFacts(self.pulley, self.driven_m)
        shifts = shifts_of(self.knowledge, facts, _found(findings))
        return weigher_of(self.knowledge, self.symptom, self.pulley, self.weights, shifts)

    def at(self, findings: Findings, standing: Standing | None) -> Standpoint:
        """Where a search stands."""
        grounds = self.weigher(findings).grounds
        told = [
            grounds.get(check, {}).get(one, frozenset[str]())
            for check, outcomes in findings.items()
            for one in outcomes
        ]
        known = evidence_of(self.knowledge, self.symptom, _found(findings), self.pulley)
        return Standpoint(known, frozenset[str]().union(*told), standing)

    def belief(self, findings: Findings) -> Belief:
        """How likely each cause is to have made the complaint."""
        return believed(self.weigher(findings).stakes.network, self.symptom, self.at(findings, None).known)

    def seen(self, findings: Findings, standing: Standing) -> Seen | None:
        """What comes next; None where the findings contradict each other."""
        left = self.left(findings)
        weighed = self._weighed(findings, standing, left)
        if weighed is None:
            return None
        outlook, end_min, value_min = weighed
        made = {check: next(iter(outcomes), NOT_DONE) for check, outcomes in findings.items()}
        may = self.precautions.open_after(made)
        now = [one for one in left if one in may]
        following = next_of(outlook, now, lambda: openers(self.precautions, made, now))
        return Seen(outlook, _offered(outlook, following), end_min, value_min)

    def _weighed(
        self, findings: Findings, standing: Standing, checks: Sequence[str]
    ) -> tuple[NextChecks, float, float] | None:
        weigher, at = self.weigher(findings), self.at(findings, standing)
        outlook = weigher.outlook(at, checks)
        if outlook is None:
            return None
        end_min = weigher.stakes.cost_min(at.known, outlook.end, weigher.stakes.summed(at.known))
        paying = [one for one in (*outlook.checks, *outlook.rounds) if one.pays]
        return outlook, end_min, end_min + min((self._charged(one) - one.saves_min for one in paying), default=0.0)

    def _charged(self, offer: Offer) -> float:
        return max(offer.minutes - self._kept(offer.checks), 0.0)

    def _kept(self, checks: Sequence[str]) -> float:
        """The minutes of the precautions among checks: they have no price [min]."""
        return sum(self.knowledge.checks[one].minutes for one in checks if one in self.precautions.guards)

    def cost(self, findings: Findings, standing: Standing, checks: Sequence[str], seen: Seen) -> float:
        """What it is expected to cost from a place where checks are made next, and then the best offer [min].

        Up to the first unusual answer: what is left of the go is on offer like everything else then.

        Args:
            findings: what was found before.
            standing: how the vehicle stands before.
            checks: what is made in one go.
            seen: what the reference makes of the place: what it offers there is what is looked at afterwards.
        """
        after = self.standing_after(standing, checks)
        offered = sorted((one for one in seen.outlook.checks if one.saves_min), key=lambda one: one.order)
        ahead = [one.checks[0] for one in offered]
        total = 0.0
        for answer, chance in self.weigher(findings).ways(self.at(findings, standing), checks):
            made = [check for check, _ in answer.outcomes]
            then = {**findings, **{check: (outcome,) for check, outcome in answer.outcomes}}
            left = [one for one in ahead if one not in made][:MOST_AHEAD] if chance >= LIKELY else []
            weighed = self._weighed(then, after, left)
            total += chance * (self.charged(standing, made) + (weighed[2] if weighed else seen.value_min))
        return total

    def charged(self, standing: Standing, checks: Sequence[str]) -> float:
        """What a go takes from where the vehicle stands, but for the minutes of precautions [min]."""
        made = [self.knowledge.checks[one] for one in checks]
        return max(minutes_of(self.weights).of_go(self.knowledge, made, standing) - self._kept(checks), 0.0)

    def standing_after(self, standing: Standing, checks: Sequence[str]) -> Standing:
        """How the vehicle stands after a go."""
        return standing_after(self.knowledge, self.knowledge.checks[checks[-1]], standing)

    def left(self, findings: Findings) -> list[str]:
        """The checks that can still be made: tools at hand, the complaint there where they need it, nothing closed."""
        shut = any(self._says(check, outcomes, "closes_running") for check, outcomes in findings.items())
        named = self.knowledge.trees[self.symptom].complaint
        absent = named is not None and any(
            self._says(check, outcomes, "absent") for check, outcomes in findings.items() if check == named.now
        )
        return [
            check
            for check in self.precautions.checks
            if check not in findings
            and not set(self.knowledge.checks[check].tools) & set(self.lacking)
            and not (absent and self.knowledge.checks[check].needs_complaint)
            and not (shut and self._runs(check))
        ]

    def _says(self, check: str, outcomes: Sequence[str], what: str) -> bool:
        said = [one for one in map(self.knowledge.checks[check].outcome, outcomes) if one]
        return any(one.complaint == what if what == "absent" else one.closes_running for one in said)

    def _runs(self, check: str) -> bool:
        state = self.knowledge.states.get(self.knowledge.checks[check].state)
        return state is not None and state.engine == "running"


def _found(findings: Findings) -> list[Found]:
    return [Found(check, outcomes) for check, outcomes in findings.items()]


def _offered(outlook: NextChecks, check: str | None) -> Offer | None:
    """The offer that begins with a check: the best where that is it, else the check alone."""
    if check is None:
        return None
    best = outlook.best
    return best if best and best.checks[0] == check else next(one for one in outlook.checks if one.checks[0] == check)
