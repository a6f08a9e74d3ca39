"""Which repair first, and what to renew with it: the knowledge, a session's figures and a shop's prices put together.

What a repair cures is the probability that the complaint is gone after it: that nothing else made it. Which of several
repairs that cannot be told apart comes first, and what pays to be renewed while labour is shared, is never more than
money: what makes running unsafe is put right whatever it costs.
"""

from triage.knowledge.models import Knowledge
from triage.reasoning.repair.costing import Costing
from triage.reasoning.repair.repair_order import Repair, cured_by
from triage.reasoning.repair.suspects import Suspects, SuspectVehicle
from triage.reasoning.repair.visit_choice import Visiting
from triage.record.prices import NotWeighed, Prices, RepairChoice, Try

PLACES = 2


def repair_choice(knowledge: Knowledge, vehicle: SuspectVehicle, prices: Prices) -> RepairChoice:
    """Weigh the repairs of the likely causes.

    Args:
        knowledge: causes, remedies and shared labour.
        vehicle: what is known of it.
        prices: the shop's; labour alone is weighed where it has none.
    """
    suspects = Suspects(Costing(knowledge, prices), vehicle)
    visiting = Visiting(suspects)
    tries, best = suspects.tries, suspects.tries.best()
    return RepairChoice(
        currency=prices.currency,
        hour_rate=prices.hour_rate,
        source=prices.source,
        kept_m=prices.kept_m,
        tries=tuple(_told(suspects, one, tries.gain(one, cured_by(best[:place]))) for place, one in enumerate(best)),
        expected=round(tries.cost(best), PLACES),
        by_likelihood=round(tries.cost(tries.by_likelihood()), PLACES),
        visits=tuple(visiting.best()),
        worn=tuple(visiting.worn()),
        not_weighed=tuple(
            NotWeighed(remedy=one, unpriced=suspects.costing.unpriced(suspects.remedies[one]))
            for one in suspects.likely
            if one not in suspects.weighed
        ),
    )


def _told(suspects: Suspects, repair: Repair, gain: float) -> Try:
    costing, remedy = suspects.costing, suspects.remedies[repair.id]
    return Try(
        remedy=remedy.id,
        look=repair.look,
        cures=round(gain, 4),
        trial=round(repair.trial, PLACES),
        hours=round(costing.together([remedy]), PLACES),
        parts=round(costing.parts(remedy), PLACES),
        cost=round(costing.whole(remedy), PLACES),
    )
