"""How fast posteriors and the worth of checks are beside an independent library's variable elimination, in one run.

    python tests/bench/bench_reasoning.py [SETS]

Random result sets on the shipped network, the same for both. Network and evidence are made beforehand; the library's
network holds only the signs that were looked at, which helps the library. For the worth of all checks that are left
the library gives one posterior for each answer; that is measured on every tenth answer and counted tenfold. Times are
processor times, the library's on one thread. Needs the dev extra (pyagrum).
"""

import importlib.util
import random
import statistics
import sys
import time
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from types import ModuleType

from triage.knowledge.models import Knowledge
from triage.knowledge.walk import fits
from triage.reasoning.advice.changeover import ARRIVED
from triage.reasoning.advice.worth import Standpoint
from triage.reasoning.inference.evidence import Evidence, Found, complaint, meaning, together
from triage.reasoning.inference.making import believed
from triage.reasoning.inference.network import Network, network_of
from triage.reasoning.route.routing import weigher_of
from triage.record.weights import Weights

RESULTS = 5
STEP = 10
"""Every so many-th answer is given to the library."""
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


@dataclass(frozen=True)
class Drawn:
    """Random results: what is known, and the checks that are left."""

    known: Evidence
    left: list[str]


def drawn(against: ModuleType, chance: random.Random, results: int) -> Drawn:
    """So many random results, of one alternative; drawn again where they contradict each other."""
    knowledge = against.shipped()
    fitting = [check for check in knowledge.checks if fits(knowledge, check, PULLEY)]
    while True:
        made = chance.sample(fitting, min(results, len(fitting)))
        findings = [Found(check, (chance.choice(knowledge.checks[check].outcomes).id,)) for check in made]
        pieces = [meaning(knowledge, found, PULLEY) for found in findings]
        known: Evidence = together([complaint(knowledge, sorted(knowledge.trees)[0]), *pieces])
        if len(known) == 1:
            return Drawn(known, [check for check in fitting if check not in made])


def seconds(task: Callable[[], object], times: int) -> float:
    """The least processor time of a task, so that other work on the machine counts as little as may be."""
    taken = []
    for _ in range(times):
        begun = time.process_time()
        task()
        taken.append(time.process_time() - begun)
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


def answering(against: ModuleType, found: Drawn) -> list[Evidence]:
    """What would be known after each answer to each check that is left."""
    knowledge = against.shipped()
    said = (
        meaning(knowledge, Found(check, (outcome.id,)), PULLEY)
        for check in found.left
        for outcome in knowledge.checks[check].outcomes
        if not outcome.says_nothing
    )
    return [known for one in said if (known := together((found.known, one)))]


def worth_s(found: Drawn, knowledge: Knowledge, times: int) -> float:
    """The least time for the worth of all checks that are left and their rounds, as a session asks for it."""
    weigher = weigher_of(knowledge, sorted(knowledge.trees)[0], PULLEY, Weights())
    at = Standpoint(found.known, None, ARRIVED)
    return seconds(lambda: weigher.outlook(at, found.left), times)


def compare(against: ModuleType, chance: random.Random, sets: int) -> None:
    """Print both ratios."""
    network = network_of(against.shipped(), PULLEY)
    ratios, worths = [], []
    for _ in range(sets):
        found = drawn(against, chance, RESULTS)
        own = seconds(lambda found=found: believed(network, "", found.known), 20)  # type: ignore[misc]
        ratios.append(seconds(eliminating(against, network, found.known), 3) / own)
        each = [seconds(eliminating(against, network, one), 1) for one in answering(against, found)[::STEP]]
        worths.append(sum(each) * STEP / worth_s(found, against.shipped(), 20))
    for what, some in (("posterior", ratios), ("worth of all checks left", worths)):
        print(f"{RESULTS} results, {what}: library / own, median {statistics.median(some):.0f}, least {min(some):.0f}")


def frames(against: ModuleType, chance: random.Random, sets: int) -> None:
    """Print the longest times in screen frames."""
    knowledge = against.shipped()
    network = network_of(knowledge, PULLEY)
    for results in (5, 10, 15, 20, 25, 30, 35, 40, len(knowledge.checks)):
        found = [drawn(against, chance, results) for _ in range(sets)]
        longest = max(seconds(lambda one=one: believed(network, "", one.known), 7) for one in found)  # type: ignore[misc]
        worth = max(worth_s(one, knowledge, 7) for one in found)
        told = f"longest posterior {longest / FRAME_S:.2f}, longest worth {worth / FRAME_S:.2f} of a screen frame"
        print(f"{results} results: {told}")


def main(sets: int) -> None:
    """Print the ratios and the longest times."""
    against, chance = comparison(), random.Random(7)
    against.gum.setNumberOfThreads(1)
    compare(against, chance, sets)
    frames(against, chance, sets)


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 20)
