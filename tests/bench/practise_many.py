"""Many vehicles in practice: whether all of them end, contradict nothing, and are as frequent as the knowledge says.

    python tests/bench/practise_many.py [--seeds 1000] [--questions 200000] [--vehicles 4000]

Somebody who types at random goes through each exercise by its dialogue. Contradictions are looked for by the program's
own evidence: all that a vehicle shows has to be possible at once. The frequencies are held against a table of
strengths that was copied by hand, by chi-square over checks and faults.
"""

import argparse
import random
import sys
import time
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass

from tests.bench import independent
from triage.app.shop.shop_file import Shop, accuracies
from triage.errors import CommandRefused
from triage.knowledge.loading import load_knowledge
from triage.knowledge.models import Check, Knowledge
from triage.knowledge.shipped import trees_folder
from triage.knowledge.wording.matching import Matcher
from triage.knowledge.wording.words import load_words
from triage.listening.listener import Listener
from triage.listening.phrasebook import load_phrasebook
from triage.practice.answers import Answers
from triage.practice.exercise import Exercise, Setting
from triage.practice.levels import HARDEST
from triage.practice.sealing import Seal
from triage.practice.vehicle import Vehicle, drawn
from triage.practice.wording import load_practice_words
from triage.present.practising.dialogue import PracticeDialogue
from triage.reasoning.inference.evidence import Found, evidence_of, meaning, together
from triage.record.prices import Prices
from triage.record.weights import Weights

MOST_LINES = 400
"""Lines after which an exercise counts as one that does not end."""
ALIVE = 0.001
"""Share of chance below which frequencies are said to differ, over all tests together."""


def vehicles(knowledge: Knowledge, seeds: range) -> Iterator[tuple[int, Vehicle]]:
    """Vehicles of every level and complaint in turn; those that cannot be are passed over."""
    symptoms = sorted(knowledge.trees)
    for seed in seeds:
        try:
            yield seed, drawn(knowledge, symptoms[seed % len(symptoms)], 1 + seed % HARDEST, seed)
        except CommandRefused:
            continue


@dataclass
class Guesser:
    """Types whatever could be typed."""

    chance: random.Random

    def line(self, dialogue: PracticeDialogue) -> str:
        """One line for what is on screen; after a while it concludes."""
        view, exercise = dialogue.view, dialogue.exercise
        if view.ask == "Which check do you make next?":
            done = len(exercise.made) > self.chance.randrange(4, 20)
            return "conclude" if done else self.chance.choice([str(self.chance.randrange(1, 40)), "tree", "tree"])
        if view.ask == "How likely?":
            return self.chance.choice(["", "1 40, 2 20"])
        many = len(view.choices)
        return str(self.chance.randrange(1, many + 1)) if many else ""


def ends(setting: Setting, listener: Listener, vehicle: Vehicle, seed: int) -> PracticeDialogue:
    """Go through one exercise.

    Raises:
        AssertionError: it does not end.
    """
    dialogue = PracticeDialogue(Exercise(setting, vehicle), listener, Seal(seed), lambda *_: None)
    guesser = Guesser(random.Random(f"guesser {seed}"))
    for _ in range(MOST_LINES):
        if dialogue.over:
            return dialogue
        dialogue.take(guesser.line(dialogue))
    raise AssertionError(f"seed {seed} does not end")


def contradictions(setting: Setting, vehicle: Vehicle, chance: random.Random, questions: int) -> list[str]:
    """What contradicts: another answer to the same check, or answers that cannot be together."""
    knowledge, found, wrong = setting.knowledge, dict[str, tuple[str, ...]](), []
    checks = [one.id for one in knowledge.checks.values() if not one.only_for or vehicle.pulley in one.only_for]
    for _ in range(questions):
        check = chance.choice(checks)
        outcomes = Answers(knowledge, vehicle, setting.accuracies).shown(check).outcomes
        if found.setdefault(check, outcomes) != outcomes:
            wrong.append(f"{check}: {found[check]} and {outcomes}")
    told = [Found(check, outcomes) for check, outcomes in found.items()]
    known = (
        together(meaning(knowledge, one, vehicle.pulley) for one in told)
        if vehicle.sound
        else evidence_of(knowledge, vehicle.symptom, told, vehicle.pulley)
    )
    return wrong if known else [*wrong, f"{vehicle.key}: what it shows cannot be together"]


def expected(knowledge: Knowledge, check: Check, faults: tuple[str, ...], pulley: str) -> dict[str, float]:
    """How often each outcome shows with these faults, by the words of the knowledge and a table copied by hand."""

    def above(sign_id: str, level: int) -> float:
        """Chance that a sign stands no higher than a level."""
        sign, product = knowledge.signs[sign_id], 1.0
        words = [{one: sign.leak.get(one, "rarely") for one in sign.levels[1:]}]
        words += [dict(sign.strengths(one, pulley)) for one in faults]
        for told in words:
            product *= 1.0 - sum(independent.PUSH[told[one]] for one in sign.levels[level + 1 :] if one in told)
        return product

    if check.sign:
        levels = knowledge.signs[check.sign].levels
        below = [above(check.sign, at) for at in range(len(levels))]
        return {one: below[at] - (below[at - 1] if at else 0.0) for at, one in enumerate(levels)}
    normal, left, shares = check.normal(pulley), 1.0, dict[str, float]()
    for one in check.outcomes:
        if one.sign and one.id != normal and not one.says_nothing:
            absent = above(one.sign, 0)
            shares[one.id], left = left * (1.0 - absent), left * absent
    return {**shares, normal: left}


