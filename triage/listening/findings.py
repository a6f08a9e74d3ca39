"""Which outcomes of which checks a sentence names."""

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from triage.knowledge.models import Check, Knowledge
from triage.listening.hearing import Heard
from triage.listening.items import Finding
from triage.listening.phrasebook import AllChecks
from triage.listening.sighting import Sighting, longest


@dataclass(frozen=True)
class Named:
    """What a sentence says of outcomes; `doubted` where an outcome of the check on screen was left in doubt."""

    findings: tuple[Finding, ...] = ()
    doubted: bool = False


@dataclass(frozen=True)
class _State:
    """One outcome seen: of which check, and how far it was said of it."""

    sighting: Sighting
    weight: tuple[int, int]
    """How well it names its check, and how many words it has."""

    @property
    def check(self) -> str:
        return self.sighting.key[1]

    @property
    def outcome(self) -> str:
        return self.sighting.key[2]


class Outcomes:
    """Finds outcomes by the wording of the checks."""

    def __init__(self, knowledge: Knowledge, wording: AllChecks) -> None:
        """Keep what is known."""
        self._checks = {check: knowledge.checks[check] for check in wording.checks if check in knowledge.checks}
        self._words = wording.checks

    def named(self, heard: Heard, on_screen: str, *, freely: bool = False) -> Named:
        """What a sentence says.

        Args:
            heard: the sentence.
            on_screen: the check on screen; "" where none is.
            freely: whether it is the complaint: only the checks whose words say enough by themselves are answered then.
        """
        meant = self._attributed(heard, on_screen, freely=freely)
        said = [state for state in meant if not self._unsaid(heard, state)]
        doubted = any(s.check == on_screen and s.sighting.start in heard.doubted for s in meant if s not in said)
        findings = [finding for check in dict.fromkeys(s.check for s in said) for finding in self._of(heard, check, said)]
        if on_screen and not any(finding.check == on_screen for finding in findings):
            findings += self._plainly(heard, on_screen, {state.check for state in meant})
        return Named(tuple(findings), doubted)

    def _attributed(self, heard: Heard, on_screen: str, *, freely: bool) -> list[_State]:
        """Each outcome seen, with the one check that it is said of."""
        checks = [check for check in self._checks if self._words[check].freely or not freely]
        states = [state for check in checks for state in self._states(heard, check, on_screen, freely=freely)]
        taken: list[_State] = []
        for state in states:
            rivals = [other for other in states if other.check != state.check and _share(other, state)]
            if all(self._before(heard, state, other, on_screen) for other in rivals):
                taken.append(state)
        return sorted(taken, key=lambda state: state.sighting.start)

    def _states(self, heard: Heard, check: str, on_screen: str, *, freely: bool) -> Iterator[_State]:
        found = longest(
            one for outcome in self._words[check].outcomes for one in heard.sightings("outcome", check, outcome)
        )
        for one in found:
            named = self._about(heard, check, one, on_screen)
            if named or check == on_screen or freely:
                yield _State(one, (named, one.weight))

    def _unsaid(self, heard: Heard, state: _State) -> bool:
        """Whether an outcome was not said of its check; one that says nothing may stand in a doubt."""
        outcome = self._checks[state.check].outcome(state.outcome)
        doubt = outcome is not None and outcome.says_nothing and state.sighting.start not in heard.asked | heard.supposed
        return heard.unsaid(state.sighting) and not doubt

    def _about(self, heard: Heard, check: str, state: Sighting, on_screen: str) -> int:
        """How many words name the check in the clause of an outcome, or in the nearest clause before that names any.

        Words that are an answer to the check on screen name no other check: "loudest at the idler".
        """
        answers = {
            place
            for outcome in (self._words[on_screen].outcomes if on_screen and check != on_screen else ())
            for one in heard.sightings("outcome", on_screen, outcome)
            for place in one.places
        }
        for clause in range(heard.clause(state.start), -1, -1):
            here = [one for one in heard.under("about") if heard.clause(one.start) == clause]
            if here:
                return max((one.weight for one in here if one.key[1] == check and not answers & set(one.places) and one.places != state.places), default=0)
        return 0

    def _before(self, heard: Heard, state: _State, other: _State, on_screen: str) -> bool:
        """Whether an outcome is rather meant than another one in the same words."""
        if state.check == on_screen:
            return bool(state.weight[0]) or not other.weight[0] or state.sighting.weight > other.sighting.weight
        if other.check == on_screen:
            return not self._before(heard, other, state, on_screen)
        return state.weight > other.weight

    def _of(self, heard: Heard, check: str, said: Iterable[_State]) -> list[Finding]:
        """The findings of one check: what was said of it, or else what a negation leaves."""
        mine = [state for state in said if state.check == check]
        named = dict.fromkeys(state.outcome for state in mine if not heard.negated(state.sighting))
        if named:
            return [Finding(check, outcome) for outcome in _telling(self._checks[check], named)]
        left = {self._other(check, state.outcome) for state in mine}
        return [Finding(check, outcome) for outcome in left if outcome] if len(left) == 1 else []

    def _other(self, check: str, outcome: str) -> str:
        """What is left where an outcome is not so: the other one, where there are two."""
        telling = [one.id for one in self._checks[check].outcomes if not one.says_nothing or one.id == outcome]
        if self._words[check].freely or len(telling) != 2:  # noqa: PLR2004
            every = [one.id for one in self._checks[check].outcomes]
            telling = every if len(every) == 2 else []  # noqa: PLR2004
        return next((one for one in telling if one != outcome), "")

    def _plainly(self, heard: Heard, check: str, spoken_of: set[str]) -> list[Finding]:
        """What "fine" or "bad" say of the check on screen, where nothing else was said of anything."""
        meant = self._words[check].meant
        subjects = {one.key[1] for one in heard.under("about")}
        if spoken_of or (subjects and check not in subjects):
            return []
        votes: Counter[str] = Counter()
        for word, opposite in (("good", "bad"), ("bad", "")):
            for one in heard.sightings(word):
                if not heard.unsaid(one):
                    votes[opposite if heard.negated(one) else word] += 1
        left = [word for word in votes if word]
        return [Finding(check, meant[left[0]])] if len(left) == 1 and left[0] in meant else []


def _share(one: _State, other: _State) -> bool:
    return not set(one.sighting.places).isdisjoint(other.sighting.places)


def _telling(check: Check, named: Mapping[str, None]) -> list[str]:
    """The outcomes of one check that stand together: with one that tells something, the normal one falls away."""
    silent = {outcome.id for outcome in check.outcomes if outcome.says_nothing}
    normal = check.outcomes[0].id if check.outcomes else ""
    telling = [outcome for outcome in named if outcome not in silent] or list(named)
    return [outcome for outcome in telling if outcome != normal] or telling
