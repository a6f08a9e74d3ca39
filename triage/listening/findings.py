"""Which outcomes of which checks a sentence names."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Final

from triage.knowledge.models import Check, Knowledge
from triage.listening.hearing import Heard
from triage.listening.items import Finding
from triage.listening.phrasebook import AllChecks
from triage.listening.sentence import words_of
from triage.listening.sighting import Sighting, longest
from triage.listening.strangers import Strangers

_KNOWN: Final = ("filler", "good", "bad", "yes", "no", "negating", "ends_negation", "by_hand", "plainly")
_UNDOABLE: Final = frozenset({"do", "test", "check", "measure", "try", "run", "reach", "access", "use", "fit", "hold"})
"""Verbs with which "cannot" speaks of the check and not of what was found."""
_PLAIN: Final = ("plain",)
"""Key of what stands in no pattern of an outcome: "fine", "too"."""


@dataclass(frozen=True)
class Named:
    """What a sentence says of outcomes; `doubted` where an outcome of the check on screen was left in doubt."""

    findings: tuple[Finding, ...] = ()
    doubted: bool = False
    left: tuple[Finding, ...] = ()
    """Outcomes that were seen and not taken: asked, doubted or only thought of."""
    clauses: frozenset[int] = frozenset()
    """Where something was said that needs a word about its check: no part of a complaint."""


@dataclass(frozen=True)
class State:
    """One outcome seen, of one check.

    Args:
        check: the check.
        outcome: its outcome.
        sighting: the words.
        named: how many words name the check there; 0 where it is only on screen.
    """

    check: str
    outcome: str
    sighting: Sighting
    named: int

    @property
    def weight(self) -> tuple[int, int]:
        """How well it names its check, and how many words it has."""
        return (self.named, self.sighting.weight)


class Outcomes:
    """Finds outcomes by the wording of the checks."""

    def __init__(self, knowledge: Knowledge, wording: AllChecks) -> None:
        """Keep what is known."""
        self._checks = {check: knowledge.checks[check] for check in wording.checks if check in knowledge.checks}
        self._words = wording.checks
        parts = frozenset(
            word for words in self._words.values() for pattern in words.about for word in words_of(pattern)
        )
        self._strangers = {check: Strangers(known, self._words[check], parts) for check, known in self._checks.items()}

    def named(self, heard: Heard, on_screen: str, *, complaint: bool = False) -> Named:
        """What a sentence says.

        Args:
            heard: the sentence.
            on_screen: the check on screen; "" where none is.
            complaint: whether the customer's complaint is being said: what the engine does is a symptom then.
        """
        meant = [*self._attributed(heard, on_screen, complaint=complaint)]
        meant += self._plain(heard, on_screen, meant)
        meant += self._echoed(heard, meant)
        said = [one for one in meant if not self._unsaid(heard, one) and (complaint or not self._told(heard, one))]
        said = [one for one in said if one.check != on_screen or not _hindered(heard, one.sighting)]
        unsaid = [one for one in meant if one not in said]
        doubted = any(one.sighting.start in heard.doubted for one in unsaid if one.check == on_screen)
        checks = dict.fromkeys(one.check for one in said)
        findings = tuple(finding for check in checks for finding in self._of(heard, check, said, on_screen))
        clauses = frozenset(heard.clause(one.sighting.start) for one in said if not self._words[one.check].freely)
        left = dict.fromkeys(Finding(one.check, one.outcome) for one in unsaid)
        return Named(findings, doubted, tuple(left), clauses)

    def about_another(self, heard: Heard, check: str, start: int, end: int) -> bool:
        """Whether a number of a sentence is said of something that a check knows nothing of."""
        return check in self._strangers and self._strangers[check].elsewhere(heard, start, end)

    def _attributed(self, heard: Heard, on_screen: str, *, complaint: bool) -> list[State]:
        """Each outcome seen, with the one check that it is said of."""
        open_checks = [*self._open(heard, on_screen, complaint=complaint)]
        states = [state for check in open_checks for state in self._states(heard, check, on_screen)]
        freely = {check for check in open_checks if complaint and self._words[check].freely}
        free = [one for one in states if one.named or one.check in {on_screen, *freely}]
        if not complaint:
            free = [one for one in free if not self._foreign(heard, one, on_screen)]
        taken = [one for one in free if all(_before(one, other, on_screen) for other in free if _rivals(one, other))]
        taken = [one for one in taken if not self._only_names(heard, one, on_screen, taken)]
        return sorted(taken, key=lambda one: one.sighting.start)

    def _only_names(self, heard: Heard, state: State, on_screen: str, taken: Iterable[State]) -> bool:
        """Whether one word for a part, where the work that was done is asked, only says of what something was found.

        "Idler" alone answers "what was renewed"; "the idler is rough" does not.
        """
        if state.check != on_screen or not self._words[on_screen].freely or state.sighting.weight > 1:
            return False
        names = {one.key[1] for one in heard.under("about") if set(one.places) >= set(state.sighting.places)}
        clause = heard.clause(state.sighting.start)
        return any(one.check in names and heard.clause(one.sighting.start) == clause for one in taken if one != state)

    def _open(self, heard: Heard, on_screen: str, *, complaint: bool) -> Iterator[str]:
        """The checks that may be spoken of: a complaint tells what was seen, and felt by hand where it says so."""
        for check, known in self._checks.items():
            words = self._words[check]
            told = words.told or (known.way == "feel" and bool(heard.sightings("by_hand")))
            if check == on_screen or words.freely or (told if complaint else not words.complaint_only):
                yield check

    def _states(self, heard: Heard, check: str, on_screen: str) -> Iterator[State]:
        kind = "answer" if check == on_screen else "outcome"
        words = self._words[check]
        seen = longest(one for outcome in words.outcomes for one in heard.sightings(kind, check, outcome))
        for one in self._one_each(heard, seen, together=words.together):
            yield State(check, one.key[2], one, self._about(heard, check, one, on_screen))

    def _foreign(self, heard: Heard, state: State, on_screen: str) -> bool:
        return self._strangers[state.check].foreign(heard, state.sighting, on_screen=state.check == on_screen)

    def _told(self, heard: Heard, state: State) -> bool:
        """Whether somebody else only said so, of what has to be felt, seen or measured here."""
        return self._checks[state.check].way != "ask" and state.sighting.start in heard.hearsay

    def _one_each(self, heard: Heard, seen: Iterable[Sighting], *, together: bool) -> Iterator[Sighting]:
        """Of what is said of one check in one clause the longest, of equally long ones the normal outcome last.

        Where several outcomes are said in one breath, equally long ones stand.
        """
        clauses: dict[int, list[Sighting]] = {}
        for one in seen:
            clauses.setdefault(heard.clause(one.start), []).append(one)
        for every in clauses.values():
            here = [one for one in every if not heard.negated(one)]
            yield from (one for one in every if one not in here)
            if not here:
                continue
            outcomes = [outcome.id for outcome in self._checks[here[0].key[1]].outcomes]
            ranked = sorted(here, key=lambda one: (-one.weight, outcomes.index(one.key[2]) or len(outcomes)))
            most = ranked[0].weight
            rivals = {one.key[2] for one in here if one.weight == most} - {outcomes[0]}
            if len(rivals) > 1 and not together:
                continue
            yield from (one for one in here if one.key[2] == ranked[0].key[2] or (together and one.weight == most))

    def _unsaid(self, heard: Heard, state: State) -> bool:
        """Whether an outcome was not said of its check; one that says nothing may stand in a doubt."""
        outcome = self._checks[state.check].outcome(state.outcome)
        silent = outcome is not None and outcome.says_nothing
        doubted_only = state.sighting.start not in heard.asked | heard.supposed | heard.elsewhere
        return heard.unsaid(state.sighting) and not (silent and doubted_only)

    def _about(self, heard: Heard, check: str, state: Sighting, on_screen: str) -> int:
        """How many words name the check in the clause of an outcome, or in the nearest clause before that names any.

        Words that are an answer to the check on screen name no other check: "loudest at the idler".
        """
        freely = on_screen in self._words and self._words[on_screen].freely
        answers = self._answers(heard, on_screen) if check != on_screen and not freely else frozenset()
        for clause in range(heard.clause(state.start), -1, -1):
            here = [one for one in heard.under("about") if heard.clause(one.start) == clause]
            if check == on_screen:
                here += [one for one in heard.sightings("covers", check) if heard.clause(one.start) == clause]
            mine = [one for one in here if one.key[1] == check and answers.isdisjoint(one.places)]
            if here:
                return max((one.weight for one in mine if one.places != state.places), default=0)
        return 0

    def _answers(self, heard: Heard, on_screen: str) -> frozenset[int]:
        """The places of answers to the check on screen, and of the parts that it covers."""
        outcomes = self._words[on_screen].outcomes if on_screen in self._words else ()
        seen = [one for outcome in outcomes for one in heard.sightings("answer", on_screen, outcome)]
        places = frozenset(place for one in seen for place in one.places)
        return places | heard.places("covers", on_screen)

    def _plain(self, heard: Heard, on_screen: str, meant: Iterable[State]) -> Iterator[State]:
        """What "fine" and "bad" say where a clause says nothing else: of its part, or of the check on screen."""
        told = {heard.clause(one.sighting.start) for one in meant}
        for clause in range(heard.sentence.clauses):
            check = "" if clause in told else self._subject(heard, clause, on_screen)
            votes = self._votes(heard, clause)
            word = next(iter(votes), "")
            sure = check and len(votes) == 1 and not self._strange(heard, clause)
            sure = sure and not self._begins(heard, clause, votes)
            outcome = self._words[check].meant.get(word) if sure else None
            if outcome:
                yield State(check, outcome, Sighting(_PLAIN, votes[word].places), 1)

    def _begins(self, heard: Heard, clause: int, votes: Mapping[str, Sighting]) -> bool:
        """Whether a clause is a word with which people begin to say something else: "ok so why …"."""
        rest = set(heard.sentence.clause(clause)) - heard.places("filler")
        alone = all(set(one.places) >= rest and one.weight == 1 for one in votes.values())
        later = [word for word in heard.sentence.words if word.clause > clause]
        return clause == 0 and alone and bool(later)

    def _strange(self, heard: Heard, clause: int) -> set[int]:
        """The words of a clause that nothing here knows: "lunch was good" is about no check."""
        known = {place for word in _KNOWN for place in heard.places(word)}
        known |= {place for about in ("about", "covers") for one in heard.under(about) for place in one.places}
        return set(heard.sentence.clause(clause)) - known

    def _votes(self, heard: Heard, clause: int) -> dict[str, Sighting]:
        votes: dict[str, Sighting] = {}
        for word, opposite in (("good", "bad"), ("bad", "")):
            for one in heard.sightings(word):
                meant = opposite if heard.negated(one) else word
                if heard.clause(one.start) == clause and meant:
                    votes[meant] = one
        return votes

    def _subject(self, heard: Heard, clause: int, on_screen: str) -> str:
        """The check that a clause is about: the one on screen, or the part that is felt by hand."""
        here = [one for one in heard.under("about") if heard.clause(one.start) == clause]
        covered = any(heard.clause(one.start) == clause for one in heard.sightings("covers", on_screen))
        if on_screen in self._words and (not here or covered or any(one.key[1] == on_screen for one in here)):
            return on_screen
        return self._felt(here)

    def _felt(self, here: Iterable[Sighting]) -> str:
        felt = [one for one in here if one.key[1] in self._checks and self._checks[one.key[1]].way == "feel"]
        felt.sort(key=lambda one: -one.weight)
        best = [one for one in felt if one.weight == felt[0].weight]
        return best[0].key[1] if len(best) == 1 else ""

    def _echoed(self, heard: Heard, meant: Iterable[State]) -> Iterator[State]:
        """What is said of another part: "idler rough, tensioner pulley too", "… but the idler is not"."""
        said = list(meant)
        told = {heard.clause(one.sighting.start) for one in said}
        for clause in range(1, heard.sentence.clauses):
            before = [one for one in said if heard.clause(one.sighting.start) == clause - 1]
            other = self._felt(one for one in heard.under("about") if heard.clause(one.start) == clause)
            if clause in told or len(before) != 1 or other in ("", before[0].check):
                continue
            outcome = self._echo(heard, clause, before[0])
            if outcome in self._words[other].outcomes:
                yield State(other, outcome, Sighting(_PLAIN, heard.sentence.clause(clause)), 1)

    def _echo(self, heard: Heard, clause: int, before: State) -> str:
        places = heard.sentence.clause(clause)
        last = [heard.sentence.words[place].word for place in places[-2:]]
        if any(one.start in places for one in heard.sightings("echoing")):
            told = self._of(heard, before.check, [before], before.check)
            return told[0].outcome if len(told) == 1 else ""
        if last == ["is", "not"]:
            return self._other(before.check, before.outcome)
        turned = not heard.places("negating").isdisjoint(before.sighting.places)
        echoed = self._other(before.check, before.outcome) if turned else before.outcome
        return echoed if last[-1:] == ["is"] else ""

    def _of(self, heard: Heard, check: str, said: Iterable[State], on_screen: str) -> list[Finding]:
        """The findings of one check: what was said of it, or else what a negation leaves of the one on screen."""
        mine = [state for state in said if state.check == check]
        positive = (one for one in mine if one.sighting.key == _PLAIN or not heard.negated(one.sighting))
        named = dict.fromkeys(one.outcome for one in positive)
        if named:
            return [Finding(check, outcome) for outcome in _telling(self._checks[check], named)]
        denied = {one.outcome for one in mine} if check == on_screen or self._words[check].freely else set()
        left = {self._other(check, outcome) for outcome in denied} - {""}
        if len(denied) > 1 and not left:
            left = self._normal(check, denied)
        return [Finding(check, outcome) for outcome in left] if len(left) == 1 else []

    def _other(self, check: str, outcome: str) -> str:
        """What is left where one is not so: bad of good and good of bad, or the other one, where there are two."""
        every, words = self._checks[check].outcomes, self._words[check]
        if words.good and words.bad and outcome in (words.good, words.bad):
            return words.bad if outcome == words.good else words.good
        telling = [one.id for one in every if not one.says_nothing]
        two = telling if len(telling) == 2 else [one.id for one in every] if len(every) == 2 else []
        return next((one for one in two if one != outcome), "") if outcome in two else ""

    def _normal(self, check: str, denied: set[str]) -> set[str]:
        """The normal outcome where several others are not so: "not cracked, not wet"."""
        good = self._words[check].good
        return {good} if good and good not in denied else set()


def _hindered(heard: Heard, state: Sighting) -> bool:
    """Whether its clause says, in other words, that the check cannot be made."""
    seen = (*(one for one in heard.sightings("cannot") if one.weight > 1), *heard.sightings("obstacle"))
    here = [one for one in seen if heard.clause(one.start) == heard.clause(state.start)]
    plainly = any(heard.sentence.words[one.places[-1]].word in _UNDOABLE for one in here if _is_unable(heard, one))
    return plainly or (bool(here) and all(set(one.places).isdisjoint(state.places) for one in here))


def _is_unable(heard: Heard, one: Sighting) -> bool:
    return one.key == ("cannot",) and heard.sentence.words[one.start].word in ("can", "could")


def _rivals(one: State, other: State) -> bool:
    return one.check != other.check and not set(one.sighting.places).isdisjoint(other.sighting.places)


def _before(state: State, other: State, on_screen: str) -> bool:
    """Whether an outcome is rather meant than another one in the same words."""
    if state.check == on_screen:
        return bool(state.named) or not other.named or state.sighting.weight > other.sighting.weight
    if other.check == on_screen:
        return not _before(other, state, on_screen)
    return state.weight > other.weight


def _telling(check: Check, named: Mapping[str, None]) -> list[str]:
    """The outcomes of one check that stand together: with one that tells something, the normal one falls away."""
    silent = {outcome.id for outcome in check.outcomes if outcome.says_nothing}
    normal = check.outcomes[0].id if check.outcomes else ""
    telling = [outcome for outcome in named if outcome not in silent] or list(named)
    return [outcome for outcome in telling if outcome != normal] or telling
