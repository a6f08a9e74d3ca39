"""Simulate vehicles from the network, walk each through its tree, and write how often the ranking is right.

    python docs/making/make_simulation.py [VEHICLES A SYMPTOM]

Writes docs/made/simulation.md. Seeded: the same knowledge gives the same page. The vehicles are drawn from the network
itself: the rows "as assumed" say how good the method is if its numbers are right, the rows "disturbed" how much is lost
where every strength and base rate is wrong by 30 % in odds, up or down at random.
"""

import math
import random
import sys
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from itertools import pairwise
from pathlib import Path

import numpy as np

from triage.knowledge.loading import load_knowledge
from triage.knowledge.models import PULLEYS, Check, Knowledge, Node
from triage.knowledge.rounds import RUNS_TRUE, TRACKING, go_of, goes_on, waits_for_tracking
from triage.knowledge.shipped import trees_folder
from triage.knowledge.walk import walk
from triage.reasoning.advice.changeover import Arrived, Minutes, Standing, standing_after
from triage.reasoning.inference.circumstances import VehicleFacts, shifts_of
from triage.reasoning.inference.evidence import Found, evidence_of
from triage.reasoning.inference.making import believed
from triage.reasoning.inference.network import Network, network_of, rates_of

SEED = 5
VEHICLES = 1000
ODDS = 1.3
EDGES = (0.0, 0.01, 0.05, 0.1, 0.2, 0.4, 0.6, 0.8, 0.95, 1.0001)
NORMAL_95 = 1.96
"""Half-width of a 95 % interval in standard deviations. Source: normal distribution."""
Made = frozenset[str]
INTRODUCTION = """# Simulated vehicles

<!-- Made by docs/making/make_simulation.py: run it again, do not change this page. -->

{vehicles} vehicles a symptom and kind, drawn from the network ({causes} causes, {signs} signs) and walked through the
tree, each check answered as the signs are. No real vehicle stands behind them: they show how good the method is on its
own assumptions. *Disturbed*: every base rate and strength that the vehicles of one symptom and pulley type are made
with is wrong by 30 % in odds, up or down at random, and the ranking does not know it.

*Listed*: share of vehicles whose complaint a listed cause made. *First* and *among three*: of these, where the ranking
at the end of the walk has one that made it at its head or among its first three. A fault that is there and did not make
the complaint counts nothing. *Conclusion*: of the conclusions that the tree came to, those that name what made it.
*Mean minutes*: with change-over, over all five pulley types, each as often. *Brier score*: mean square of stated
probability less what was so, over all causes that can make the complaint; 0 is perfect. In brackets the 95 % interval
that comes of drawing so few vehicles alone (Wilson; from memory), ± half of it (normal); for *disturbed* it leaves out
that other disturbances would come out otherwise.
"""
ASKED_ABOUT, QUESTION, MANY = "belt-chirp", "when-heard", 10
"""The symptom and the question of which it is counted what not being sure does, with so many times the vehicles."""
CALIBRATION = """
## Calibration

Of all causes that were given a probability of having made the complaint in this range, over all symptoms: how many,
what was stated in the mean, and how many of them made it. One question makes the ranking overstate a little: a
simulated customer is "not sure" just when none of the moments fits, which tells something, while to the ranking "not
sure" tells nothing. Over {vehicles} vehicles with {symptom}, all probabilities that were stated add up to {stated:.0f},
and {there} causes made their complaint; without that question it is {stated_without:.0f} and {there_without}.
"""
HIGHEST_TOLD = """
## The highest figure on a screen

{vehicles} vehicles, all symptoms and pulley types alike, a new disturbance for every {each} of them: of all causes that
were given at least so much, the share that made the complaint. The highest band in which it was at least the band's own
figure is the highest that a screen says: "over {highest:.0f} %", however high the sum comes out
(`triage.present.steps.shares.HIGHEST`).

| stated at least | how many | made it |
|---|---|---|"""
SURE_VEHICLES, EACH = 20_000, 50
BANDS = (0.5, 0.6, 0.7, 0.8, 0.9, 0.95, 0.98, 0.99)


