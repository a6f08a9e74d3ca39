"""Make advice wrong one small step at a time, and see that the neighbouring tests notice.

    python tests/bench/mutants_of_advice.py [NUMBER ...]

Each mutant is one place of what ranks, weighs, routes or chooses repairs, changed in a copy of the program. It has to
be caught by the tests that lie beside its module, and those named with it; nobody else is asked. Ends with 0 when nine
of ten were caught.
"""

import argparse
import sys
import tempfile
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from tests.bench.mutants import Mutant
from tests.bench.mutants_of_rules import copied, noticed

MOST_SURVIVORS = 0.1
INFERENCE, ADVICE = "triage/reasoning/inference/", "triage/reasoning/advice/"
ROUTE, REPAIR = "triage/reasoning/route/", "triage/reasoning/repair/"
BESIDE = {
    INFERENCE: ("tests/reasoning/inference",),
    ADVICE: ("tests/reasoning/advice",),
    ROUTE: ("tests/reasoning/route", "tests/app/advising/test_own_route.py"),
    REPAIR: ("tests/reasoning/repair",),
    "triage/app/": (
        "tests/app/advising/test_advice.py",
        "tests/app/advising/test_costs.py",
        "tests/app/advising/test_own_route.py",
    ),
    "triage/session/choosing": ("tests/session/test_choosing.py",),
    "triage/reasoning/": ("tests/reasoning/test_conformity.py",),
    "triage/units/": ("tests/units",),
    "triage/present/": ("tests/present",),
}
"""Tests that lie beside the modules whose path begins so; the first that fits counts."""


def advice(file: str, old: str, new: str, why: str, *tests: str) -> Mutant:
    """A mutant that goes against no rule of safety."""
    return Mutant(0, file, old, new, why, tests)


