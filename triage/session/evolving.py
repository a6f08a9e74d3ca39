"""evolve(state, event) -> state: reads what happened and computes nothing that an event does not say."""

from collections.abc import Iterable
from dataclasses import replace
from functools import reduce
from typing import assert_never

from triage.record import events as e
from triage.record.readings import MeasuredOnce, said_of
from triage.record.steps import Step
from triage.session.acts import remembered, undone
from triage.session.state import Concluded, Condition, Finding, Prepared, State, person
from triage.session.taking_off import NEW_BELT

_NEWS: frozenset[type[e.Event]] = frozenset(
    {
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
    }
)
"""What advice given before does not know of."""


def evolve(state: State, event: e.Event) -> State:
    """The state after one more event."""
    if event.boot != state.boot:
        state = _in_boot(state, event)
    acts = remembered(state, event)
    after = _after(replace(state, acts=acts) if acts is not state.acts else state, event)
    # Until this event it may have run, although nothing was written meanwhile.
    hot = any((one.engine, one.belt) == ("running", "fitted") for one in (state.condition, after.condition))
    return replace(
        after,
        last_ms=event.at_ms,
        clock_ms=event.clock_ms,
        events=state.events + 1,
        fresh=after.fresh and type(event) not in _NEWS,
        # A clock that goes back must not make the engine cold.
        engine_ran_ms=max(event.clock_ms, after.engine_ran_ms or event.clock_ms) if hot else after.engine_ran_ms,
    )


def fold(events: Iterable[e.Event], state: State | None = None) -> State:
    """The state after many events, from the beginning or from a given state."""
    return reduce(evolve, events, state or State())


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
        # What was put together again is asked again, whoever takes the vehicle up.
        due=state.due.union(state.standing) - state.recap,
        inside="",
        held="",
        prepared=(),
        ever=frozenset(),
        stopped=frozenset(),
        recap=frozenset(),
        alone=False,
        present=frozenset(),
        run=run,
        in_run={},
    )


def _after(state: State, event: e.Event) -> State:
    # The commonest first: to ask an event whether it is of another class takes as long as half a rule.
    if isinstance(event, e.OfKeeping):
        return _kept(state, event)
    if isinstance(event, e.OfInterlock):
        return _confirmed(state, event)
    if isinstance(event, e.OfChecks):
        return _looked(state, event)
    if isinstance(event, e.OfEngine):
        return _ran(state, event)
    if isinstance(event, e.OfReasoning):
        return _reasoned(state, event)
    if isinstance(event, e.OfVehicle):
        return _told_of_vehicle(state, event)
    if isinstance(event, e.OfRepair):
        return _repaired(state, event)
    assert_never(event)


def _told_of_vehicle(state: State, event: e.OfVehicle) -> State:
    match event:
        case e.SessionStarted():
            return _started(state, event)
        case e.GateAnswered():
            return replace(state, gate=event.answer)
        case e.FactTold():
            seen = {event.fact} if state.step.fact == event.fact else set()
            facts = {**state.facts, event.fact: event.value}
            return replace(state, facts=facts, looked_up=state.looked_up | seen, concluded=None)
        case e.FactCorrected():
            facts = {**state.facts, event.fact: event.value}
            state = replace(state, facts=facts, looked_up=state.looked_up - {event.fact})
            return state if event.repairing else replace(state, concluded=None, own=())
        case e.RenewalTold():
            renewed_at_m = {part: at_m for part, at_m in state.renewed_at_m.items() if part != event.part}
            told = {} if event.odometer_m is None else {event.part: event.odometer_m}
            return replace(state, renewed_at_m={**renewed_at_m, **told})
        case e.LayoutUsed():
            return replace(state, layout=event, match=None, predictions=None)
        case e.RateMatched():
            return replace(state, match=event.match if state.layout else None)
        case e.DriveCompared():
            return replace(state, predictions=event.predictions if state.layout else None)
    assert_never(event)


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


def _confirmed(state: State, event: e.OfInterlock) -> State:
    match event:
        case e.ThingConfirmed():
            return _said(state, event)
        case e.ThingRefused():
            return _refused(state, event)
        case e.ThingsEnded():
            return _ended_by(state, event)
        case e.StateEntered():
            condition = Condition(event.engine, event.belt, event.battery)
            since_ms = event.clock_ms if event.engine == "running" else state.running_since_ms
            started = event.engine == "running" and state.condition.engine != "running"
            in_run = {} if started else state.in_run
            state = replace(state, inside=event.state, in_run=in_run, running_since_ms=since_ms)
            return _stands_as(state, condition)
        case e.VehicleTurned():
            condition = replace(state.condition, belt=event.belt, battery=event.battery)
            return _stands_as(replace(state, inside=""), condition)
        case e.InterlockLapsed():
            # Of older rules: everything ended at once.
            return replace(_ended(state), ended=event.because, run=state.run)
        case _:
            return _told_of_interlock(state, event)


