"""What checks are worth: all in one pass, against one outcome after another."""

import math
import random
from functools import cache

import pytest

from triage.knowledge.loading import load_knowledge
from triage.knowledge.models import PULLEYS, Knowledge
from triage.knowledge.shipped import trees_folder
from triage.knowledge.walk import fits
from triage.reasoning.advice.changeover import ARRIVED, Minutes, Standing
from triage.reasoning.advice.stakes import Stakes
from triage.reasoning.advice.worth import NextChecks, Offer, Standpoint, Weigher
from triage.reasoning.inference.evidence import (
    NOTHING,
    Alternative,
    Evidence,
    Found,
    complaint,
    leading,
    meaning,
    together,
)
from triage.reasoning.inference.making import believed
from triage.reasoning.route.routing import weigher_of
from triage.record.weights import Weights

LISTEN = "bearing-listen"


@cache
def shipped() -> Knowledge:
    return load_knowledge(trees_folder())


def weigher(symptom: str, pulley: str, weights: Weights | None = None) -> Weigher:
    return weigher_of(shipped(), symptom, pulley, weights or Weights())


def best_min(stakes: Stakes, known: Evidence) -> tuple[float, tuple[int, ...]]:
    """What the best end costs, one end after another."""
    sums = stakes.summed(known)
    ends = [(), *((at,) for at in range(len(stakes.network.causes)))]
    costs = {end: stakes.cost_min(known, end, sums) for end in ends}
    end = min(costs, key=lambda one: round(costs[one], 9))
    return costs[end], end


def by_hand(stakes: Stakes, known: Evidence, said: list[Evidence]) -> tuple[float, float]:
    """Savings and bits over answers that exclude each other, one answer after another."""
    now, (_, end) = believed(stakes.network, stakes.symptom, known), best_min(stakes, known)
    saves = bits = 0.0
    for one in said:
        both = together((known, one))
        then = believed(stakes.network, stakes.symptom, both)
        if then.chance > 1e-9 * now.chance:
            share = then.chance / now.chance
            saves += share * (stakes.cost_min(both, end, stakes.summed(both)) - best_min(stakes, both)[0])
            bits += share * sum(
                p * math.log2(p / q)
                for cause, a in then.deciding.items()
                for p, q in ((a, now.deciding[cause]), (1 - a, 1 - now.deciding[cause]))
                if p > 0 and q > 0
            )
    return saves, bits


def drawn(seed: int) -> tuple[str, str, Evidence, list[str]]:
    """Pulley, what is known after random results, readings near limits among them, and the checks left."""
    chance = random.Random(seed)
    pulley = chance.choice(PULLEYS)
    fitting = [check for check in shipped().checks if fits(shipped(), check, pulley)]
    symptom = chance.choice(sorted(shipped().trees))
    pieces = [complaint(shipped(), symptom)]
    made = chance.sample(fitting, chance.randint(0, 12))
    for name in made:
        check = shipped().checks[name]
        zones: tuple[float, ...] = ()
        if check.reading and chance.random() < 0.5:
            shares = [chance.random() for _ in check.reading.zones]
            zones = tuple(share / sum(shares) for share in shares)
        pieces.append(meaning(shipped(), Found(name, (chance.choice(check.outcomes).id,), zones), pulley))
    return symptom, pulley, together(pieces), [check for check in fitting if check not in made]


@pytest.mark.parametrize("seed", range(8))
def test_all_checks_in_one_pass_agree_with_one_answer_after_another(seed: int) -> None:
    symptom, pulley, known, left = drawn(seed)
    weights = Weights(for_nothing_by_cause={"belt-worn": 30.0}, left_in_by_cause={"tensioner-weak": 700.0})
    weighs = weigher(symptom, pulley, weights)
    found = weighs.outlook(Standpoint(known, None, ARRIVED), left)
    if not known:
        assert found is None
        return
    assert found
    for offer in found.checks:
        check = shipped().checks[offer.checks[0]]
        if not check.several:
            outcomes = (meaning(shipped(), Found(check.id, (outcome.id,)), pulley) for outcome in check.outcomes)
            saves, bits = by_hand(weighs.stakes, known, [told for told in outcomes if told != NOTHING])
            assert offer.saves_min == pytest.approx(saves, abs=0.051), check.id
            assert offer.gain_bits == pytest.approx(bits, abs=1e-4), check.id