MUTANTS = (
    # what is likely
    advice(
        INFERENCE + "making.py",
        "made += so * (pushes[:-1] * with_cause if complained else with_cause)",
        "made += so * with_cause",
        "a fault that is there counts as one that made the complaint",
    ),
    advice(
        INFERENCE + "making.py",
        "unlisted += so * pushes[-1] * every",
        "unlisted += so * every",
        "what is not listed made every complaint",
    ),
    advice(
        INFERENCE + "making.py",
        "still * (own / (1.0 - own))",
        "still * own",
        "a complaint is gone where its cause was not alone in making it",
    ),
    advice(
        INFERENCE + "evidence.py",
        "        signs[sign.id] = _absent(sign)\n    return signs if told.id",
        "    return signs if told.id",
        "an outcome no longer says that those before it were not seen",
    ),
    advice(
        INFERENCE + "evidence.py",
        "if not told or any(outcome.says_nothing for outcome in told):",
        "if not told:",
        "an answer that says nothing counts as evidence",
    ),
    advice(
        INFERENCE + "circumstances.py",
        'since_m = max(driven_m - vehicle.renewed_at_m.get(circumstance.part or "", 0.0), 0.0)',
        "since_m = driven_m",
        "a renewed part is as old as its vehicle",
    ),
    advice(
        ADVICE + "ranking.py",
        "key=lambda one: -one.probability",
        "key=lambda one: -one.present",
        "causes are ranked by being there",
    ),
    advice(
        ADVICE + "ranking.py",
        "_odds(probability) / _odds(causes[likely.cause])",
        "_odds(causes[likely.cause]) / _odds(probability)",
        "what speaks for a cause is told as speaking against it",
    ),
    advice(
        ADVICE + "ranking.py",
        "if not 1.0 / FAINT < reason.factor < FAINT",
        "if reason.factor >= FAINT",
        "what speaks against a cause is left out",
    ),
    # what is at stake and what is worth making
    advice(
        ADVICE + "stakes.py",
        "(sums.chance[:, None] - sums.made) * self.for_nothing_min",
        "sums.chance[:, None] * 0.0",
        "renewing a part for nothing costs nothing",
    ),
    advice(
        ADVICE + "stakes.py",
        "chances[1:, ~counted] = 0.0\n    chances[0, ~counted] = 1.0\n",
        "",
        "every complaint that stays costs what the dearest does",
    ),
    advice(
        ADVICE + "worth.py",
        "return self.saves_min > self.minutes",
        "return self.saves_min > 0.0",
        "a check pays whatever minutes it takes",
    ),
    advice(
        ADVICE + "worth.py",
        "-self.saves_min / max(self.minutes, LEAST_MIN)",
        "-self.saves_min",
        "what saves most comes first, whatever it takes",
    ),
    advice(
        ADVICE + "worth.py",
        "paying = [one for one in (*self.checks, *self.rounds) if one.pays]",
        "paying = [one for one in self.checks if one.pays]",
        "no round is ever made",
    ),
    advice(
        ADVICE + "worth.py",
        "best = int(np.where(self._may_name(at.spoken), costs, np.inf).argmin())",
        "best = int(costs.argmin())",
        "an end names a cause that nothing spoke for",
    ),
    advice(
        ADVICE + "worth.py",
        "spent += going * self._minutes(check, standing)",
        "spent += self._minutes(check, at.standing)",
        "a round pays for turning the vehicle at each of its checks",
    ),
    advice(
        ADVICE + "worth.py",
        "return self._may_name(spoken.union(*told))",
        "return self._may_name(spoken)",
        "what a check would tell is no ground for an end",
    ),
    advice(
        ADVICE + "changeover.py",
        "over, before = self.change_over.between(before, hands_in), hands_in",
        "before = hands_in",
        "setting up costs no turn of the vehicle",
    ),
    advice(
        ADVICE + "changeover.py",
        "+ self.change_over.used_up * len(check.consumes)",
        "",
        "what a check uses up costs nothing",
    ),
    advice(
        ROUTE + "routing.py",
        "if best is None or best.checks[0] in now:\n        return best.checks[0] if best else None",
        "if best is None or best.checks[0] in now:\n        return best.checks[0] if best else next(iter(now), None)",
        "a route goes on where nothing pays",
    ),
    advice(
        ROUTE + "routing.py",
        "if first := opening()[:1]:\n        return first[0]\n",
        "",
        "what has to be made before the check that pays is passed over",
    ),
    # which repair
    advice(
        REPAIR + "repair_order.py",
        "repair.trial * max(0.0, 1.0 - self.gone(cured))",
        "repair.trial",
        "a repair is paid where the complaint is gone already",
    ),
    advice(
        REPAIR + "repair_order.py",
        "self._step(one, cured) + self.further(cured | one.cures)",
        "self._step(one, cured)",
        "only the next repair is weighed, and not what comes after it",
    ),
    advice(
        REPAIR + "renewal.py",
        "return (self.planned * alive + self.failed * (1.0 - alive)) / self.life.lived(age)",
        "return (self.planned * alive + self.failed * (1.0 - alive)) / age",
        "parts that failed before are taken to have lived to their age",
    ),
    advice(
        REPAIR + "suspects.py",
        "remedy.look.check not in self.vehicle.made",
        "remedy.look.check",
        "a look that was made already is asked for again",
    ),
    advice(
        REPAIR + "visits.py",
        "left_in = sum(cost for part, cost in ahead.items() if part not in renewed)",
        "left_in = sum(ahead.values())",
        "a worn part costs the same whether it is renewed or not",
    ),
    # what is said
    advice(
        "triage/app/advising/advice.py",
        "clearly and top.probability",
        "top.probability",
        "a conclusion counts as contradicted by what is hardly likelier",
    ),
    advice(
        "triage/app/advising/advice.py",
        "one.probability < HARDLY and most.factor",
        "most.factor",
        "a cause is told as ruled out that is not",
    ),
    advice(
        "triage/app/advising/advice.py",
        "if pays == said_enough else None",
        "if pays else None",
        "that no check pays any more is never said",
        "tests/app/test_weighing_later.py",
    ),
    advice(
        "triage/app/advising/worthwhile.py",
        "check.id not in state.known and not check.consumes and",
        "check.id not in state.known and",
        "what is used up is advised while the belt is off",
    ),
    advice(
        "triage/session/choosing.py",
        "return kept_off or spent or check in state.put_right",
        "return spent or check in state.put_right",
        "a running check is weighed where the engine is kept off",
    ),
    advice(
        "triage/session/choosing.py",
        "return kept_off or spent or check in state.put_right",
        "return kept_off or check in state.put_right",
        "a third run without the belt is weighed",
    ),
    advice(
        "triage/reasoning/conformity.py",
        "max(share, 1 - share) >= DECIDED",
        "share >= DECIDED",
        "a reading far above its limit is told as too close",
    ),
    advice(
        "triage/units/uncertainty.py",
        " / math.sqrt(3)",
        "",
        "deviations count as standard uncertainties",
    ),
    advice(
        "triage/present/steps/shares.py",
        "if probability > HIGHEST:",
        "if probability > 1.0:",
        "100 % is told",
    ),
    advice(
        "triage/present/steps/shares.py",
        "probability >= WORTH_A_LOOK",
        "probability > 1.0",
        "no other cause is named beside a conclusion",
    ),
)


def neighbours(mutant: Mutant) -> tuple[str, ...]:
    """The tests that lie beside a mutant's module, and its own examples."""
    return (mutant.file, *next(tests for beginning, tests in BESIDE.items() if mutant.file.startswith(beginning)))


def caught_by(mutant: Mutant) -> str:
    """What the neighbouring tests say of a mutant; "" where they notice nothing."""
    with tempfile.TemporaryDirectory(prefix="mutant-") as name:
        folder = Path(name)
        copied(folder, mutant)
        return noticed(
            folder, ("-m", "pytest", "-q", "-x", "-p", "no:cacheprovider", *neighbours(mutant), *mutant.tests)
        )


def main() -> int:
    """Try the mutants and say which nobody noticed."""
    parser = argparse.ArgumentParser(description="Make advice wrong one step at a time, and see who notices.")
    parser.add_argument("numbers", nargs="*", type=int, help="which mutants, from 1; all where none is named")
    options = parser.parse_args()
    tried = [(n, one) for n, one in enumerate(MUTANTS, 1) if n in options.numbers or not options.numbers]
    survived = []
    for number, mutant in tried:
        began, word = time.monotonic(), caught_by(mutant)
        survived += [] if word else [number]
        told = "caught" if word else "SURVIVED"
        print(f"{number:>3} {told}: {mutant.why} ({time.monotonic() - began:.0f} s) {word[:100]}", flush=True)
    print(f"\n{len(survived)} of {len(tried)} survived: {survived}")
    return 1 if len(survived) > MOST_SURVIVORS * len(tried) else 0


if __name__ == "__main__":
    sys.exit(main())
