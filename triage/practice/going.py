"""Each go of a course against the reference: what it cost in expectation from the place where it was made.

A course is one of practice or of a real session: the same figures, without any truth.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Literal

from triage.practice.exercise import Gone
from triage.practice.policy import Findings, Reference, Seen
from triage.reasoning.advice.changeover import Standing
from triage.reasoning.advice.worth import Offer

Part = Literal["check", "judgement", "conclusion", "repair", "proof", "hints"]


@dataclass(frozen=True)
class ScoredStep:
    """One step with what it is charged.

    Args:
        part: what kind of loss it is.
        number: of the go that it was, from 0; one more than the last at the end.
        checks: what was made.
        regret_min: what it is charged [min].
        other: what the reference would have done; None where it would have ended.
    """

    part: Part
    number: int
    checks: tuple[str, ...]
    regret_min: float
    other: Offer | None = None


@dataclass(frozen=True)
class Course:
    """A course that has ended.

    Args:
        reference: at the same vehicle, knowing what could be known.
        goes: every go.
        made: what was judged in the end.
        how: how the vehicle stood in the end.
    """

    reference: Reference
    goes: tuple[Gone, ...]
    made: Findings
    how: Standing
    _seen: dict[int, Seen | None] = field(default_factory=dict, compare=False)
    _cost_min: dict[int, float] = field(default_factory=dict, compare=False)

    def seen(self, number: int) -> Seen | None:
        """What the reference makes of the place before a go, or of that at the end; None where it is contradictory."""
        if number not in self._seen:
            self._seen[number] = self.reference.seen(self.before(number), self.stood(number))
        return self._seen[number]

    def stood(self, number: int) -> Standing:
        """How the vehicle stood before a go, or at the end."""
        return self.goes[number].stood if number < len(self.goes) else self.how

    def before(self, number: int) -> Findings:
        """What was judged before a go, or in the end."""
        return self.goes[number].before if number < len(self.goes) else self.made

    def steps(self) -> list[ScoredStep]:
        """Every go with what it is charged."""
        return [self._of_go(number) for number in range(len(self.goes))]

    def _of_go(self, number: int) -> ScoredStep:
        gone, seen = self.goes[number], self.seen(number)
        if seen is None:
            return ScoredStep("check", number, gone.checks, 0.0)
        # The very same thing is charged nothing.
        if seen.offer is not None and (gone.asked or gone.checks) == seen.offer.checks:
            return ScoredStep("check", number, gone.checks, 0.0, seen.offer)
        regret = self._cost_of_go(number, gone.asked or gone.checks, seen) - self.by_reference(number)
        return ScoredStep("check", number, gone.checks, regret, seen.offer)

    def early(self) -> ScoredStep | None:
        """What it is charged that the search ended where the reference would have gone on."""
        last, seen = len(self.goes), self.seen(len(self.goes))
        if seen is None or seen.offer is None:
            return None
        return ScoredStep("check", last, (), seen.end_min - self.by_reference(last), seen.offer)

    def by_reference(self, number: int) -> float:
        """What it is expected to cost where the reference goes on from a place [min]."""
        if number not in self._cost_min:
            seen = self.seen(number)
            cost = 0.0 if seen is None else seen.end_min
            if seen is not None and seen.offer is not None:
                cost = self._cost_of_go(number, seen.offer.checks, seen)
            self._cost_min[number] = cost
        return self._cost_min[number]

    def _cost_of_go(self, number: int, checks: Sequence[str], seen: Seen) -> float:
        """What it is expected to cost to make checks next [min].

        What was learned can be left aside: it never costs more than to make them and go on as the reference would.
        """
        before, standing = self.before(number), self.stood(number)
        cost = self.reference.cost(before, standing, checks, seen)
        offered = seen.offer.checks if seen.offer else ()
        if checks == offered:
            return cost
        after, spent = self.reference.standing_after(standing, checks), self.reference.charged(standing, checks)
        rest = tuple(one for one in offered if one not in checks)
        aside = self.reference.cost(before, after, rest, seen) if rest else seen.end_min
        return min(cost, spent + aside)

    def end(self, findings: Findings) -> tuple[str, ...]:
        """The end that costs least by some findings: nothing, or one cause; nothing where they are contradictory."""
        weigher = self.reference.weigher(findings)
        outlook = weigher.outlook(self.reference.at(findings, None), ())
        return tuple(weigher.stakes.network.causes[at] for at in outlook.end) if outlook else ()

    def end_cost(self, findings: Findings, causes: Sequence[str]) -> float:
        """What it is expected to cost to conclude causes [min]."""
        stakes, known = self.reference.weigher(findings).stakes, self.reference.at(findings, None).known
        sums = stakes.summed(known)
        places = tuple(stakes.network.causes.index(one) for one in causes if one in stakes.network.causes)
        return float(stakes.cost_min(known, places, sums)) if sums.chance[0] > 0.0 else 0.0