@dataclass
class Tally:
    """What came of many vehicles: counts, minutes of each, and each stated probability with what was so."""

    listed: int = 0
    first: int = 0
    three: int = 0
    concluded: int = 0
    right: int = 0
    minutes: list[float] = field(default_factory=list)
    stated: list[tuple[float, bool]] = field(default_factory=list)


def disturbed(network: Network, chance: random.Random) -> Network:
    """The network with every base rate and strength moved by 30 % in odds, up or down."""

    def moved(probability: float) -> float:
        odds = probability / (1 - probability) * chance.choice((ODDS, 1 / ODDS))
        return odds / (1 + odds)

    def columns(chances: np.ndarray) -> np.ndarray:
        abnormal = np.vectorize(moved)(chances[1:])
        abnormal = abnormal / np.maximum(abnormal.sum(axis=0), 1.0)
        return np.vstack([1.0 - abnormal.sum(axis=0), abnormal])

    rates = [*map(moved, network.base_rates[:-1].tolist()), 1.0]
    signs = {sign: columns(chances) for sign, chances in network.chances.items()}
    return replace(network, base_rates=np.array(rates), chances=signs)


def vehicle(network: Network, symptom: str, chance: random.Random) -> tuple[Made, Mapping[str, int]]:
    """What made the complaint of one vehicle that shows the symptom, of the listed causes, and all its signs."""
    rates = network.base_rates.tolist()
    while True:
        present = [at for at, rate in enumerate(rates) if chance.random() < rate]
        pushed = pushes(network, symptom, present, chance)
        if any(pushed):
            made = frozenset(network.causes[at] for at, level in zip(present[:-1], pushed, strict=False) if level)
            signs = Shown(network, present, chance)
            signs[symptom] = max(pushed)
            return made, signs


class Shown(dict[str, int]):
    """The levels of a vehicle's signs, each drawn when somebody looks at it first."""

    def __init__(self, network: Network, present: list[int], chance: random.Random) -> None:
        """Look at nothing yet."""
        super().__init__()
        self._drawn_by = (network, present, chance)

    def __missing__(self, sign: str) -> int:
        """Draw a sign: it shows the highest level that anything pushes it to."""
        network, present, chance = self._drawn_by
        self[sign] = max(pushes(network, sign, present, chance))
        return self[sign]


def pushes(network: Network, sign: str, present: list[int], chance: random.Random) -> list[int]:
    """The level that each cause which is there pushes a sign to, the leak last."""
    chances = network.chances[sign]
    levels = range(len(chances))
    return [chance.choices(levels, chances[:, at].tolist())[0] for at in present]


def answer(knowledge: Knowledge, check: Check, signs: Mapping[str, int], pulley: str) -> tuple[str, ...]:
    """What a technician who sees every sign would answer."""
    if check.sign:
        return (knowledge.signs[check.sign].levels[signs[check.sign]],)
    normal = check.normal(pulley)
    seen = tuple(o.id for o in check.outcomes if o.sign and o.id != normal and signs[o.sign])
    if check.several:
        return seen or (normal,)
    return seen[:1] or (normal,)


def walked(
    knowledge: Knowledge, symptom: str, signs: Mapping[str, int], pulley: str
) -> tuple[Node, dict[str, tuple[str, ...]], float]:
    """Where a vehicle comes to, what was found on the way, and the minutes with change-over.

    It takes the steps that a session takes, by the same function; the interlocks between them change no finding.
    """
    findings: dict[str, tuple[str, ...]] = {}
    minutes = 0.0
    stands: Standing = Arrived()
    while True:
        node = walk(knowledge, knowledge.trees[symptom], findings, pulley).node
        if node.check is None:
            return node, findings, minutes
        if is_held(knowledge, knowledge.checks[node.check], findings):
            findings[node.check] = ()
            continue
        go = [knowledge.checks[one] for one in go_of(knowledge, node, findings, pulley)]
        minutes += Minutes().of_go(knowledge, go, stands)
        stands = standing_after(knowledge, go[0], stands)
        for check in go:
            if is_held(knowledge, check, findings):
                findings[check.id] = ()
                continue
            findings[check.id] = answer(knowledge, check, signs, pulley)
            if not goes_on(knowledge, check, findings[check.id][0]):
                break


