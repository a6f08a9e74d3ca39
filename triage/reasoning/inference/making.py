"""Which cause made the complaint, beside which causes are there: both exact, with any number of faults at once.

A fault that is there makes the complaint only with its strength. That it did, and what was found, is its strength times
the chance that it is there and the rest was found: whatever else pushed the complaint, its own push is enough. So
P(made | everything) = strength · P(present, findings without the complaint) / P(findings with it). Several can have
made it together; the figures are not shares of one whole. The leak's own figure says that nothing listed made it.

The complaint is gone when one cause was put right if that one alone made it. With `quiet` the chance that nothing
pushes, that is P(present, quiet) · strength / (1 − strength). The complaint is every finding on its own sign.

Source: independent causes of a noisy-OR (Henrion 1989), from memory; counted by hand in
tests/reasoning/inference/test_making.py.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from triage.reasoning.inference.evidence import Evidence, Likelihoods
from triage.reasoning.inference.evidence_rows import side_by_side
from triage.reasoning.inference.network import Network, Numbers
from triage.reasoning.inference.posterior import joint

ANY_FAULT = ""
"""The sign that stands for the complaint where it is none: some fault is there."""
NEARLY = 1.0 - 1e-9
"""How surely every cause makes that one."""
NOTHING_MORE: Sequence[Likelihoods] = ({},)
Layers = Sequence[tuple[float, Network]]
"""Minutes that a complaint costs which stays, in steps: each with the network in which only those causes make it that
cost at least so much."""


@dataclass(frozen=True)
class Sums:
    """Sums over p pieces of evidence and n causes, each times the probability of its piece.

    Args:
        chance: of the piece; shape (p,) [1].
        present: the piece, and the cause is there; shape (p, n) [1].
        made: the piece, and the cause made the complaint; shape (p, n) [1].
        unlisted: the piece, and something made it that is not listed; shape (p,) [1].
        stays: what it costs that the complaint stays, with nothing put right and with each cause; shape (p, n + 1).
    """

    chance: Numbers
    present: Numbers
    made: Numbers
    unlisted: Numbers
    stays: Numbers


def complaining(network: Network, symptom: str) -> tuple[Network, str]:
    """A network with a sign for the complaint, and that sign."""
    if symptom in network.chances:
        return network, symptom
    pushes = np.r_[np.full(len(network.causes), NEARLY), 0.0]
    return replace(network, chances={**network.chances, ANY_FAULT: np.stack([1.0 - pushes, pushes])}), ANY_FAULT


def strengths(network: Network, sign: str) -> Numbers:
    """How probably each cause alone makes a sign abnormal, the leak last; shape (n + 1,) [1]."""
    return np.asarray(1.0 - network.chances[sign][0])


def summed(network: Network, symptom: str, known: Evidence, pieces: Sequence[Likelihoods], layers: Layers = ()) -> Sums:
    """Sum up pieces of evidence.

    Args:
        network: the causes and signs of the vehicle.
        symptom: the complaint.
        known: what holds in all of them, the complaint included.
        pieces: what each of them says besides; nothing about the complaint itself.
        layers: what a complaint costs that stays; by default 1, so that `stays` is the chance that it does.
    """
    complained = symptom in network.chances
    network, sign = complaining(network, symptom)
    pushes = strengths(network, sign)
    count, causes = len(pieces), len(network.causes)
    chance, unlisted = np.zeros(count), np.zeros(count)
    present, made, stays = np.zeros((count, causes)), np.zeros((count, causes)), np.zeros((count, causes + 1))
    absent = tuple(float(not level) for level in range(len(network.chances[sign])))
    for one in known:
        rest = {other: likelihood for other, likelihood in one.signs.items() if other != sign}
        told = one.signs.get(sign, (1.0,) * len(absent))
        # What was said of the complaint itself: how it weighs where it is not so, and where it is, at whatever level.
        not_so, so = one.weight * told[0], one.weight * told[-1]
        # The rest of the evidence without the complaint's own sign: alone, and with each cause.
        every, with_cause = joint(network, side_by_side(network, rest, pieces))
        for at, (step, among) in enumerate(layers or ((1.0, network),)):
            # The same and nothing pushes the complaint.
            quiet, still = joint(among, side_by_side(among, {**rest, sign: absent}, pieces))
            own = strengths(among, sign)[:-1]
            if not at:
                chance += so * (every - quiet) + not_so * quiet
                present += so * (with_cause - still) + not_so * still
            # With a cause put right the complaint is gone where it alone pushed. `still` has it there and quiet as
            # all else, with 1 − own among its factors: times own / (1 − own) it is there, pushed, and all else quiet.
            left = (every - quiet)[:, None] - np.c_[np.zeros(count), still * (own / (1.0 - own))]
            stays += so * step * left
        # Its own push is enough, whatever else pushed, so the rest of the evidence stands without the complaint here.
        made += so * (pushes[:-1] * with_cause if complained else with_cause)
        unlisted += so * pushes[-1] * every
    return Sums(chance, present, made, unlisted, stays)


@dataclass(frozen=True)
class Belief:
    """What is believed after what was found; empty where it contradicts itself.

    Args:
        made: probability that each cause made the complaint, None without a complaint [1].
        present: probability that each cause is there [1].
        unlisted: probability that something made it that is not listed, None without a complaint [1].
        chance: probability of the evidence itself [1].
    """

    made: dict[str, float] | None
    present: dict[str, float]
    unlisted: float | None
    chance: float

    @property
    def deciding(self) -> dict[str, float]:
        """What decides: having made the complaint; being there where nobody complained."""
        return self.present if self.made is None else self.made


def believed(network: Network, symptom: str, known: Evidence) -> Belief:
    """What is believed of each cause.

    Args:
        network: the causes and signs of the vehicle.
        symptom: the complaint.
        known: everything that was found, the complaint included.
    """
    sums = summed(network, symptom, known, NOTHING_MORE)
    (chance,) = sums.chance
    complained = symptom in network.chances and any(symptom in one.signs for one in known)
    if chance <= 0.0:
        return Belief({} if complained else None, {}, None, 0.0)
    present, made = (np.clip(one[0] / chance, 0.0, 1.0).tolist() for one in (sums.present, sums.made))
    return Belief(
        dict(zip(network.causes, made, strict=True)) if complained else None,
        dict(zip(network.causes, present, strict=True)),
        float(min(sums.unlisted[0] / chance, 1.0)) if complained else None,
        float(chance),
    )
