"""Which repairs the likely causes ask for, what trying each costs, and what it would cure."""

from collections.abc import Callable, Collection, Mapping
from dataclasses import dataclass
from functools import cached_property

from triage.knowledge.models import Remedy
from triage.reasoning.inference.rounding import even
from triage.reasoning.repair.costing import Costing
from triage.reasoning.repair.repair_order import Causes, Repair, Tries

LEAST_SHARE = 0.01
"""Repairs that would cure a smaller share are not weighed. Source: from-memory."""
MOST_TRIES = 8
"""Every set of them is weighed. Source: common practice, two hundred sets at most."""
MINUTES_IN_HOUR = 60.0


@dataclass(frozen=True)
class SuspectVehicle:
    """What is known of the vehicle.

    Args:
        symptom: the complaint.
        causes: every cause that it can have.
        gone: probability that the complaint is gone where these causes are out of the way [1].
        concluded: the causes that the tree stands by.
        made: checks that were made or could not be.
        driven_m: by part, how far it has been driven; parts of unknown age are missing.
    """

    symptom: str
    causes: tuple[str, ...]
    gone: Callable[[Causes], float]
    concluded: Causes
    made: Collection[str]
    driven_m: Mapping[str, float]


@dataclass(frozen=True)
class Suspects:
    """Remedies of a vehicle, weighed."""

    costing: Costing
    vehicle: SuspectVehicle

    @cached_property
    def own(self) -> dict[str, Causes]:
        """By remedy, the causes whose remedy it is; remedies for parts that this vehicle lacks are missing."""
        causes = self.costing.knowledge.causes
        found = {one: frozenset(c for c in self.vehicle.causes if causes[c].remedy == one) for one in self.remedies}
        return {one: those for one, those in found.items() if those}

    @cached_property
    def cures(self) -> dict[str, Causes]:
        """By remedy, every cause that it puts right; only its own where no price tells a part from the whole."""
        fitting, found = frozenset(self.vehicle.causes), {}
        for one, own in self.own.items():
            whole = self.remedies[one].brings and self.costing.in_hours
            found[one] = own if whole else (own | {*self.remedies[one].also_cures}) & fitting
        return found

    @cached_property
    def likely(self) -> list[str]:
        """Remedies worth a word, the likeliest cure first; those of the conclusion always, and in front of equals."""
        share = {one: self.share(cures) for one, cures in self.cures.items()}
        counted = [one for one in share if share[one] >= LEAST_SHARE or self.own[one] & self.vehicle.concluded]
        return sorted(counted, key=lambda one: (-even(share[one]), not self.own[one] & self.vehicle.concluded))

    @cached_property
    def weighed(self) -> list[str]:
        """Those of them whose labour and prices are known."""
        return [one for one in self.likely if self.costing.known(self.remedies[one])]

    @cached_property
    def tries(self) -> Tries:
        """What can be tried: all of a remedy at once, or a look first where a check can still tell.

        Nothing where the tree stands by causes whose remedies cannot be weighed.
        """
        repairs = []
        concluded = self.vehicle.concluded
        tried = not concluded or any(self.cures[one] & concluded for one in self.weighed)
        for one in map(self.remedies.__getitem__, self.weighed if tried else ()):
            repairs += [self._looked(one)] if self.look(one) else []
            repairs.append(Repair(one.id, self.costing.whole(one), 0.0, self.cures[one.id]))
        return Tries(repairs[:MOST_TRIES], self.vehicle.gone)

    @property
    def remedies(self) -> Mapping[str, Remedy]:
        """All remedies."""
        return self.costing.knowledge.remedies

    def share(self, causes: Causes) -> float:
        """Probability that the complaint is gone where these causes are out of the way [1]."""
        return self.vehicle.gone(causes)

    def look(self, remedy: Remedy) -> str:
        """The check that can still tell whether it is this one; "" where there is none, or it was made already."""
        return remedy.look.check if remedy.look and remedy.look.check not in self.vehicle.made else ""

    def _looked(self, remedy: Remedy) -> Repair:
        costing, opened = self.costing, remedy.look.access if remedy.look else ()
        check = costing.knowledge.checks[self.look(remedy)]
        hours = check.minutes / MINUTES_IN_HOUR + sum(map(costing.access, opened))
        more = costing.own(remedy) + sum(costing.access(one) for one in remedy.access if one not in opened)
        mend = costing.labour(more) + costing.parts(remedy)
        return Repair(remedy.id, costing.labour(hours), mend, self.own[remedy.id], check.id)