def is_held(knowledge: Knowledge, check: Check, findings: Mapping[str, tuple[str, ...]]) -> bool:
    """Whether no session lets a check be made, because the belt was not seen to run true."""
    return waits_for_tracking(knowledge, check) and RUNS_TRUE not in findings.get(TRACKING, (RUNS_TRUE,))


def tallied(
    knowledge: Knowledge, symptom: str, vehicles: int, *, disturb: bool = False, unheard: frozenset[str] = frozenset()
) -> Tally:
    """Walk simulated vehicles, each pulley type as often, and count; the ranking hears nothing of some checks."""
    chance, tally = random.Random(f"{SEED} {symptom} {disturb}"), Tally()  # noqa: S311 - seeded on purpose
    assumed = {
        pulley: network_of(knowledge, pulley, shifts_of(knowledge, VehicleFacts(pulley), ())) for pulley in PULLEYS
    }
    made = {pulley: disturbed(network, chance) if disturb else network for pulley, network in assumed.items()}
    for number in range(vehicles):
        pulley = PULLEYS[number % len(PULLEYS)]
        makers, signs = vehicle(made[pulley], symptom, chance)
        node, findings, minutes = walked(knowledge, symptom, signs, pulley)
        told = {check: outcomes for check, outcomes in findings.items() if check not in unheard}
        ranking = stated(knowledge, symptom, told, pulley, assumed[pulley])
        count(tally, makers, node.conclude, minutes, ranking)
    return tally


def stated(
    knowledge: Knowledge, symptom: str, findings: Mapping[str, tuple[str, ...]], pulley: str, network: Network
) -> dict[str, float]:
    """The probability that each cause made the complaint, by the functions behind a session's ranking."""
    told = [Found(check, outcomes) for check, outcomes in findings.items()]
    rates = rates_of(knowledge, network.causes, shifts_of(knowledge, VehicleFacts(pulley), told))
    evidence = evidence_of(knowledge, symptom, told, pulley)
    return believed(network.with_rates(rates), symptom, evidence).deciding


def count(tally: Tally, made: Made, concluded: tuple[str, ...], minutes: float, ranking: Mapping[str, float]) -> None:
    """Add one vehicle."""
    causes = sorted(ranking, key=lambda cause: -ranking[cause])
    tally.listed += bool(made)
    tally.first += bool(made & set(causes[:1]))
    tally.three += bool(made & set(causes[:3]))
    tally.concluded += bool(concluded)
    tally.right += bool(made & set(concluded))
    tally.minutes.append(minutes)
    tally.stated += [(probability, cause in made) for cause, probability in ranking.items() if probability > 0.0]


def page(knowledge: Knowledge, vehicles: int) -> Iterator[str]:
    """The lines of the page."""
    yield INTRODUCTION.format(vehicles=vehicles, causes=len(knowledge.causes), signs=len(knowledge.signs))
    yield "| symptom | vehicles | listed | first | among three | conclusion | mean minutes | Brier score |"
    yield "|---|---|---|---|---|---|---|---|"
    tallies = {}
    for symptom in knowledge.trees:
        for name, disturb in (("as assumed", False), ("disturbed", True)):
            sys.stderr.write(f"{symptom}, {name}\n")
            tallies[symptom, name] = tallied(knowledge, symptom, vehicles, disturb=disturb)
            yield row(symptom, name, tallies[symptom, name], vehicles)
    yield calibrated(knowledge, vehicles)
    yield "| stated | as assumed | mean stated | made it | disturbed | mean stated | made it |"
    yield "|---|---|---|---|---|---|---|"
    for low, high in pairwise(EDGES):
        cells = [calibration(tallies, name, low, high) for name in ("as assumed", "disturbed")]
        yield f"| {100 * low:.0f} to {100 * high:.0f} % | {' | '.join(cells)} |"
    yield from how_sure(knowledge, SURE_VEHICLES)


