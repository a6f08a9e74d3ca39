"""evolve(state, event) -> state: reads what happened and computes nothing that an event does not say."""

from collections.abc import Callable, Iterable
from dataclasses import replace
from functools import reduce
from typing import TypeVar, cast

from triage.record import events as e
from triage.record.steps import Step
from triage.session.state import (
    Concluded,
    Condition,
    Finding,
    MakerFigure,
    OwnStep,
    PartDone,
    Prepared,
    State,
    TorqueDone,
    UsedLayout,
)

E = TypeVar("E", bound=e.Event)
_NEWS = (
    e.FactTold,
    e.FactCorrected,
    e.StateEntered,
    e.CheckAnswered,
    e.ReadingTaken,
    e.CheckNotDone,
    e.FindingTakenBack,
    e.FaultPutRight,
    e.LayoutUsed,
    e.RenewalTold,
    e.ConclusionReached,
    e.OwnRouteEnded,
    e.NotCured,
)
"""What advice given before does not know of."""
_RULES: dict[type[e.Event], Callable[[State, e.Event], State]] = {}


def evolve(state: State, event: e.Event) -> State:
    """The state after one more event."""
    if event.boot != state.boot:
        state = _in_boot(state, event)
    after = _RULES[type(event)](state, event)
    # Until this event it may have run, although nothing was written meanwhile.
    hot = any((one.engine, one.belt) == ("running", "fitted") for one in (state.condition, after.condition))
    return replace(
        after,
        last_ms=event.at_ms,
        clock_ms=event.clock_ms,
        events=state.events + 1,
        fresh=after.fresh and not isinstance(event, _NEWS),
        # A clock that goes back must not make the engine cold.
        engine_ran_ms=max(event.clock_ms, after.engine_ran_ms or event.clock_ms) if hot else after.engine_ran_ms,
    )


def _in_boot(state: State, event: e.Event) -> State:
    """The state under another start of the clock: no confirmation and no age goes across, and a hot engine is hot."""
    ran_ms = None if state.engine_ran_ms is None else event.clock_ms
    return replace(_ended(state), boot=event.boot, engine_ran_ms=ran_ms)


def _ended(state: State) -> State:
    """The state with every confirmation ended; a run that is under way has to be switched off."""
    run = "overdue" if state.run == "running" else state.run
    return replace(
        state,
        standing={},
        inside="",
        held="",
        prepared=(),
        ever=frozenset(),
        stopped=frozenset(),
        recap=frozenset(),
        alone=False,
        run=run,
    )


def fold(events: Iterable[e.Event], state: State | None = None) -> State:
    """The state after many events, from the beginning or from a given state."""
    return reduce(evolve, events, state or State())


def _on(kind: type[E]) -> Callable[[Callable[[State, E], State]], Callable[[State, E], State]]:
    def register(rule: Callable[[State, E], State]) -> Callable[[State, E], State]:
        _RULES[kind] = cast("Callable[[State, e.Event], State]", rule)
        return rule

    return register


@_on(e.SessionStarted)
def _started(state: State, event: e.SessionStarted) -> State:
    return replace(
        state,
        symptom=event.symptom,
        job=event.job,
        words=event.words,
        reviewer=event.reviewer,
        accuracies=event.accuracies,
        prices=event.prices,
        weights=event.weights,
        holder=event.who,
        started_ms=event.at_ms,
        rules=event.rules,
    )


@_on(e.GateAnswered)
def _gate(state: State, event: e.GateAnswered) -> State:
    return replace(state, gate=event.answer)


@_on(e.FactTold)
def _fact(state: State, event: e.FactTold) -> State:
    return replace(state, facts={**state.facts, event.fact: event.value}, concluded=None)


@_on(e.FactCorrected)
def _fact_corrected(state: State, event: e.FactCorrected) -> State:
    state = replace(state, facts={**state.facts, event.fact: event.value})
    return state if event.repairing else replace(state, concluded=None, own=())


