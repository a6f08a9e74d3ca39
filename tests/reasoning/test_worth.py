"""What checks are worth: all in one pass, against one outcome after another."""

import itertools
import math
import random
from functools import cache

import numpy as np
import pytest

from triage.knowledge.loading import load_knowledge
from triage.knowledge.models import PULLEYS, Check, Knowledge, Outcome
from triage.knowledge.shipped import trees_folder
from triage.knowledge.walk import fits
from triage.reasoning.evidence import NOTHING, Evidence, Found, complaint, meaning, together
from triage.reasoning.losses import Losses, losses_of
from triage.reasoning.network import Network, network_of
from triage.reasoning.posterior import posterior
from triage.reasoning.weights import Weights
from triage.reasoning.worth import Saving, answers_of, saving

LISTEN = "bearing-listen"


@cache
def shipped() -> Knowledge:
    return load_knowledge(trees_folder())


def by_hand(network: Network, known: Evidence, said: list[Evidence], losses: Losses) -> tuple[float, float]:
    """Savings and bits over answers that exclude each other, one posterior after another."""
    now = posterior(network, known)
    before = np.array(list(now.causes.values()))
    saves = bits = 0.0
    for one in said:
        then = posterior(network, together((known, one)))
        if then.causes:
            after = np.array(list(then.causes.values()))
            share = then.chance / now.chance
            saves += share * float(losses.of(after, losses.renewed(before)) - losses.least(after))
            bits += share * sum(
                p * math.log2(p / q)
                for a, b in zip(after.tolist(), before.tolist(), strict=True)
                for p, q in ((a, b), (1 - a, 1 - b))
                if p > 0
            )
    return saves, bits


def drawn(seed: int) -> tuple[str, Evidence, list[str]]:
    """Pulley, what is known after random results, readings near limits among them, and the checks left."""
    chance = random.Random(seed)
    pulley = chance.choice(PULLEYS)
    fitting = [check for check in shipped().checks if fits(shipped(), check, pulley)]
    pieces = [complaint(shipped(), chance.choice(sorted(shipped().trees)))]
    made = chance.sample(fitting, chance.randint(0, 12))
    for name in made:
        check = shipped().checks[name]
        zones: tuple[float, ...] = ()
        if check.reading and chance.random() < 0.5:
            shares = [chance.random() for _ in check.reading.zones]
            zones = tuple(share / sum(shares) for share in shares)
        pieces.append(meaning(shipped(), Found(name, (chance.choice(check.outcomes).id,), zones), pulley))
    return pulley, together(pieces), [check for check in fitting if check not in made]


@pytest.mark.parametrize("seed", range(25))
def test_all_checks_in_one_pass_agree_with_one_posterior_after_another(seed: int) -> None:
    pulley, known, left = drawn(seed)
    network = network_of(shipped(), pulley)
    losses = losses_of(
        network, Weights(for_nothing_by_cause={network.causes[0]: 30.0}, left_in_by_cause={network.causes[1]: 700.0})
    )
    found = saving(network, known, answers_of(shipped(), left, pulley), losses)
    if not known:
        assert not found.saves_min.any()
        return
    for at, name in enumerate(left):
        check = shipped().checks[name]
        if check.several:
            continue
        outcomes = (meaning(shipped(), Found(name, (outcome.id,)), pulley) for outcome in check.outcomes)
        saves, bits = by_hand(network, known, [told for told in outcomes if told != NOTHING], losses)
        assert found.saves_min[at] == pytest.approx(saves, abs=1e-6), name
        assert found.gain_bits[at] == pytest.approx(bits, abs=1e-6), name


def test_where_several_answers_may_be_given_the_worth_is_a_close_lower_bound() -> None:
    check = shipped().checks[LISTEN]
    abnormal = [outcome.id for outcome in check.outcomes if outcome.sign]
    subsets = [some for many in range(1, 9) for some in itertools.combinations(abnormal, many)]
    told = [("nothing",), *subsets]
    said = [meaning(shipped(), Found(LISTEN, outcomes), "decoupler") for outcomes in told]
    network = network_of(shipped(), "decoupler")
    losses = losses_of(network, Weights())
    for symptom in ("bearing-rumble", "belt-chirp", "shutdown-buzz"):
        known = complaint(shipped(), symptom)
        found = saving(network, known, answers_of(shipped(), [LISTEN], "decoupler"), losses)
        saves, bits = by_hand(network, known, said, losses)
        assert 0.8 * saves <= found.saves_min[0] <= saves + 1e-9
        assert 0.8 * bits <= found.gain_bits[0] <= bits + 1e-9


def test_a_check_that_asks_nothing_of_a_fault_is_worth_nothing() -> None:
    network = network_of(shipped(), "solid")
    found = saving(
        network,
        complaint(shipped(), "belt-squeal"),
        answers_of(shipped(), ["sound-belt-on", "mounting"], "solid"),
        losses_of(network, Weights()),
    )
    assert found.saves_min[0] == found.gain_bits[0] == 0.0
    assert found.gain_bits[1] > 0.0


def certain(rate: float, for_nothing: float, left_in: float) -> Saving:
    """A check that tells without fail whether the one cause is there."""
    outcomes = (Outcome(id="sound", words="Sound"), Outcome(id="bad", words="Bad", sign="s"))
    check = Check(
        id="look", name="Look", way="look", question="?", why="-", minutes=1, state="stopped", outcomes=outcomes
    )
    empty: dict[str, dict[str, object]] = {name: {} for name in Knowledge.model_fields}
    sign = {"id": "s", "name": "S"}
    knowledge = Knowledge.model_validate({**empty, "checks": {"look": check}, "signs": {"s": sign}})
    network = Network(("c",), np.array([rate, 1.0]), {"s": np.array([[0.0, 1.0], [1.0, 0.0]])})
    losses = Losses(np.array([for_nothing]), np.array([left_in]))
    return saving(network, NOTHING, answers_of(knowledge, ["look"], "solid"), losses)


@pytest.mark.parametrize(("rate", "saves"), [(0.1, 0.1 * 300), (0.9, 0.1 * 120), (0.0, 0.0)])
def test_certainty_saves_the_whole_expected_loss(rate: float, saves: float) -> None:
    assert certain(rate, 120.0, 300.0).saves_min == pytest.approx([saves])


def test_certainty_about_an_even_chance_is_one_bit() -> None:
    assert certain(0.5, 120.0, 300.0).gain_bits == pytest.approx([1.0])