def sureness(knowledge: Knowledge, vehicles: int) -> list[tuple[float, int, int]]:
    """For each band how many causes were given at least so much, and how many of those made the complaint."""
    chance, stated_and_so = random.Random(SEED), []  # noqa: S311 - seeded on purpose
    kinds = [(symptom, pulley) for symptom in knowledge.trees for pulley in PULLEYS]
    for number in range(vehicles // EACH):
        symptom, pulley = kinds[number % len(kinds)]
        if not number % len(kinds):
            sys.stderr.write(f"how sure: {number * EACH} of {vehicles} vehicles\n")
        assumed = network_of(knowledge, pulley, shifts_of(knowledge, VehicleFacts(pulley), ()))
        made_with = disturbed(assumed, chance)
        for _ in range(EACH):
            makers, signs = vehicle(made_with, symptom, chance)
            _, findings, _ = walked(knowledge, symptom, signs, pulley)
            ranking = stated(knowledge, symptom, findings, pulley, assumed)
            stated_and_so += [(p, cause in makers) for cause, p in ranking.items() if p >= BANDS[0]]
    return [
        (band, sum(p >= band for p, _ in stated_and_so), sum(so for p, so in stated_and_so if p >= band))
        for band in BANDS
    ]


def how_sure(knowledge: Knowledge, vehicles: int) -> Iterator[str]:
    """The lines about the highest figure on a screen."""
    bands = sureness(knowledge, vehicles)
    kept = [band for band, many, made in bands if many and made / many >= band]
    yield HIGHEST_TOLD.format(vehicles=vehicles, each=EACH, highest=100 * max(kept, default=0.0))
    for band, many, made in bands:
        yield f"| {100 * band:.0f} % | {many} | {interval(made, many) if many else '–'} |"


def calibrated(knowledge: Knowledge, vehicles: int) -> str:
    """The words above the second table, with what one question does to the sums."""
    sums = []
    for unheard in (frozenset[str](), frozenset({QUESTION})):
        sys.stderr.write(f"{ASKED_ABOUT}, {'without' if unheard else 'with'} {QUESTION}\n")
        tally = tallied(knowledge, ASKED_ABOUT, MANY * vehicles, unheard=unheard)
        sums += [sum(column) for column in zip(*tally.stated, strict=True)]
    names = ("stated", "there", "stated_without", "there_without")
    return CALIBRATION.format(vehicles=MANY * vehicles, symptom=ASKED_ABOUT, **dict(zip(names, sums, strict=True)))


def row(symptom: str, name: str, tally: Tally, vehicles: int) -> str:
    """One line of the first table."""
    brier = sum((probability - so) ** 2 for probability, so in tally.stated) / len(tally.stated)
    shares = ((tally.first, tally.listed), (tally.three, tally.listed), (tally.right, tally.concluded))
    said = " | ".join(interval(*share) for share in shares)
    minutes = np.array(tally.minutes)
    within = NORMAL_95 * minutes.std(ddof=1) / math.sqrt(vehicles)
    cells = f"{100 * tally.listed / vehicles:.1f} % | {said} | {minutes.mean():.1f} ± {within:.1f} | {brier:.4f}"
    return f"| {symptom} | {name} | {cells} |"


def interval(count: int, of: int) -> str:
    """A share in per cent with its 95 % interval.

    Source: Wilson 1927 (score interval), from memory.
    """
    share, spread = count / of, NORMAL_95**2 / of
    centre = share + spread / 2.0
    reach = NORMAL_95 * math.sqrt(share * (1.0 - share) / of + spread / of / 4.0)
    low, high = ((centre + side * reach) / (1.0 + spread) for side in (-1.0, 1.0))
    return f"{100 * share:.1f} ({100 * low:.1f} to {100 * high:.1f}) %"


def calibration(tallies: Mapping[tuple[str, str], Tally], name: str, low: float, high: float) -> str:
    """One cell group of the second table."""
    stated = [
        one for (_, kind), tally in tallies.items() if kind == name for one in tally.stated if low <= one[0] < high
    ]
    if not stated:
        return "0 | – | –"
    mean, there = (sum(column) / len(stated) for column in zip(*stated, strict=True))
    return f"{len(stated)} | {100 * mean:.1f} % | {100 * there:.1f} %"


if __name__ == "__main__":
    lines = page(load_knowledge(trees_folder()), int(sys.argv[1]) if len(sys.argv) > 1 else VEHICLES)
    text = "\n".join(lines) + "\n"
    (Path(__file__).resolve().parents[1] / "made" / "simulation.md").write_text(text, encoding="utf-8", newline="\n")