def counted(setting: Setting, symptom: str, cause: str, check: Check, many: int) -> Counter[str]:
    """How often each outcome shows first on vehicles with one fault."""
    seen = Counter[str]()
    for number in range(many):
        vehicle = Vehicle(f"count|{number}", symptom, 1, "decoupler", 1e8, (cause,), (cause,))
        answers = Answers(setting.knowledge, vehicle, setting.accuracies)
        seen[answers.shown(check.id).outcomes[0]] += 1
    return seen


def pairs(knowledge: Knowledge, symptom: str) -> Iterator[tuple[str, Check]]:
    """Faults that can make a complaint, with the checks of its tree that show something of them."""
    checks = dict.fromkeys(node.check for node in knowledge.trees[symptom].nodes.values() if node.check)
    for cause in knowledge.signs[symptom].produced_by:
        fits = knowledge.causes[cause].only_for
        if fits and "decoupler" not in fits:
            continue
        for name in checks:
            check = knowledge.checks[name or ""]
            signs = {one.sign for one in check.outcomes if one.sign} | ({check.sign} if check.sign else set())
            if symptom not in signs and any(cause in knowledge.signs[sign].produced_by for sign in signs):
                yield cause, check


def improbable(setting: Setting, symptoms: list[str], many: int, most: int) -> tuple[int, list[str]]:
    """How many pairs were tried, and those whose frequencies chance does not explain."""
    from scipy.stats import chisquare

    knowledge = setting.knowledge
    tried = [(symptom, *one) for symptom in symptoms for one in pairs(knowledge, symptom)]
    tried = random.Random("pairs").sample(tried, min(most, len(tried)))
    wrong = []
    for symptom, cause, check in tried:
        shares = {one: share for one, share in expected(knowledge, check, (cause,), "decoupler").items() if share > 0}
        seen = counted(setting, symptom, cause, check, many)
        if set(seen) - set(shares):
            wrong.append(f"{check.id} with {cause}: {sorted(set(seen) - set(shares))} cannot be")
            continue
        rare = sorted(shares, key=shares.__getitem__)
        # Outcomes of which fewer than five are to be expected are taken with the next.
        bins, got, due = [], 0, 0.0
        for one in rare:
            got, due = got + seen[one], due + shares[one] * many
            if due >= 5:
                bins.append((got, due))
                got, due = 0, 0.0
        if due:
            bins[-1] = (bins[-1][0] + got, bins[-1][1] + due)
        if len(bins) > 1:
            total = sum(due for _, due in bins)
            result = chisquare([got for got, _ in bins], [due * many / total for _, due in bins])
            if result.pvalue < ALIVE / len(tried):
                wrong.append(f"{check.id} with {cause}: {dict(seen)}, p = {result.pvalue:.2g}")
    return len(tried), wrong


def shipped() -> tuple[Setting, Listener]:
    """The shipped knowledge as practice takes it."""
    folder = trees_folder()
    knowledge = load_knowledge(folder)
    listener = Listener(knowledge, load_phrasebook(folder), Matcher(load_words(folder), knowledge.trees))
    words = load_practice_words(folder)
    return Setting(knowledge, words, accuracies(knowledge, Shop()), Weights(), Prices()), listener


def main() -> int:
    """Print what came of it; 1 where something does not hold."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--seeds", type=int, default=1000)
    parser.add_argument("--questions", type=int, default=200_000)
    parser.add_argument("--vehicles", type=int, default=4000)
    parser.add_argument("--pairs", type=int, default=150)
    args = parser.parse_args()
    setting, listener = shipped()
    began, ended, wrong, gone = time.process_time(), 0, list[str](), Counter[str]()
    each = max(1, args.questions // args.seeds)
    for seed, vehicle in vehicles(setting.knowledge, range(args.seeds)):
        dialogue = ends(setting, listener, vehicle, seed)
        ended += dialogue.exercise.ended is not None
        gone[str(dialogue.exercise.ended and dialogue.exercise.ended.gone)] += 1
        wrong += contradictions(setting, vehicle, random.Random(seed), each)
    sys.stdout.write(f"{ended} of {args.seeds} seeds ended; complaint gone: {dict(gone)}\n")
    sys.stdout.write(f"{each * args.seeds} questions, {len(wrong)} contradictions\n")
    tried, odd = improbable(setting, sorted(setting.knowledge.trees), args.vehicles, args.pairs)
    sys.stdout.write(f"{tried} pairs of fault and check, {args.vehicles} vehicles each: {len(odd)} beyond chance\n")
    sys.stdout.writelines(f"  {line}\n" for line in (*wrong[:5], *odd[:5]))
    sys.stdout.write(f"{time.process_time() - began:.0f} s\n")
    return int(bool(wrong or odd or ended < args.seeds))


if __name__ == "__main__":
    sys.exit(main())