def _told_of_interlock(
    state: State,
    event: e.ThingsCarried | e.RefusalExplained | e.HeldTriedAgain | e.SomethingChanged | e.AloneSaid | e.LooksEnded,
) -> State:
    match event:
        case e.ThingsCarried():
            # Of older rules: what stands is no part of a session that goes on.
            return state
        case e.RefusalExplained():
            return replace(state, unexplained="")
        case e.HeldTriedAgain():
            # Putting right what was refused may have taken hands in.
            return replace(state, held="", prepared=())
        case e.SomethingChanged():
            came = {person(event.who)} if event.what == "joined" else set()
            moved = _MOVES.get(event.what, frozenset())
            return replace(state, prepared=(), present=state.present | came, opened=state.opened | moved)
        case e.AloneSaid():
            return replace(state, alone=event.alone)
        case e.LooksEnded():
            return replace(state, look_again=tuple(dict.fromkeys((*state.look_again, *event.checks))))
    assert_never(event)


_MOVES: dict[str, frozenset[str]] = {"belt-moved": frozenset({"belt"}), "lead-off": frozenset({"battery"})}
"""What was told that opens the drive or the battery."""


def _stands_as(state: State, condition: Condition) -> State:
    """What was open once is put together only by somebody saying so, whatever a trace says of the vehicle."""
    on_again = (state.condition.belt, condition.belt) == ("removed", "fitted")
    # What was in hand for it is on the vehicle.
    standing = {line: at_ms for line, at_ms in state.standing.items() if not on_again or line != NEW_BELT}
    return replace(state, condition=condition, opened=state.opened | condition.open, standing=standing)


def _said(state: State, event: e.ThingConfirmed) -> State:
    said = {event.confirmation, *event.lines}
    recap = not state.standing or said & state.recap
    return replace(
        state,
        standing={**state.standing, **{line: event.clock_ms for line in event.lines if line not in state.recap}},
        due=state.due - said,
        stopped=state.stopped - said,
        ever=state.ever | said,
        denied=state.denied - said,
        held="",
        unexplained="",
        recap=state.recap - said,
        quick=state.quick + event.quick,
        recap_ms=event.clock_ms if recap else state.recap_ms,
        present=state.present | {person(one) for one in (event.who, event.name) if one},
        named=state.named if event.says else {**state.named, event.confirmation: event.name},
    )


def _refused(state: State, event: e.ThingRefused) -> State:
    said = set(event.lines)
    standing = {line: at_ms for line, at_ms in state.standing.items() if line not in said}
    unexplained = "" if event.reason else event.confirmation
    state = replace(state, standing=standing, ever=state.ever - said, denied=state.denied | said)
    return replace(state, held=event.lines[-1], unexplained=unexplained, stopped=frozenset())


def _ended_by(state: State, event: e.ThingsEnded) -> State:
    things = frozenset(event.things)
    if event.because in ("clock-jumped", "no-answer"):
        # Nobody knows how long ago anything was said, or whether anybody is there.
        return replace(_ended(state), ended=event.because)
    waiting = event.because in ("long-silent", "long-hands-in")
    by_stop = things & state.standing.keys()
    return replace(
        state,
        standing={line: at_ms for line, at_ms in state.standing.items() if line not in things},
        due=state.due | things,
        stopped=state.stopped | by_stop if event.because in ("stop", "run-over") else frozenset(),
        recap=state.recap | things if waiting else state.recap,
        recap_ms=event.clock_ms if waiting else state.recap_ms,
        ended=event.because,
    )


def _ran(state: State, event: e.OfEngine) -> State:
    match event:
        case e.SetUpFinished():
            return replace(state, prepared=(*state.prepared, Prepared(event.check, event.running)))
        case e.RunStarted():
            condition = replace(state.condition, engine="running")
            counted = replace(state, run_until_ms=event.until_ms, run_check=state.step.check, runs=state.runs + 1)
            return replace(counted, run="running", in_run={}, condition=condition)
        case e.RunEnded():
            if event.because != "switched-off":
                ended = "run-over" if event.because == "time-limit" else state.ended
                return replace(state, run="overdue", ended=ended)
            return replace(_stood_still(state, event), run="result")
        case e.EngineOff():
            return _stood_still(state, event)
        case e.AlarmRaised():
            return replace(state, round="")
        case e.ClockShifted():
            return _ended(state) if abs(event.by_ms) > e.JUMP_MS else state
    assert_never(event)


