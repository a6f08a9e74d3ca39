"""What is worth making next: each check, and each round of checks in one stand, by what it is expected to save.

A check, or a round, saves what the best end costs less after it: see `triage.reasoning.advice.stakes`. It pays where
that is more than its minutes, change-over included. A round is made in one stand, such as with the belt off, the
checks that save most for their minutes first, and goes on as long as nothing shows; the minutes of turning the vehicle
are paid once. So a round can pay where none of its checks does. Where nothing pays, the search ends: that is the one
rule by which sessions, planned routes and grown trees stop. What pays most for its minutes comes next.

An end may name a cause only where something spoke for it: nothing is concluded from what was not found alone.

Where a check may have several answers at once, those that name up to two things are taken each by itself, and all that
name more are taken as one. Telling them apart could only save more.

Source: value of information (Howard 1966) and mutual information (Shannon 1948), both from memory.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from triage.knowledge.grounds import Grounds
from triage.knowledge.models import Knowledge
from triage.reasoning.advice.changeover import Minutes, Standing, standing_after
from triage.reasoning.advice.stakes import CausePlaces, Stakes
from triage.reasoning.inference.answers import PossibleAnswer, answers_of, leading_answers, pieces_of
from triage.reasoning.inference.evidence import Evidence
from triage.reasoning.inference.making import Sums
from triage.reasoning.inference.network import Numbers
from triage.reasoning.inference.rounding import compared, recorded

MINUTE_PLACES = 1
LEAST_MIN = 0.1
"""A check is taken to last at least this long when checks are put in order."""
POSSIBLE = 1e-9
"""An answer of a smaller chance is taken to be impossible."""


@dataclass(frozen=True)
class Standpoint:
    """Where a search stands.

    Args:
        known: the complaint and what was found.
        spoken: the causes that something spoke for; None where any may be named.
        standing: how the vehicle stands; None where it stands as each check needs it.
    """

    known: Evidence
    spoken: frozenset[str] | None
    standing: Standing | None


@dataclass(frozen=True)
class Offer:
    """A check, or a round of them, with what it is worth; rounded.

    Args:
        checks: the check, or those of the round in their order.
        saves_min: by how much the best end is expected to cost less after it [min].
        minutes: expected, change-over included [min].
        gain_bits: what the first of them tells of what made the complaint, added up over the causes [bit].
    """

    checks: tuple[str, ...]
    saves_min: float
    minutes: float
    gain_bits: float

    @property
    def pays(self) -> bool:
        """Whether it saves more than it takes."""
        return self.saves_min > self.minutes

    @property
    def order(self) -> tuple[float, float]:
        """What is worth most for its minutes comes first."""
        return (-self.saves_min / max(self.minutes, LEAST_MIN), -self.gain_bits)


@dataclass(frozen=True)
class NextChecks:
    """What can be done from where a search stands.

    Args:
        checks: each check by itself, in the order in which they were asked about.
        rounds: the best round of each stand, where it has more than one check.
        end: what is best put right now: nothing, or one cause.
    """

    checks: tuple[Offer, ...]
    rounds: tuple[Offer, ...]
    end: CausePlaces

    @property
    def best(self) -> Offer | None:
        """What pays most for its minutes; None where nothing pays, and the search ends."""
        paying = [one for one in (*self.checks, *self.rounds) if one.pays]
        return min(paying, key=lambda one: one.order, default=None)


@dataclass(frozen=True)
class Weigher:
    """Weighs checks at one vehicle.

    Args:
        knowledge: checks and signs.
        pulley: the specified pulley type.
        stakes: what it costs if the complaint is not gone.
        minutes: what checks take.
        grounds: which outcomes are a ground for which causes.
    """

    knowledge: Knowledge
    pulley: str
    stakes: Stakes
    minutes: Minutes
    grounds: Grounds

    def outlook(self, at: Standpoint, checks: Sequence[str]) -> NextChecks | None:
        """What checks are worth; None where what is known contradicts itself."""
        sums = self.stakes.summed(at.known)
        if sums.chance[0] <= 0.0:
            return None
        here = self._here(at, sums)
        singles = self._singles(here, at, checks)
        return NextChecks(singles, tuple(self._rounds(here, at, singles)), (here.best - 1,) if here.best else ())

    def ways(self, at: Standpoint, checks: Sequence[str]) -> tuple[tuple[PossibleAnswer, float], ...]:
        """How checks in their order may come out: up to the first unusual answer, or all usual, each with its chance.

        Nothing where what is known contradicts itself.
        """
        sums = self.stakes.summed(at.known)
        if sums.chance[0] <= 0.0:
            return ()
        ends, usual = [], PossibleAnswer("", (), ({},))
        for check in checks:
            after = [usual.and_then(one) for one in leading_answers(self.knowledge, self.pulley, check)]
            possible = [one for one in after if one is not None]
            ends += possible[1:]
            usual = possible[0]
        ends.append(usual)
        chances = self._here(at, sums).seen(ends, [self._named_after(at.spoken, one) for one in ends]).chances.tolist()
        return tuple(zip(ends, chances, strict=True))

    def _here(self, at: Standpoint, sums: Sums) -> "_Here":
        costs = compared(self.stakes.costs(sums)[0] / sums.chance[0])
        best = int(np.where(self._may_name(at.spoken), costs, np.inf).argmin())
        return _Here(self.stakes, at.known, float(sums.chance[0]), sums.made[0] / sums.chance[0], best)

    def _singles(self, here: "_Here", at: Standpoint, checks: Sequence[str]) -> tuple[Offer, ...]:
        answers = [one for check in checks for one in answers_of(self.knowledge, self.pulley, check)]
        if not answers:
            return tuple(Offer((check,), 0.0, self._minutes(check, at.standing), 0.0) for check in checks)
        seen = here.seen(answers, [self._named_after(at.spoken, one) for one in answers])
        saves, gains = dict.fromkeys(checks, 0.0), dict.fromkeys(checks, 0.0)
        for one, saved, gained in zip(answers, seen.falls.tolist(), seen.gains.tolist(), strict=True):
            saves[one.check] += saved
            gains[one.check] += gained
        return tuple(
            Offer(
                (check,),
                recorded(saves[check], MINUTE_PLACES),
                self._minutes(check, at.standing),
                recorded(gains[check]),
            )
            for check in checks
        )

    def _rounds(self, here: "_Here", at: Standpoint, singles: Sequence[Offer]) -> Iterator[Offer]:
        """The best round of each stand: as far along its checks as saves most beyond its minutes."""
        stands: dict[str, list[Offer]] = {}
        for one in sorted(singles, key=lambda one: one.order):
            state = self.knowledge.checks[one.checks[0]].state
            if one.gain_bits and state in self.knowledge.states:
                stands.setdefault(state, []).append(one)
        for offers in stands.values():
            if len(offers) > 1:
                best = max(self._along(here, at, offers), key=lambda one: recorded(one.saves_min - one.minutes, 1))
                if len(best.checks) > 1:
                    yield best

    def _along(self, here: "_Here", at: Standpoint, offers: Sequence[Offer]) -> Iterator[Offer]:
        """A round after each of its checks: it ends where anything but the usual shows."""
        checks = [one.checks[0] for one in offers]
        steps, usual = [], PossibleAnswer("", (), ({},))
        for check in checks:
            after = [usual.and_then(one) for one in leading_answers(self.knowledge, self.pulley, check)]
            steps.append([one for one in after if one is not None])
            usual = steps[-1][0]
        every = [one for some in steps for one in some]
        seen = here.seen(every, [self._named_after(at.spoken, one) for one in every])
        place, saved, spent, going, standing = 0, 0.0, 0.0, 1.0, at.standing
        for number, (check, some) in enumerate(zip(checks, steps, strict=True), 1):
            spent += going * self._minutes(check, standing)
            standing = standing and standing_after(self.knowledge, self.knowledge.checks[check], standing)
            saved += float(seen.falls[place + 1 : place + len(some)].sum())
            going, all_usual = float(seen.chances[place]), float(seen.falls[place])
            place += len(some)
            yield Offer(
                tuple(checks[:number]),
                recorded(saved + all_usual, MINUTE_PLACES),
                recorded(spent, MINUTE_PLACES),
                offers[0].gain_bits,
            )

    def _minutes(self, check: str, standing: Standing | None) -> float:
        one = self.knowledge.checks[check]
        return recorded(self.minutes.of(self.knowledge, one, standing or self.knowledge.states[one.state]), 1)

    def _named_after(self, spoken: frozenset[str] | None, answer: PossibleAnswer) -> NDArray[np.bool_]:
        if spoken is None:
            return self._may_name(None)
        told = (self.grounds.get(check, {}).get(outcome, ()) for check, outcome in answer.outcomes)
        return self._may_name(spoken.union(*told))

    def _may_name(self, spoken: frozenset[str] | None) -> NDArray[np.bool_]:
        causes = self.stakes.network.causes
        return np.array([True, *(spoken is None or cause in spoken for cause in causes)])


@dataclass(frozen=True)
class _Seen:
    """What answers do: their chances, by how much the best end costs less, what is learned; each times its chance."""

    chances: Numbers
    falls: Numbers
    gains: Numbers


@dataclass(frozen=True)
class _Here:
    """Where a search stands, in numbers: what is known, how likely that was, what made the complaint, the best end."""

    stakes: Stakes
    known: Evidence
    chance: float
    made: Numbers
    best: int

    def seen(self, answers: Sequence[PossibleAnswer], named: Sequence[NDArray[np.bool_]]) -> _Seen:
        """What answers do.

        Args:
            answers: the answers.
            named: the ends that are open after each; shape (n + 1,).
        """
        pieces, terms = pieces_of(answers)
        sums = self.stakes.summed(self.known, pieces)
        # Rounded here, because a processor adds up rows of terms in an order of its own.
        costs = compared(terms @ (self.stakes.costs(sums) / self.chance))
        chances = compared(terms @ (sums.chance / self.chance))
        made = compared(terms @ (sums.made / self.chance))
        possible = chances > POSSIBLE
        least = np.where(np.array(named), costs, np.inf).min(axis=1)
        falls = np.where(possible, costs[:, self.best] - least, 0.0)
        after = np.clip(np.divide(made, chances[:, None], out=np.tile(self.made, (len(made), 1)),
                                  where=possible[:, None]), 0.0, 1.0)  # fmt: skip
        gains = np.where(possible, chances * _divergence(after, np.clip(self.made, 0.0, 1.0)), 0.0)
        return _Seen(chances, compared(falls), compared(gains))


def _divergence(after: Numbers, before: Numbers) -> Numbers:
    """By how many bits beliefs differ from those before, added up over the causes."""
    return np.asarray((_bits(after, before) + _bits(1.0 - after, 1.0 - before)).sum(axis=1))


def _bits(after: Numbers, before: Numbers) -> Numbers:
    ratio = np.divide(after, before, out=np.ones_like(after), where=(after > 0.0) & (before > 0.0))
    return np.asarray(after * np.log2(ratio))
