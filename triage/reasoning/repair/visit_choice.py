"""What to do in one visit: what cures, what is suspected besides, and worn parts that share the labour."""

import math
from dataclasses import dataclass
from functools import cached_property

from triage.knowledge.models import Remedy
from triage.reasoning.repair.costing import renewed
from triage.reasoning.repair.renewal import RenewalPlan
from triage.reasoning.repair.suspects import Suspects
from triage.reasoning.repair.visits import Visit, Work, visits
from triage.record.prices import VisitCost, WornPart

SUSPECT = 0.05
"""Share from which another repair may be done in the same visit, on suspicion. Source: from-memory."""
MOST_SUSPECTS, MOST_COMPANIONS, MOST_SHOWN = 2, 5, 6
PLACES = 2


@dataclass(frozen=True)
class Visiting:
    """The works of a visit."""

    suspects: Suspects

    @cached_property
    def curing(self) -> list[str]:
        """Weighed remedies of the conclusion, its own first; where two renew the same parts, one of them."""
        suspects, concluded = self.suspects, self.suspects.vehicle.concluded
        fitting = [one for one in suspects.weighed if suspects.cures[one] & concluded]
        different: dict[object, str] = {}
        for one in sorted(fitting, key=lambda one: not suspects.own[one] & concluded):
            different.setdefault(self._parts(one), one)
        return list(different.values())

    @cached_property
    def works(self) -> dict[str, Work]:
        """What may be done, by remedy."""
        suspects, cured = self.suspects, {self._parts(one) for one in self.curing}
        suspected = [
            one
            for one in suspects.weighed
            if suspects.share(suspects.cures[one]) >= SUSPECT and self._parts(one) not in cured
        ]
        chosen = dict.fromkeys([*self.curing, *suspected[:MOST_SUSPECTS], *self._companions])
        return {one: self._work(suspects.remedies[one]) for one in chosen}

    @cached_property
    def renewals(self) -> dict[str, RenewalPlan]:
        """By part whose age and life are known, how it is renewed in a visit of its own."""
        costing, found = self.suspects.costing, {}
        for part, life in costing.prices.lives.items():
            own = self._renewing(part)
            if own and part in self.suspects.vehicle.driven_m and not costing.in_hours:
                planned = costing.whole(self.suspects.remedies[own])
                found[part] = RenewalPlan(life, planned, planned + costing.prices.breakdown)
        return found

    @cached_property
    def touched(self) -> list[str]:
        """The parts of known age that a cure renews, or that are named with one; no age speaks for mere suspects."""
        works = [self.works[one] for one in dict.fromkeys([*self.curing, *self._companions])]
        return [part for part in self.renewals if any(part in work.renews for work in works)]

    def best(self) -> list[VisitCost]:
        """Each cure alone, the best visit with it, and the best of all; the least expected cost first."""
        cures = frozenset(self.curing)
        every = [visit for visit in self._every() if cures.intersection(visit.works)]
        every.sort(key=lambda visit: (round(visit.total, PLACES), len(visit.works)))
        shown = set(every[:1])
        for cure in self.curing:
            only = [visit for visit in every if cures.intersection(visit.works) == {cure}]
            shown |= {*only[:1], *(visit for visit in only if visit.works == (cure,))}
        return [self._told(visit) for visit in every if visit in shown][:MOST_SHOWN]

    def worn(self) -> list[WornPart]:
        """How far the parts of known age were driven, and how far that pays."""
        driven = self.suspects.vehicle.driven_m
        best = {part: self.renewals[part].best_age() for part in self.touched}
        return [
            WornPart(part=part, driven_m=round(driven[part]), best_m=round(age) if math.isfinite(age) else None)
            for part, age in best.items()
        ]

    @cached_property
    def _companions(self) -> list[str]:
        """Remedies of the worn parts that those of the conclusion name for a look."""
        remedies = self.suspects.remedies
        looked_at = (part.id for one in self.curing for part in remedies[one].parts if part.todo == "inspect")
        return list(dict.fromkeys(self._renewing(part) for part in looked_at if part in self.renewals))[
            :MOST_COMPANIONS
        ]

    def _every(self) -> list[Visit]:
        suspects, costing = self.suspects, self.suspects.costing
        access = {one: costing.labour(costing.access(one)) for one in costing.knowledge.accesses}
        driven, kept = suspects.vehicle.driven_m, costing.prices.kept_m
        ahead = {part: self.renewals[part].ahead(driven[part], kept) for part in self.touched}
        return list(visits(list(self.works.values()), access, ahead, suspects.tries.further))

    def _parts(self, remedy_id: str) -> object:
        return frozenset(renewed(self.suspects.remedies[remedy_id])) or remedy_id

    def _renewing(self, part: str) -> str:
        """The remedy that is there to renew this part: the first that begins with it.

        "" where this vehicle cannot have its faults, such as those of a clutch in a solid pulley, or it is not weighed.
        """
        suspects = self.suspects
        first = next((one for one in suspects.remedies.values() if renewed(one)[:1] == (part,)), None)
        return first.id if first and first.id in suspects.own and suspects.costing.known(first) else ""

    def _work(self, remedy: Remedy) -> Work:
        costing, cures = self.suspects.costing, self.suspects.cures[remedy.id]
        cost = costing.labour(costing.own(remedy)) + costing.parts(remedy)
        return Work(remedy.id, frozenset(remedy.access), cost, frozenset([*renewed(remedy), *remedy.brings]), cures)

    def _told(self, visit: Visit) -> VisitCost:
        suspects = self.suspects
        done = [suspects.remedies[one] for one in visit.works]
        cured = frozenset[str]().union(*(suspects.cures[one] for one in visit.works))
        return VisitCost(
            remedies=visit.works,
            cures=round(suspects.share(cured), 4),
            hours=round(suspects.costing.together(done), PLACES),
            parts=round(sum(map(suspects.costing.parts, done)), PLACES),
            now=round(visit.now, PLACES),
            further=round(visit.further, PLACES),
            ahead=round(visit.ahead, PLACES),
            total=round(visit.total, PLACES),
        )