@_on(e.ThingConfirmed)
def _confirmed(state: State, event: e.ThingConfirmed) -> State:
    said = {event.confirmation, *event.lines}
    recap = not state.standing or said & state.recap
    return replace(
        state,
        standing={**state.standing, **dict.fromkeys(event.lines, event.clock_ms)},
        due=state.due - said,
        stopped=state.stopped - said,
        ever=state.ever | said,
        denied=state.denied - said,
        held="",
        unexplained="",
        recap=state.recap - said,
        recap_ms=event.clock_ms if recap else state.recap_ms,
        named=state.named if event.says else {**state.named, event.confirmation: event.name},
    )


@_on(e.ThingsCarried)
def _carried(state: State, _event: e.ThingsCarried) -> State:
    return state


@_on(e.ThingRefused)
def _refused(state: State, event: e.ThingRefused) -> State:
    said = {event.confirmation}
    standing = {line: at_ms for line, at_ms in state.standing.items() if line not in said}
    unexplained = "" if event.reason else event.confirmation
    state = replace(state, standing=standing, ever=state.ever - said, denied=state.denied | said)
    return replace(state, held=event.confirmation, unexplained=unexplained, stopped=frozenset())


@_on(e.RefusalExplained)
def _explained(state: State, _event: e.RefusalExplained) -> State:
    return replace(state, unexplained="")


@_on(e.HeldTriedAgain)
def _tried_again(state: State, _event: e.HeldTriedAgain) -> State:
    # Putting right what was refused may have taken hands in.
    return replace(state, held="", prepared=())


@_on(e.SomethingChanged)
def _changed(state: State, _event: e.SomethingChanged) -> State:
    return replace(state, prepared=())


@_on(e.AloneSaid)
def _alone(state: State, event: e.AloneSaid) -> State:
    return replace(state, alone=event.alone)


@_on(e.ThingsEnded)
def _things_ended(state: State, event: e.ThingsEnded) -> State:
    things = frozenset(event.things)
    if event.because in ("clock-jumped", "no-answer"):
        # Nobody knows how long ago anything was said, or whether anybody is there.
        return replace(_ended(state), ended=event.because)
    by_stop = event.because in ("stop", "run-over")
    waiting = event.because in ("long-silent", "long-hands-in")
    return replace(
        state,
        standing={line: at_ms for line, at_ms in state.standing.items() if line not in things},
        due=state.due | things,
        stopped=state.stopped | things if by_stop else frozenset(),
        recap=state.recap | things if waiting else state.recap,
        recap_ms=event.clock_ms if waiting else state.recap_ms,
        ended=event.because,
    )


@_on(e.LooksEnded)
def _looks_ended(state: State, event: e.LooksEnded) -> State:
    return replace(state, look_again=tuple(dict.fromkeys((*state.look_again, *event.checks))))


@_on(e.StateEntered)
def _entered(state: State, event: e.StateEntered) -> State:
    condition = Condition(event.engine, event.belt, event.battery)
    runs = event.engine == "running"
    since_ms = event.clock_ms if runs else state.running_since_ms
    return replace(state, inside=event.state, condition=condition, running_since_ms=since_ms)


@_on(e.VehicleTurned)
def _turned(state: State, event: e.VehicleTurned) -> State:
    condition = replace(state.condition, belt=event.belt, battery=event.battery)
    return replace(state, condition=condition, inside="")


@_on(e.InterlockLapsed)
def _lapsed(state: State, event: e.InterlockLapsed) -> State:
    # Of older rules: everything ended at once.
    return replace(_ended(state), ended=event.because, run=state.run)


@_on(e.SetUpFinished)
def _set_up(state: State, event: e.SetUpFinished) -> State:
    return replace(state, prepared=(*state.prepared, Prepared(event.check, event.running)))


@_on(e.RunStarted)
def _run_started(state: State, event: e.RunStarted) -> State:
    condition = replace(state.condition, engine="running")
    return replace(
        state,
        run="running",
        run_until_ms=event.until_ms,
        run_check=state.step.check,
        runs=state.runs + 1,
        condition=condition,
    )


@_on(e.RunEnded)
def _run_ended(state: State, event: e.RunEnded) -> State:
    if event.because != "switched-off":
        return replace(state, run="overdue")
    stopped = replace(state.condition, engine="stopped")
    return replace(state, run="result", condition=stopped, recap_ms=event.clock_ms)


@_on(e.EngineOff)
def _engine_off(state: State, event: e.EngineOff) -> State:
    return replace(state, condition=replace(state.condition, engine="stopped"), recap_ms=event.clock_ms)


