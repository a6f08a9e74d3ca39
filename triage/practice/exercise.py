"""One vehicle and one learner: what may be done next, what it takes, and what comes of it.

Nothing here is shown or typed; `triage.present.practising` does that for every face. Every act adds an entry to the
course, from which a debrief is made. Safety errors are kept apart from minutes, and never set off against them.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property

from triage.knowledge.models import Check, Knowledge, PartWork, VehicleState
from triage.knowledge.precautions import NOT_DONE, Precautions
from triage.knowledge.rounds import go_of, is_running
from triage.knowledge.walk import TreePlace, fits, walk
from triage.practice.answers import Answers, Shown
from triage.practice.chance import picked
from triage.practice.safety import Examiner, Missed, Named, Question, Stands
from triage.practice.vehicle import Vehicle
from triage.practice.wording import PracticeWords
from triage.reasoning.advice.changeover import Standing, minutes_of
from triage.record.prices import Prices
from triage.record.readings import AccuracyUsed
from triage.record.weights import Weights
from triage.units import parse_quantity

HOUR_MIN = 60.0
HOUR_S = 3600.0


@dataclass(frozen=True)
class Setting:
    """What an exercise is held in: what the trade knows and what the shop says.

    Args:
        knowledge: causes, signs, checks, trees.
        words: how things are perceived and said.
        accuracies: of the instruments.
        weights: minutes and losses.
        prices: what an hour and parts are charged at.
    """

    knowledge: Knowledge
    words: PracticeWords
    accuracies: Mapping[str, AccuracyUsed]
    weights: Weights
    prices: Prices


@dataclass(frozen=True)
class Gone:
    """One go: the checks of one stand, made and judged.

    Args:
        before: what was judged before it, by check.
        stood: how the vehicle stood before it.
        checks: what was made.
        minutes: what it took, change-over included [min].
        shown: what the vehicle showed.
        judged: what the learner took that for, by check.
        asked: what was to be made; more than was made where the engine had to be switched off.
    """

    before: Mapping[str, tuple[str, ...]]
    stood: Standing
    checks: tuple[str, ...]
    minutes: float
    shown: tuple[Shown, ...]
    judged: dict[str, tuple[str, ...]] = field(default_factory=dict)
    asked: tuple[str, ...] = ()


@dataclass(frozen=True)
class Ended:
    """How the learner ended it.

    Args:
        causes: what was concluded; none where nothing was found.
        remedies: what was put right.
        gone: whether the complaint is gone; None where it was never there, and nothing shows.
        proved: the check that was made again; "" where none was.
        proof: what that showed.
        minutes: of the proof [min].
    """

    causes: tuple[str, ...] = ()
    remedies: tuple[str, ...] = ()
    gone: bool | None = None
    proved: str = ""
    proof: tuple[str, ...] = ()
    minutes: float = 0.0


class Exercise:
    """A vehicle in practice.

    Attributes:
        setting: what it is held in.
        vehicle: what is hidden.
        course: every go, in order.
        made: what was judged, by check; nothing where a check could not be done.
        stands: how the vehicle stands, and what protects.
        missed: safety errors.
        beliefs: what the learner held likely, with how many goes were made by then.
        ended: how it ended, once it has.
        starts: how often the engine was started.
        again_min: minutes of what was looked at or read once more [min].
        hint_min: the price of the hints that were asked for; no minutes of the bay [min].
    """

    def __init__(self, setting: Setting, vehicle: Vehicle) -> None:
        """Begin at the vehicle as it came in."""
        self.setting, self.vehicle = setting, vehicle
        told = setting.words.customers.symptoms.get(vehicle.symptom)
        self.answers = Answers(setting.knowledge, vehicle, setting.accuracies, told.under if told else ())
        self.course: list[Gone] = []
        self.made: dict[str, tuple[str, ...]] = {}
        self.stands = Stands()
        self.missed: list[Missed] = []
        self.beliefs: list[tuple[int, Mapping[str, float]]] = []
        self.ended: Ended | None = None
        self.starts = 0
        self.again_min = 0.0
        self.hint_min = 0.0
        self._asked = 0
        self._readings: dict[str, int] = {}
        self._examiner = Examiner(setting.knowledge, setting.words.proposals.wrong, vehicle.key)
        self._minutes = minutes_of(setting.weights)

    @property
    def knowledge(self) -> Knowledge:
        """What the trade knows."""
        return self.setting.knowledge

    @cached_property
    def precautions(self) -> Precautions:
        """What the author of the tree makes sure of before each check."""
        return Precautions(self.knowledge, self.knowledge.trees[self.vehicle.symptom], self.vehicle.pulley)

    @property
    def checks(self) -> tuple[str, ...]:
        """The checks that may be asked for, in the author's order."""
        return self.precautions.checks

    @property
    def minutes(self) -> float:
        """What it took so far [min]."""
        return sum(one.minutes for one in self.course) + self.again_min + (self.ended.minutes if self.ended else 0.0)

    @property
    def cost(self) -> float | None:
        """The same, and the parts put in, in the shop's money; None where it has no hour rate."""
        prices = self.setting.prices
        if not prices.hour_rate:
            return None
        done = (self.knowledge.remedies[one] for one in (self.ended.remedies if self.ended else ()))
        hours = sum(
            prices.hours.get(one.id, parse_quantity(one.hours.text, "time").value / HOUR_S if one.hours else 0.0)
            for one in done
        )
        parts = {part.id for one in (self.ended.remedies if self.ended else ()) for part in self._renewed(one)}
        return round(
            (self.minutes / HOUR_MIN + hours) * prices.hour_rate + sum(prices.parts.get(one, 0.0) for one in parts), 2
        )

    def _renewed(self, remedy: str) -> list[PartWork]:
        return [part for part in self.knowledge.remedies[remedy].parts if part.todo == "renew"]

    def place(self) -> TreePlace:
        """Where the tree stands by what the learner judged."""
        return walk(self.knowledge, self.knowledge.trees[self.vehicle.symptom], self.made, self.vehicle.pulley)

    def of_tree(self) -> tuple[str, ...]:
        """The checks that the tree makes next in one go; none where it has come to an end."""
        return go_of(self.knowledge, self.place().node, self.made, self.vehicle.pulley) or self._asks()

    def _asks(self) -> tuple[str, ...]:
        check = self.place().node.check
        return (check,) if check else ()

    def rounds(self) -> dict[str, tuple[str, ...]]:
        """The rounds of the tree with the checks of each that are open."""
        nodes = self.knowledge.trees[self.vehicle.symptom].nodes.values()
        named = dict.fromkeys(node.round for node in nodes if node.round)
        found = {
            one: tuple(
                check
                for check in self.knowledge.rounds[one].checks
                if check in self.checks and check not in self.made and fits(self.knowledge, check, self.vehicle.pulley)
            )
            for one in named
            if one
        }
        return {one: checks for one, checks in found.items() if len(checks) > 1}

    def first_judged(self) -> dict[str, str]:
        """The outcome of each check that a tree goes by, as the learner judged it."""
        return {check: next(iter(outcomes), NOT_DONE) for check, outcomes in self.made.items()}

    def ask_safety(self, checks: Sequence[str]) -> Question | None:
        """What has to be named before a go; None where nothing of it is lacking."""
        target = self.target(checks)
        if target is None:
            return None
        self._asked += 1
        untouched = all(self.knowledge.checks[one].untouched for one in checks)
        left = self.stands.left_for(self.knowledge, target)
        return self._examiner.question(left, target, self._asked, untouched=untouched)

    def name(self, question: Question, picks: Sequence[int]) -> Named:
        """Take what was named before a state."""
        named = self._examiner.named(question, picks)
        self.missed += named.missed
        return named

    def target(self, checks: Sequence[str]) -> VehicleState | None:
        """The vehicle state in which checks are made; None where they only ask."""
        return self.knowledge.states.get(self.knowledge.checks[checks[-1]].state)

    def go(self, checks: Sequence[str]) -> Gone:
        """Make checks of one stand in one go; with the engine running it ends at what closes running."""
        made: list[Shown] = []
        for check in checks:
            made.append(self.answers.shown(check, (*self.made, *(one.check for one in made))))
            if is_running(self.knowledge, self.knowledge.checks[check]) and self._stops(made[-1]):
                break
        real = [self.knowledge.checks[one.check] for one in made]
        minutes = self._minutes.of_go(self.knowledge, real, self.stands.how)
        gone = Gone(
            dict(self.made), self.stands.how, tuple(one.id for one in real), minutes, tuple(made), {}, tuple(checks)
        )
        self._stand_after(real)
        self.course.append(gone)
        for one in made:
            if not one.outcomes:
                self.judge(one.check, ())
        return gone

    def _stops(self, shown: Shown) -> bool:
        outcomes = (self.knowledge.checks[shown.check].outcome(one) for one in shown.outcomes)
        return any(one is not None and one.closes_running for one in outcomes)

    def _stand_after(self, checks: Sequence[Check]) -> None:
        target = self.target([one.id for one in checks])
        if target is None:
            return
        left = self.stands.left_for(self.knowledge, target)
        # What hands set up stops an engine that runs.
        set_up = any(one.set_up for one in checks)
        was_running = self.stands.how.engine == "running" and left.how.belt == target.belt and not set_up
        self.starts += target.engine == "running" and not was_running
        for check in checks:
            left = left.come_to(self.knowledge, target, check)
        self.stands = left

    def reading(self, shown: Shown) -> str:
        """Read an instrument once more, in words; each reading scatters around the same value."""
        self._readings[shown.check] = self._readings.get(shown.check, 0) + 1
        return self.answers.said(shown, self._readings[shown.check])

    def perceived(self, shown: Shown) -> tuple[str, ...]:
        """What the bay shows of a check: sentences as somebody there would put it."""
        check = self.knowledge.checks[shown.check]
        if not shown.outcomes:
            return ("The complaint is not there: this shows nothing of it.",)
        if shown.value is not None:
            return (f"You read {self.reading(shown)}.",)
        return tuple(self._in_words(check, one) for one in shown.outcomes)

    def _in_words(self, check: Check, outcome_id: str) -> str:
        told = self.setting.words.perceived.checks.get(check.id, {}).get(outcome_id, ())
        if told:
            return picked(told, self.vehicle.key, "words", check.id, outcome_id)
        outcome = check.outcome(outcome_id)
        return f"{outcome.words}." if outcome else outcome_id

    def again(self, shown: Shown) -> tuple[str, ...]:
        """Look or read once more from the same stand: the same thing, for the minutes of the check."""
        self.again_min += self.setting.weights.checks_min.get(shown.check, self.knowledge.checks[shown.check].minutes)
        return self.perceived(shown)

    def judge(self, check: str, outcomes: Sequence[str]) -> None:
        """Take what the learner makes of what a check showed; nothing where it could not be told."""
        gone = next((one for one in reversed(self.course) if check in one.checks), None)
        if gone is not None:
            gone.judged[check] = tuple(outcomes)
        self.made[check] = tuple(outcomes)

    def believe(self, shares: Mapping[str, float]) -> None:
        """Take what the learner holds likely, by cause [1]."""
        self.beliefs.append((len(self.course), dict(shares)))

    def nameable(self) -> tuple[str, ...]:
        """The causes that can make this complaint on this vehicle, in the order of the knowledge."""
        sign = self.knowledge.signs.get(self.vehicle.symptom)
        fitting = (
            one for one in self.knowledge.causes.values() if not one.only_for or self.vehicle.pulley in one.only_for
        )
        return tuple(one.id for one in fitting if sign is None or sign.strengths(one.id, self.vehicle.pulley))

    def cured_by(self, remedies: Sequence[str]) -> frozenset[str]:
        """The causes that some remedies put right."""
        own = {one.id for one in self.knowledge.causes.values() if one.remedy in remedies}
        return frozenset(own.union(*(self.knowledge.remedies[one].also_cures for one in remedies)))

    def repaired(self, causes: Sequence[str], remedies: Sequence[str]) -> None:
        """Take conclusion and repair."""
        cured = self.cured_by(remedies)
        gone = None if self.vehicle.sound else self._cured(cured)
        self.ended = Ended(tuple(causes), tuple(remedies), gone)

    def _cured(self, cured: frozenset[str]) -> bool:
        # A recorded case lists what would be right, each alone.
        left = set(self.vehicle.made) - cured
        return len(left) < len(self.vehicle.made) if self.vehicle.recorded else not left

    def again_from(self, number: int) -> "Exercise":
        """The same vehicle before one of the goes, all that was judged by then as it was; nothing else goes along."""
        anew, before = Exercise(self.setting, self.vehicle), self.made
        for at, gone in enumerate(self.course):
            if at == number:
                before = dict(gone.before)
                break
            anew.go(gone.asked)
            for check, outcomes in gone.judged.items():
                anew.judge(check, outcomes)
        for check, outcomes in before.items():
            if check not in anew.made:
                anew.judge(check, outcomes)
        return anew

    def for_nothing(self) -> tuple[str, ...]:
        """The remedies done of which no cause was there: good parts renewed."""
        done = self.ended.remedies if self.ended else ()
        return tuple(one for one in done if not self.cured_by([one]) & set(self.vehicle.faults))

    def prove(self) -> tuple[str, ...]:
        """Make the check again that proves the complaint gone, and say what it shows."""
        assert self.ended is not None  # noqa: S101 - proof comes behind the repair
        tree = self.knowledge.trees[self.vehicle.symptom]
        check = self.knowledge.checks[tree.repeat]
        pulley = self.vehicle.pulley
        said = "proves" if self.ended.gone else "disproves"
        wanted = [one.id for one in check.outcomes if check.proof(one.id, pulley) == said]
        shown = self.answers.shown(check.id, tuple(self.made)).outcomes
        # What was not there before proves nothing by not being there afterwards.
        proof = tuple(one for one in shown if one in wanted) or tuple(wanted[:1])
        proof = proof if self.answers.is_there(tuple(self.made)) else ()
        minutes = self._minutes.of_go(self.knowledge, (check,), self.stands.how)
        self.starts += is_running(self.knowledge, check)
        self.ended = replace(self.ended, proved=check.id, proof=proof, minutes=minutes)
        return tuple(self._in_words(check, one) for one in self.ended.proof)