@pytest.mark.parametrize("symptom", ["low-charge", "belt-squeal"])
def test_a_round_is_worth_what_walking_it_comes_to(symptom: str) -> None:
    pulley, known = "decoupler", complaint(shipped(), symptom)
    weighs = weigher(symptom, pulley)
    checks = [check for check in shipped().checks if fits(shipped(), check, pulley)]
    found = weighs.outlook(Standpoint(known, None, ARRIVED), checks)
    assert found
    assert found.rounds
    for offer in found.rounds:
        saves, minutes = walked(weighs, known, offer)
        assert offer.saves_min == pytest.approx(saves, abs=0.051)
        assert offer.minutes == pytest.approx(minutes, abs=0.051 * len(offer.checks))


def walked(weighs: Weigher, known: Evidence, offer: Offer) -> tuple[float, float]:
    """What a round saves and takes, check after check, ended where anything but the usual shows."""
    (_, end), (all_of,) = best_min(weighs.stakes, known), known
    whole = believed(weighs.stakes.network, weighs.stakes.symptom, known).chance
    saves = minutes = 0.0
    along = all_of
    standing: Standing = ARRIVED
    for name in offer.checks:
        check = shipped().checks[name]
        here = believed(weighs.stakes.network, weighs.stakes.symptom, (along,)).chance / whole
        minutes += here * Minutes().of(shipped(), check, standing)
        standing = shipped().states[check.state]
        normal = check.normal(weighs.pulley)
        for outcome in check.outcomes:
            if outcome.id == normal or outcome.says_nothing:
                continue
            more = Alternative(1.0, leading(shipped(), name, outcome.id, weighs.pulley))
            saves += fall(weighs.stakes, end, together(((along,), (more,))), whole)
        (along,) = together(((along,), (Alternative(1.0, leading(shipped(), name, normal, weighs.pulley)),)))
    return saves + fall(weighs.stakes, end, (along,), whole), minutes


def fall(stakes: Stakes, end: tuple[int, ...], known: Evidence, whole: float) -> float:
    if not known:
        return 0.0
    sums = stakes.summed(known)
    share = float(sums.chance[0]) / whole
    return share * (stakes.cost_min(known, end, sums) - best_min(stakes, known)[0]) if share > 1e-9 else 0.0


def test_a_round_can_pay_where_none_of_its_checks_does() -> None:
    weighs = weigher("bearing-rumble", "decoupler", Weights(left_in_min=50.0))
    found = weighs.outlook(Standpoint(complaint(shipped(), "bearing-rumble"), None, ARRIVED), list(shipped().checks))
    assert found
    paying = {one.checks[0] for one in found.checks if one.pays}
    assert any(one.pays and not paying & set(one.checks) for one in found.rounds)


def test_a_check_that_asks_nothing_of_a_fault_is_worth_nothing() -> None:
    known = complaint(shipped(), "belt-squeal")
    found = weigher("belt-squeal", "solid").outlook(Standpoint(known, None, ARRIVED), ["sound-belt-on", "mounting"])
    assert found
    asked, looked = found.checks
    assert asked.saves_min == asked.gain_bits == 0.0
    assert looked.gain_bits > 0.0


def test_nothing_is_named_that_nothing_spoke_for() -> None:
    known = together((complaint(shipped(), "belt-squeal"), meaning(shipped(), Found("belt-wear", ("worn",)), "solid")))
    weighs = weigher("belt-squeal", "solid")
    free, silent = (
        weighs.outlook(Standpoint(known, spoken, ARRIVED), ["belt-fit"]) for spoken in (None, frozenset[str]())
    )
    assert free
    assert silent
    assert free.end
    assert silent.end == ()


def test_a_check_that_is_a_ground_for_a_cause_opens_the_end_that_names_it() -> None:
    known = complaint(shipped(), "low-charge")
    found = weigher("low-charge", "solid").outlook(Standpoint(known, frozenset(), ARRIVED), list(shipped().checks))
    assert found
    assert found.end == ()
    assert any(one.saves_min > 0.0 for one in found.checks)


def test_what_saves_most_for_its_minutes_comes_first() -> None:
    dear, cheap = Offer(("dear",), 30.0, 20.0, 0.5), Offer(("cheap",), 20.0, 5.0, 0.1)
    assert NextChecks((dear, cheap), (), ()).best == cheap


def test_a_round_that_pays_is_made_where_no_check_pays() -> None:
    alone, both = Offer(("a",), 5.0, 8.0, 0.1), Offer(("a", "b"), 12.0, 9.0, 0.1)
    assert NextChecks((alone,), (both,), ()).best == both
    assert NextChecks((alone,), (), ()).best is None
