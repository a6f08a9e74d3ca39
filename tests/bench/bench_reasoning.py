"""How fast a posterior is beside an independent library's variable elimination, as ratios in one run.

    python tests/bench/bench_reasoning.py [SETS]

Random result sets on the shipped network, the same for both. Network and evidence are made beforehand; the library's
network holds only the signs that were looked at, which helps the library. Needs the dev extra (pyagrum).
"""

import importlib.util
import random
import statistics
import sys
import time
from collections.abc import Callable
from pathlib import Path
from types import ModuleType

from triage.knowledge.walk import fits
from triage.reasoning.evidence import Evidence, Found, complaint, meaning, together
from triage.reasoning.network import Network, network_of
from triage.reasoning.posterior import posterior

RESULTS = 5
FRAME_S = 0.016
PULLEY = "decoupler"


def comparison() -> ModuleType:
    """The test that builds the library's network."""
    path = Path(__file__).parents[1] / "reasoning" / "test_against_pyagrum.py"
    spec = importlib.util.spec_from_file_location("against", path)
    assert spec
    assert spec.loader
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def drawn(against: ModuleType, chance: random.Random, results: int) -> Evidence:
    """Evidence of so many random results, of one alternative; drawn again where it contradicts itself."""
    knowledge = against.shipped()
    fitting = [check for check in knowledge.checks if fits(knowledge, check, PULLEY)]
    while True:
        findings = [
            Found(check, (chance.choice(knowledge.checks[check].outcomes).id,))
            for check in chance.sample(fitting, min(results, len(fitting)))
        ]
        pieces = [meaning(knowledge, found, PULLEY) for found in findings]
        evidence: Evidence = together([complaint(knowledge, sorted(knowledge.trees)[0]), *pieces])
        if len(evidence) == 1:
            return evidence


def seconds(task: Callable[[], object], times: int) -> float:
    """The least time of a task, so that other work on the machine counts as little as may be."""
    taken = []
    for _ in range(times):
        begun = time.perf_counter()
        task()
        taken.append(time.perf_counter() - begun)
    return min(taken)


def eliminating(against: ModuleType, network: Network, evidence: Evidence) -> Callable[[], object]:
    """The library's variable elimination over the same evidence, its network built beforehand."""
    gum = against.gum
    bayes, seen = against.built(network, evidence[0].signs)

    def infer() -> None:
        inference = gum.VariableElimination(bayes)
        inference.setEvidence(seen)
        for cause in network.causes:
            inference.posterior(cause)

    return infer


def main(sets: int) -> None:
    """Print the ratios."""
    against, chance = comparison(), random.Random(7)
    network = network_of(against.shipped(), PULLEY)
    ratios = []
    for _ in range(sets):
        found = drawn(against, chance, RESULTS)
        own = seconds(lambda found=found: posterior(network, found), 20)  # type: ignore[misc]
        ratios.append(seconds(eliminating(against, network, found), 3) / own)
    print(f"{RESULTS} results: library / own, median {statistics.median(ratios):.0f}, least {min(ratios):.0f}")
    for results in (5, 10, 15, 20, len(against.shipped().checks)):
        evidence = [drawn(against, chance, results) for _ in range(sets)]
        longest = max(seconds(lambda one=one: posterior(network, one), 5) for one in evidence)  # type: ignore[misc]
        print(f"{results} results: longest posterior {longest / FRAME_S:.2f} of a screen frame")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 20)
