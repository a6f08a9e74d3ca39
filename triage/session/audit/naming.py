"""What events name, and whether the knowledge of their trace holds it."""

from collections.abc import Collection, Iterable, Iterator
from types import MappingProxyType
from typing import assert_never

from triage.knowledge.models import PULLEYS, Knowledge
from triage.knowledge.vehicle import FACTS, WORDS, is_word_of
from triage.record import events as e
from triage.record.steps import Step
from triage.session.audit.account import BY_PICTURE, NEW_BELT, NO_PUMP

Named = tuple[str, str, Collection[str]]
"""What kind of thing, its id, and the ids that there are."""

ANYWHERE = "anywhere"
IN_HAND = "in-hand-"
OWN_LINES = (NO_PUMP, NEW_BELT, BY_PICTURE)
"""Lines of the program's own."""
GATE_ANSWERS = ("none", "starter-generator", "hybrid", "high-voltage", "dont-know")
MAKER = "maker: "
NEEDED = MappingProxyType(
    {
        "fact": ("fact",),
        "confirm": ("state",),
        "held": ("state",),
        "set-up": ("check", "state"),
        "blocked": ("check", "state"),
        "run-ready": ("check", "state"),
        "run": ("check", "state"),
        "run-over": ("state",),
        "result": ("check", "state"),
        "check": ("check", "state"),
        "round": ("check", "state", "round", "open", "lines"),
        "which": ("remedy",),
        "part": ("part", "state"),
        "torque": ("torque", "state"),
    }
)
"""What a kind of step must name."""


