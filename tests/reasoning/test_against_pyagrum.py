"""Every posterior on the shipped network against an independent library.

There each sign is a chain of maxima, one node for each cause that produces it, so that no table grows with the causes.
"""

import itertools
import random
import warnings
from functools import cache
from typing import Any

import pytest

from tests.sizes import few_or_all
from triage.knowledge.loading import load_knowledge
from triage.knowledge.models import Knowledge, Pulley
from triage.knowledge.shipped import trees_folder
from triage.knowledge.walk import fits
from triage.reasoning.inference.circumstances import VehicleFacts, shifts_of
from triage.reasoning.inference.evidence import Evidence, Found, complaint, meaning, together
from triage.reasoning.inference.making import believed
from triage.reasoning.inference.network import Network, network_of

with warnings.catch_warnings():
    warnings.simplefilter("ignore")
    gum = pytest.importorskip("pyagrum")

SETS = few_or_all(60, 200)
MOST_RESULTS = 7
KINDS: tuple[Pulley, ...] = ("solid", "isolator", "one-way-clutch", "decoupler", "unknown")


@cache
def shipped() -> Knowledge:
    return load_knowledge(trees_folder())


def built(net: Network, evidence: dict[str, tuple[float, ...]]) -> tuple[Any, dict[str, list[float]]]:
    """The other library's network with its evidence; signs that nobody looked at weigh nothing and are left out."""
    bayes = gum.BayesNet()
    for cause, rate in zip(net.causes, net.base_rates.tolist(), strict=False):
        bayes.add(gum.LabelizedVariable(cause, cause, 2))
        bayes.cpt(cause).fillWith([1 - rate, rate])
    return bayes, {chain(bayes, net, sign): list(likelihood) for sign, likelihood in evidence.items()}


def outside(net: Network, evidence: Evidence) -> list[float]:
    """The same posterior from the other library; alternatives are weighed with the chance that it gives each."""
    weighed = [(one.weight * chance, shares) for one in evidence for chance, shares in [inferred(net, one.signs)]]
    total = sum(weight for weight, _ in weighed)
    return [sum(weight * shares[at] for weight, shares in weighed) / total for at in range(len(net.causes))]


def inferred(net: Network, evidence: dict[str, tuple[float, ...]]) -> tuple[float, list[float]]:
    bayes, seen = built(net, evidence)
    inference = gum.LazyPropagation(bayes)
    inference.setEvidence(seen)
    inference.setTargets(set(net.causes))
    inference.makeInference()
    return inference.evidenceProbability(), [float(inference.posterior(cause)[1]) for cause in net.causes]


def chain(bayes: Any, net: Network, sign: str) -> str:
    columns = net.chances[sign].T.tolist()
    levels = range(len(columns[-1]))
    last = f"{sign}/leak"
    bayes.add(gum.LabelizedVariable(last, last, len(levels)))
    bayes.cpt(last).fillWith(columns[-1])
    for cause, column in zip(net.causes, columns, strict=False):
        if not any(column[1:]):
            continue
        node = f"{sign}/{cause}"
        bayes.add(gum.LabelizedVariable(node, node, len(levels)))
        bayes.addArc(last, node)
        bayes.addArc(cause, node)
        for low, flag in itertools.product(levels, (0, 1)):
            alone = column if flag else [1.0, *(0.0 for _ in levels[1:])]
            row = [0.0 if to < low else sum(alone[: low + 1]) if to == low else alone[to] for to in levels]
            bayes.cpt(node)[{last: low, cause: flag}] = row
        last = node
    return last


def random_findings(chance: random.Random, pulley: Pulley) -> list[Found]:
    knowledge = shipped()
    fitting = [check for check in knowledge.checks if fits(knowledge, check, pulley)]
    findings = []
    for name in chance.sample(fitting, chance.randint(0, MOST_RESULTS)):
        check = knowledge.checks[name]
        if check.reading and chance.random() < 0.7:
            shares = [chance.random() ** 3 for _ in check.reading.zones]
            findings.append(Found(name, ("",), tuple(share / sum(shares) for share in shares)))
        else:
            findings.append(Found(name, (chance.choice(check.outcomes).id,)))
    return findings


def drawn(seed: int) -> tuple[Network, Evidence]:
    chance = random.Random(seed)
    knowledge, pulley = shipped(), chance.choice(KINDS)
    symptom = chance.choice(sorted(knowledge.trees))
    findings = random_findings(chance, pulley)
    pieces = [meaning(knowledge, found, pulley) for found in findings]
    driven_m = chance.choice((None, chance.uniform(0.0, 4e8)))
    shifts = shifts_of(knowledge, VehicleFacts(pulley, driven_m), findings)
    return network_of(knowledge, pulley, shifts), together([complaint(knowledge, symptom), *pieces])


def test_random_result_sets_agree_with_the_other_library() -> None:
    virtual = compared = 0
    for seed in range(SETS):
        network, evidence = drawn(seed)
        if not evidence:
            assert believed(network, "", evidence).present == {}
            continue
        virtual += any(0 < share < 1 for one in evidence for likelihood in one.signs.values() for share in likelihood)
        expected = outside(network, evidence)
        assert list(believed(network, "", evidence).present.values()) == pytest.approx(expected, abs=1e-6), seed
        compared += 1
    assert compared > 0.9 * SETS
    assert virtual > 0.1 * SETS