@_on(e.ClockShifted)
def _clock_shifted(state: State, event: e.ClockShifted) -> State:
    return _ended(state) if abs(event.by_ms) > e.JUMP_MS else state


@_on(e.CheckAnswered)
def _answered(state: State, event: e.CheckAnswered) -> State:
    return _found(state, Finding(event.check, event.outcomes, event.at_ms, event.who), proving=event.proving)


@_on(e.ReadingTaken)
def _reading(state: State, event: e.ReadingTaken) -> State:
    said = ", ".join(part.text for part in event.parts)
    outcomes = (event.outcome,) if event.outcome else ()
    finding = Finding(event.check, outcomes, event.at_ms, event.who, said, event.verdict, way=event.way)
    if not event.outcome:
        return replace(state, first_readings={**state.first_readings, event.check: finding})
    return _found(state, finding, proving=event.proving)


@_on(e.CheckNotDone)
def _not_done(state: State, event: e.CheckNotDone) -> State:
    finding = Finding(event.check, (), event.at_ms, event.who, reason=event.reason)
    return _found(replace(state, held="", prepared=()), finding, proving=event.proving)


def _found(state: State, finding: Finding, *, proving: bool) -> State:
    firsts = {check: first for check, first in state.first_readings.items() if check != finding.check}
    waiting = tuple(check for check in state.put_right if check != finding.check)
    looks = tuple(check for check in state.look_again if check != finding.check)
    # What was in hand for it is used up.
    standing = {line: at_ms for line, at_ms in state.standing.items() if line != f"in-hand-{finding.check}"}
    run = "" if state.run == "result" and state.run_check == finding.check else state.run
    state = replace(state, first_readings=firsts, put_right=waiting, run=run, told=_told(state.told, finding))
    state = replace(state, look_again=looks, standing=standing)
    if proving:
        return replace(state, after={**state.after, finding.check: finding})
    return replace(state, findings={**state.findings, finding.check: finding}, concluded=None)


def _told(told: tuple[Finding, ...], finding: Finding) -> tuple[Finding, ...]:
    """Of each answer to a check the first time and the last: a session may be long, and its checks are few."""
    same = [one for one in told if (one.check, one.outcomes) == (finding.check, finding.outcomes)]
    between = same[1:]
    return (*(one for one in told if all(one is not other for other in between)), finding)


@_on(e.FindingTakenBack)
def _taken_back(state: State, event: e.FindingTakenBack) -> State:
    return _without(replace(state, concluded=None, own=()), event.check)


def _without(state: State, check: str) -> State:
    if state.stage == "proving":
        return replace(state, after={key: finding for key, finding in state.after.items() if key != check})
    findings = {key: finding for key, finding in state.findings.items() if key != check}
    firsts = {key: first for key, first in state.first_readings.items() if key != check}
    return replace(state, findings=findings, first_readings=firsts)


@_on(e.NoteAdded)
def _note(state: State, _event: e.NoteAdded) -> State:
    return state


@_on(e.MakerFigureEntered)
def _maker_figure(state: State, event: e.MakerFigureEntered) -> State:
    figure = MakerFigure(event.value, event.text, event.reference)
    return replace(state, maker={**state.maker, event.figure: figure})


@_on(e.LayoutUsed)
def _layout_used(state: State, event: e.LayoutUsed) -> State:
    return replace(state, layout=UsedLayout(event.name, event.layout, event.known))


@_on(e.RateMatched)
def _rate_matched(state: State, event: e.RateMatched) -> State:
    return replace(state, layout=replace(state.layout, match=event.match) if state.layout else None)


# A trace may be cut right behind a pause, a hand-over or its closing: the step of before must not be shown again.
@_on(e.SessionPaused)
def _paused(state: State, _event: e.SessionPaused) -> State:
    return replace(_ended(state), paused=True, step=Step(kind="paused"))


@_on(e.SessionResumed)
def _resumed(state: State, event: e.SessionResumed) -> State:
    # Whatever stands before it in a trace: who takes a vehicle up confirms everything.
    return replace(_ended(state), paused=False, holder=event.who)