class Names:
    """The ids of one knowledge, for many events.

    Args:
        knowledge: what travels in the trace.
    """

    def __init__(self, knowledge: Knowledge) -> None:
        """Collect what stands in lists."""
        self._knowledge = knowledge
        remedies = knowledge.remedies.values()
        readings = [check.reading for check in knowledge.checks.values() if check.reading]
        self._parts = {part.id for remedy in remedies for part in remedy.parts}
        self._torques = {torque.id for remedy in remedies for torque in remedy.torques}
        self._figures = {zone.figure for reading in readings for zone in reading.zones if zone.figure} | self._torques
        self._nodes = {node for tree in knowledge.trees.values() for node in tree.nodes}
        self._states = {*knowledge.states, ANYWHERE}
        self._asked = {*knowledge.confirmations, *OWN_LINES} | {
            f"{IN_HAND}{check.id}" for check in knowledge.checks.values() if check.consumes
        }

    def strangers(self, event: e.Event) -> Iterator[str]:
        """Say what an event names that is not there, such as `the check "x"`; only an edited trace has any."""
        for what, name, known in self._named(event):
            if name not in known:
                yield f'the {what} "{name}"'
        if isinstance(event, e.StepOffered):
            lacking = [field for field in NEEDED.get(event.step.kind, ()) if not getattr(event.step, field)]
            yield from (f'the step "{event.step.kind}" without its {field}' for field in lacking)
        if isinstance(event, e.FactTold | e.FactCorrected) and not _can_be(event.fact, event.value):
            yield f'the value "{event.value}" of the fact "{event.fact}"'

    def _named(self, event: e.Event) -> Iterable[Named]:
        if isinstance(event, e.OfKeeping):
            return self._of_keeping(event)
        if isinstance(event, e.OfInterlock):
            return self._of_interlock(event)
        if isinstance(event, e.OfChecks):
            return self._of_checks(event)
        if isinstance(event, e.OfEngine):
            return self._of_engine(event)
        if isinstance(event, e.OfReasoning):
            return self._of_reasoning(event)
        if isinstance(event, e.OfVehicle):
            return self._of_vehicle(event)
        if isinstance(event, e.OfRepair):
            return self._of_repair(event)
        assert_never(event)

    def _of_keeping(self, event: e.OfKeeping) -> Iterable[Named]:
        match event:
            case e.StepOffered():
                return self._of_step(event.step)
            case e.SessionClosed():
                return self._checks(*event.not_proved)
            case e.NoteAdded() | e.SessionPaused() | e.SessionResumed() | e.SessionHandedOver() | e.ActUndone():
                return ()
            case e.RulesInstalled() | e.NotUnderstood():
                return ()
        assert_never(event)

    def _of_interlock(self, event: e.OfInterlock) -> Iterable[Named]:
        match event:
            case e.ThingConfirmed() | e.ThingRefused():
                return self._confirmations(event.state, *event.lines, event.confirmation)
            case e.ThingsEnded():
                return (("confirmation", one, self._asked) for one in event.things)
            case e.LooksEnded():
                return self._checks(*event.checks)
            case e.ThingsCarried():
                return self._confirmations(event.state, *event.since)
            case e.StateEntered() | e.InterlockLapsed():
                return self._vehicle_states(event.state)
            case e.RefusalExplained():
                return (("confirmation", event.confirmation, self._asked),)
            case e.HeldTriedAgain() | e.VehicleTurned() | e.SomethingChanged() | e.AloneSaid():
                return ()
        assert_never(event)

    def _of_engine(self, event: e.OfEngine) -> Iterable[Named]:
        match event:
            case e.SetUpFinished():
                return (*self._checks(event.check), *self._vehicle_states(event.state, event.running))
            case e.RunStarted():
                return self._vehicle_states(event.state)
            case e.RunEnded() | e.AlarmRaised() | e.EngineOff() | e.ClockShifted():
                return ()
        assert_never(event)

    def _of_checks(self, event: e.OfChecks) -> Iterable[Named]:
        match event:
            case e.CheckAnswered() | e.FindingTold():
                known = self._outcomes(event.check)
                return (*self._checks(event.check), *(("outcome", outcome, known) for outcome in event.outcomes))
            case e.ReadingTaken():
                return self._of_reading(event)
            case e.CheckNotDone() | e.FindingTakenBack() | e.FaultPutRight() | e.ReadingThrownAway():
                return self._checks(event.check)
            case e.RoundLeft():
                return (("round", event.round, self._knowledge.rounds), *self._checks(*event.checks))
            case e.CheckAskedFor():
                return self._checks(*filter(None, (event.check,)))
            case e.MakerFigureEntered():
                return (("figure", event.figure, self._figures),)
        assert_never(event)

    def _of_reasoning(self, event: e.OfReasoning) -> Iterable[Named]:
        match event:
            case e.ConclusionReached():
                return (("node", event.node, self._nodes), *self._of_end(event))
            case e.OwnRouteEnded():
                return self._of_end(event)
            case e.OwnRouteTaken():
                return self._checks(event.check)
            case e.AdviceGiven():
                return self._of_advice(event)
            case e.CostsWeighed():
                return self._of_costs(event)
        assert_never(event)

    def _of_end(self, event: e.ConclusionReached | e.OwnRouteEnded) -> Iterator[Named]:
        yield from (("cause", cause, self._knowledge.causes) for cause in event.causes)
        yield from self._checks(*event.path, *event.close_calls)

    def _of_costs(self, event: e.CostsWeighed) -> Iterator[Named]:
        yield from (("remedy", remedy, self._knowledge.remedies) for remedy in event.remedies)
        yield from self._checks(*filter(None, event.check))
        yield from (("part", worn.part, self._parts) for worn in event.choice.worn)
        unpriced = (part for one in event.choice.not_weighed for part in one.unpriced)
        yield from (("part", part, self._parts) for part in unpriced)

    def _of_vehicle(self, event: e.OfVehicle) -> Iterable[Named]:
        match event:
            case e.SessionStarted():
                tools = (("tool", tool, self._knowledge.tools) for tool in event.accuracies)
                return (("symptom", event.symptom, self._knowledge.trees), *tools)
            case e.GateAnswered():
                return (("answer", event.answer, GATE_ANSWERS),)
            case e.FactTold() | e.FactCorrected():
                return (("fact", event.fact, FACTS),)
            case e.RenewalTold():
                return (("part", event.part, self._parts),)
            case e.LayoutUsed() | e.RateMatched() | e.DriveCompared():
                return ()
        assert_never(event)

    def _of_repair(self, event: e.OfRepair) -> Iterable[Named]:
        match event:
            case e.RemedyBegun():
                return (("remedy", remedy, self._knowledge.remedies) for remedy in event.remedies)
            case e.PlaceNamed():
                return (("remedy", event.remedy, self._knowledge.remedies),)
            case e.PartRecorded():
                return (("part", event.part, self._parts),)
            case e.TorqueRecorded():
                return (("torque", event.torque, self._torques),)
            case e.ProofLeftOpen():
                return self._checks(*event.again)
            case e.NotCured():
                return self._checks(*event.stale)
            case e.WorkFinished():
                return ()
        assert_never(event)

    def _of_step(self, step: Step) -> Iterator[Named]:
        states = self._states if step.kind == "check" else self._knowledge.states
        named: tuple[Named, ...] = (
            ("check", step.check, self._knowledge.checks),
            ("vehicle state", step.state, states),
            ("confirmation", step.confirmation, self._asked),
            ("fact", step.fact, FACTS),
            ("remedy", step.remedy, self._knowledge.remedies),
            ("part", step.part, self._parts),
            ("torque", step.torque, self._torques),
            ("round", step.round, self._knowledge.rounds),
            *(("check", one, self._knowledge.checks) for one in step.open),
        )
        what, known = ("check", self._knowledge.checks) if step.kind == "round" else ("confirmation", self._asked)
        lines = tuple((what, one, known) for one in step.lines)
        return (one for one in (*named, *lines) if one[1])

    def _of_reading(self, event: e.ReadingTaken) -> Iterator[Named]:
        yield from self._checks(event.check)
        check = self._knowledge.checks.get(event.check)
        if check is None:
            return
        ways = {way.id: [part.id for part in way.parts] for way in check.reading.ways} if check.reading else {}
        yield "reading of the check", event.check, (event.check,) if ways else ()
        yield "way of reading", event.way, ways
        yield from (("part of a reading", part.part, ways.get(event.way, ())) for part in event.parts)
        if event.outcome:
            yield "outcome", event.outcome, self._outcomes(event.check)
        if not event.verdict.limit_source.startswith(MAKER):
            yield "source", event.verdict.limit_source, self._knowledge.sources

    def _of_advice(self, event: e.AdviceGiven) -> Iterator[Named]:
        knowledge = self._knowledge
        yield from (("cause", cause, knowledge.causes) for cause in event.causes)
        yield from self._checks(*event.check)
        reasons = [reason for one in event.likely for reason in one.reasons]
        reasons += [one.against for one in event.unlikely]
        circumstances = (reason.circumstance for reason in reasons if reason.circumstance)
        yield from (("circumstance", one, knowledge.circumstances) for one in circumstances)
        yield from (("outcome", one.outcome, self._outcomes(event.about)) for one in event.outlooks)

    def _confirmations(self, state: str, *confirmations: str) -> Iterator[Named]:
        yield from self._vehicle_states(state)
        yield from (("confirmation", one, self._asked) for one in confirmations)

    def _vehicle_states(self, *states: str) -> Iterator[Named]:
        return (("vehicle state", state, self._knowledge.states) for state in states)

    def _checks(self, *checks: str) -> Iterator[Named]:
        return (("check", check, self._knowledge.checks) for check in checks)

    def _outcomes(self, check_id: str) -> list[str]:
        check = self._knowledge.checks.get(check_id)
        return [outcome.id for outcome in check.outcomes] if check else []


def _can_be(fact: str, value: str | float | None) -> bool:
    if fact in WORDS:
        return value is None or (isinstance(value, str) and is_word_of(fact, value))
    return value is None or (value in PULLEYS if fact == "pulley" else isinstance(value, float))
