"""What grows by one finding at a time, against what is worked out at once."""

import random

import pytest

from triage.knowledge.loading import load_knowledge
from triage.knowledge.models import Knowledge
from triage.knowledge.shipped import trees_folder
from triage.reasoning.inference.evidence import Alternative, complaint, leading
from triage.reasoning.inference.evidence_rows import Likelihoods
from triage.reasoning.inference.making import believed
from triage.reasoning.inference.network import Network, network_of
from triage.reasoning.inference.open_sum import OpenSum, terms_of

PULLEY = "decoupler"
SYMPTOM = "belt-squeal"
SIGN = "pulley-slips"


@pytest.fixture(scope="module")
def knowledge() -> Knowledge:
    return load_knowledge(trees_folder())


@pytest.fixture(scope="module")
def network(knowledge: Knowledge) -> Network:
    return network_of(knowledge, PULLEY)


def begun(knowledge: Knowledge, network: Network) -> OpenSum:
    signs = complaint(knowledge, SYMPTOM)[0].signs
    return OpenSum(network, signs, terms_of(network, signs))


def grown(belief: OpenSum | None, told: Likelihoods) -> OpenSum | None:
    return belief.after(told, terms_of(belief.network, told)) if belief else None


@pytest.mark.parametrize("seed", range(6))
def test_a_belief_that_grew_agrees_with_the_posterior_of_all_its_findings(
    knowledge: Knowledge, network: Network, seed: int
) -> None:
    chance = random.Random(seed)
    belief: OpenSum | None = begun(knowledge, network)
    # With all of them abnormal, more digits are lost than are kept, and the exact way is taken.
    for made in chance.sample(sorted(knowledge.checks), 6 + 3 * seed):
        check = knowledge.checks[made]
        told = [one.id for one in check.outcomes if not one.says_nothing and one.id != check.normal(PULLEY)]
        if told:
            belief = grown(belief, leading(knowledge, made, chance.choice(told), PULLEY)) or belief
    assert belief
    expected = believed(network, "", (Alternative(1.0, dict(belief.signs)),))
    assert belief.chance == pytest.approx(expected.chance, rel=1e-4)


def test_a_sign_that_is_seen_again_counts_once(knowledge: Knowledge, network: Network) -> None:
    once = grown(begun(knowledge, network), {SIGN: (0.0, 1.0)})
    assert once
    again = once.after(once.signs, terms_of(network, once.signs))
    assert again
    assert again.chance == pytest.approx(once.chance)


def test_findings_that_contradict_each_other_leave_nothing(knowledge: Knowledge, network: Network) -> None:
    assert grown(begun(knowledge, network), {SYMPTOM: (1.0, 0.0)}) is None