@_on(e.RulesInstalled)
def _rules(state: State, event: e.RulesInstalled) -> State:
    lines = event.interlocks.confirmations.values()
    # How far the vehicle was taken apart meanwhile, nobody can say.
    due = frozenset(one.id for one in lines if (one.after or one.arrives_so) and one.group != "same-as-before")
    return replace(_ended(state), rules=event.rules, due=due)


@_on(e.SessionHandedOver)
def _handed_over(state: State, event: e.SessionHandedOver) -> State:
    return replace(_ended(state), paused=True, holder=event.to, step=Step(kind="paused"))


@_on(e.ConclusionReached)
def _concluded(state: State, event: e.ConclusionReached) -> State:
    concluded = Concluded(event.causes, event.end, event.node, event.path, event.close_calls)
    return replace(state, concluded=concluded, advice=(), counsel=None, costs=None)


@_on(e.OwnRouteTaken)
def _own_route(state: State, event: e.OwnRouteTaken) -> State:
    own = OwnStep(event.check, event.minutes, event.saves_min)
    return replace(state, own=(*state.own, own), concluded=None)


@_on(e.OwnRouteEnded)
def _own_route_ended(state: State, event: e.OwnRouteEnded) -> State:
    end = "" if event.causes else "undecided"
    concluded = Concluded(event.causes, end, "", event.path, event.close_calls, own=True)
    return replace(state, concluded=concluded, advice=(), counsel=None, costs=None)


@_on(e.AdviceGiven)
def _advised(state: State, event: e.AdviceGiven) -> State:
    return replace(state, advice=event.likely, counsel=event, fresh=True, enough=event.pays is False)


@_on(e.CostsWeighed)
def _costs(state: State, event: e.CostsWeighed) -> State:
    return replace(state, costs=event.choice)


@_on(e.RenewalTold)
def _renewal(state: State, event: e.RenewalTold) -> State:
    renewed_at_m = {part: at_m for part, at_m in state.renewed_at_m.items() if part != event.part}
    if event.odometer_m is not None:
        renewed_at_m[event.part] = event.odometer_m
    return replace(state, renewed_at_m=renewed_at_m)


@_on(e.RemedyBegun)
def _remedy(state: State, event: e.RemedyBegun) -> State:
    return replace(state, stage="working", remedies=event.remedies, parts_done=(), torques_done=(), run="")


@_on(e.FaultPutRight)
def _put_right(state: State, event: e.FaultPutRight) -> State:
    return replace(_without(state, event.check), put_right=(*state.put_right, event.check))


@_on(e.PartRecorded)
def _part(state: State, event: e.PartRecorded) -> State:
    return replace(state, parts_done=(*state.parts_done, PartDone(event.part, event.done, event.note)))


@_on(e.TorqueRecorded)
def _torque(state: State, event: e.TorqueRecorded) -> State:
    done = TorqueDone(event.torque, event.value_nm, event.text, event.wrench, event.reference)
    return replace(state, torques_done=(*state.torques_done, done))


@_on(e.WorkFinished)
def _work_finished(state: State, _event: e.WorkFinished) -> State:
    return replace(state, stage="proving", after={})


@_on(e.NotCured)
def _not_cured(state: State, event: e.NotCured) -> State:
    kept = {check: finding for check, finding in state.known.items() if check not in event.stale}
    return replace(
        state,
        stage="finding",
        findings=kept,
        after={},
        concluded=None,
        own=(),
        remedies=(),
        rounds=state.rounds + 1,
    )


@_on(e.SessionClosed)
def _closed(state: State, event: e.SessionClosed) -> State:
    return replace(state, stage="closed", closed=event.how, step=Step(kind="closed"))


@_on(e.NotUnderstood)
def _not_understood(state: State, _event: e.NotUnderstood) -> State:
    return state


@_on(e.StepOffered)
def _step(state: State, event: e.StepOffered) -> State:
    # Whatever a trace says behind its end: nothing is asked in a session that was left or closed.
    if state.paused or state.closed:
        return state
    return replace(state, step=event.step, prepared=_still_prepared(state, event.step))


def _still_prepared(state: State, step: Step) -> tuple[Prepared, ...]:
    """What is set up, until hands go in for something else than setting up."""
    by_hand = step.kind in ("check", "part", "torque") and step.state not in ("", "anywhere")
    return tuple(one for one in state.prepared if not by_hand or step.state == one.running)