def _stood_still(state: State, event: e.Event) -> State:
    still = replace(state.condition, engine="stopped")
    return replace(state, condition=still, recap_ms=event.clock_ms, round="")


def _looked(state: State, event: e.OfChecks) -> State:
    match event:
        case e.CheckAnswered():
            took_ms = _took_ms(state, event)
            finding = Finding(event.check, event.outcomes, event.at_ms, event.who, took_ms=took_ms)
            return _found(state, finding, proving=event.proving)
        case e.FindingTold():
            return _told_of(state, event)
        case e.ReadingTaken():
            return _read(state, event)
        case e.ReadingThrownAway():
            return _thrown_away(state, event)
        case e.CheckNotDone():
            finding = Finding(event.check, (), event.at_ms, event.who, reason=event.reason)
            prepared = tuple(one for one in state.prepared if one.check != event.check)
            return _found(replace(state, held="", prepared=prepared), finding, proving=event.proving)
        case e.RoundLeft() | e.CheckAskedFor():
            return _asked_otherwise(state, event)
        case e.FindingTakenBack():
            seen = {check: outcomes for check, outcomes in state.in_run.items() if check != event.check}
            return _without(replace(state, concluded=None, own=(), in_run=seen), event.check)
        case e.FaultPutRight():
            return replace(_without(state, event.check), put_right=(*state.put_right, event.check))
        case e.MakerFigureEntered():
            return replace(state, maker={**state.maker, event.figure: event})
    assert_never(event)


def _asked_otherwise(state: State, event: e.RoundLeft | e.CheckAskedFor) -> State:
    if isinstance(event, e.RoundLeft):
        return replace(state, left=state.left.union(event.checks))
    return replace(state, asked=event.check, concluded=None)


def _took_ms(state: State, event: e.CheckAnswered | e.ReadingTaken) -> int:
    """How long a check was on screen; nothing for a correction, which is no work at the vehicle."""
    return event.clock_ms - state.asked_ms if state.step.check == event.check else 0


def _read(state: State, event: e.ReadingTaken) -> State:
    if event.outcome:
        said = " and ".join(event.weighed) or said_of(event.parts)
        finding = Finding(
            event.check,
            (event.outcome,),
            event.at_ms,
            event.who,
            said,
            event.verdict,
            way=event.way,
            parts=event.parts,
            took_ms=_took_ms(state, event),
        )
        return _found(state, finding, proving=event.proving)
    single = event.by_itself or MeasuredOnce(value=event.verdict.value, uncertainty=event.verdict.uncertainty)
    once = Finding(event.check, (), event.at_ms, event.who, said_of(event.parts), event.verdict, single, event.parts)
    readings = (*state.first_readings.get(event.check, ()), replace(once, way=event.way))
    return replace(state, first_readings={**state.first_readings, event.check: readings})


def _told_of(state: State, event: e.FindingTold) -> State:
    """Nothing was made: what waits to be looked at still waits, and nothing in hand is used up."""
    said = said_of(event.parts) if event.parts else ""
    finding = Finding(
        event.check, event.outcomes, event.at_ms, event.who, said, event.verdict, parts=event.parts, told_by=event.by
    )
    findings = {**state.findings, event.check: finding}
    return replace(state, findings=findings, told=_told(state.told, finding), concluded=None)


def _thrown_away(state: State, event: e.ReadingThrownAway) -> State:
    readings = state.first_readings.get(event.check, ())
    left = tuple(one for number, one in enumerate(readings, 1) if number != event.number)
    firsts = {check: firsts for check, firsts in state.first_readings.items() if check != event.check}
    return replace(state, first_readings={**firsts, event.check: left} if left else firsts)


def _found(state: State, finding: Finding, *, proving: bool) -> State:
    firsts = {check: first for check, first in state.first_readings.items() if check != finding.check}
    waiting = tuple(check for check in state.put_right if check != finding.check)
    looks = tuple(check for check in state.look_again if check != finding.check)
    # What was in hand for it is used up.
    standing = {line: at_ms for line, at_ms in state.standing.items() if line != f"in-hand-{finding.check}"}
    run = "" if state.run == "result" and state.run_check == finding.check else state.run
    state = replace(state, first_readings=firsts, put_right=waiting, run=run, told=_told(state.told, finding))
    state = replace(state, look_again=looks, standing=standing)
    if state.condition.engine == "running":
        state = replace(state, in_run={**state.in_run, finding.check: finding.outcomes})
    if proving:
        return replace(state, after={**state.after, finding.check: finding})
    return replace(state, findings={**state.findings, finding.check: finding}, concluded=None)


def _told(told: tuple[Finding, ...], finding: Finding) -> tuple[Finding, ...]:
    """Of each answer to a check the first time and the last: a session may be long, and its checks are few."""
    mine = (finding.check, finding.outcomes, bool(finding.told_by))
    same = [one for one in told if (one.check, one.outcomes, bool(one.told_by)) == mine]
    between = same[1:]
    return (*(one for one in told if all(one is not other for other in between)), finding)


def _without(state: State, check: str) -> State:
    if state.stage == "proving":
        return replace(state, after={key: finding for key, finding in state.after.items() if key != check})
    findings = {key: finding for key, finding in state.findings.items() if key != check}
    firsts = {key: first for key, first in state.first_readings.items() if key != check}
    return replace(state, findings=findings, first_readings=firsts)


def _reasoned(state: State, event: e.OfReasoning) -> State:
    match event:
        case e.ConclusionReached():
            concluded = Concluded(event.causes, event.end, event.node, event.path, event.close_calls)
            return replace(state, concluded=concluded, counsel=None, costs=None)
        case e.OwnRouteTaken():
            return replace(state, own=(*state.own, event), concluded=None)
        case e.OwnRouteEnded():
            end = "" if event.causes else "undecided"
            concluded = Concluded(event.causes, end, "", event.path, event.close_calls, own=True)
            return replace(state, concluded=concluded, counsel=None, costs=None)
        case e.AdviceGiven():
            return replace(state, counsel=event, fresh=True)
        case e.CostsWeighed():
            return replace(state, costs=event.choice)
    assert_never(event)


def _repaired(state: State, event: e.OfRepair) -> State:
    match event:
        case e.RemedyBegun():
            return replace(
                state, stage="working", remedies=event.remedies, places={}, parts_done=(), torques_done=(), run=""
            )
        case e.PlaceNamed():
            return replace(state, places={**state.places, event.remedy: event.place})
        case e.PartRecorded():
            return replace(state, parts_done=(*state.parts_done, event))
        case e.TorqueRecorded():
            return replace(state, torques_done=(*state.torques_done, event))
        case e.WorkFinished():
            return replace(state, stage="proving", after={})
        case e.ProofLeftOpen():
            return replace(state, pending=event.again)
        case e.NotCured():
            kept = {check: finding for check, finding in state.known.items() if check not in event.stale}
            state = replace(state, stage="finding", findings=kept, after={}, concluded=None, own=(), remedies=())
            state = replace(state, round="", left=frozenset(), asked="")
            return replace(state, rounds=state.rounds + 1)
    assert_never(event)


def _kept(state: State, event: e.OfKeeping) -> State:
    match event:
        case e.StepOffered():
            # Whatever a trace says behind its end: nothing is asked in a session that was left or closed.
            if state.paused or state.closed:
                return state
            state = replace(state, asked_ms=event.clock_ms)
            begun = event.step.round or state.round
            return replace(state, step=event.step, prepared=_still_prepared(state, event.step), round=begun)
        case e.NoteAdded() | e.NotUnderstood():
            return state
        case e.ActUndone():
            return undone(state, event)
        # A trace may be cut right behind a pause, a hand-over or its closing: the step of before must not be shown.
        case e.SessionPaused():
            return replace(_ended(state), paused=True, step=_left(state))
        case e.SessionHandedOver():
            return replace(_ended(state), paused=True, holder=event.to, step=_left(state))
        case e.SessionClosed():
            closed = replace(state, stage="closed", closed=event.how, proof=event.proof, pending=())
            return replace(closed, step=Step(kind="closed", proof=event.proof))
        case e.SessionResumed():
            # Whatever stands before it in a trace: who takes a vehicle up confirms everything.
            after = {check: finding for check, finding in state.after.items() if check not in state.pending}
            return replace(_ended(state), paused=False, holder=event.who, after=after, pending=())
        case e.RulesInstalled():
            lines = event.interlocks.confirmations.values()
            # How far the vehicle was taken apart meanwhile, nobody can say.
            due = frozenset(one.id for one in lines if (one.after or one.arrives_so) and one.group != "same-as-before")
            return replace(_ended(state), rules=event.rules, due=due)
    assert_never(event)


def _left(state: State) -> Step:
    return Step(kind="paused", proof="not-provable" if state.pending else "")


def _still_prepared(state: State, step: Step) -> tuple[Prepared, ...]:
    """What is set up, until hands go in for something else than setting up."""
    by_hand = step.kind in ("check", "round", "part", "torque") and step.state not in ("", "anywhere")
    return tuple(one for one in state.prepared if not by_hand or step.state == one.running)
