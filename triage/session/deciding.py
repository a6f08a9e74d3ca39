"""decide(knowledge, state, command) -> events: what comes of a command, or why it is refused.

A refused command raises CommandRefused and changes nothing. After every command the next step is worked out once and
recorded as an event, so that a replay never has to. The rules of the single commands stand in `triage.session.rules`.
"""

from collections.abc import Callable, Iterable

from triage.errors import CommandRefused
from triage.knowledge.models import Ending, Knowledge
from triage.record import events as e
from triage.record.steps import Step
from triage.session import commands as c
from triage.session import interlocks
from triage.session.evolving import fold
from triage.session.interlocks import ended, is_pressed
from triage.session.rules import (
    advising,
    confirming,
    driving,
    facts,
    finding,
    going,
    keeping,
    opening,
    repairing,
    routing,
    telling,
    undoing,
)
from triage.session.rules.entering import entering, looks_ended
from triage.session.rules.opening import RULES
from triage.session.state import State, person
from triage.session.stepping import next_step, place_of

Events = tuple[e.Event, ...]
_RULES: dict[type[c.Command], Callable[..., Events]] = {
    c.Start: opening.start,
    c.AnswerGate: opening.answer_gate,
    c.TellFact: facts.tell,
    c.CorrectFact: facts.correct,
    c.Confirm: confirming.confirm,
    c.RefuseConfirmation: confirming.refuse,
    c.SayWhy: confirming.say_why,
    c.SayChanged: confirming.say_changed,
    c.SayAlone: confirming.say_alone,
    c.TryAgain: confirming.try_again,
    c.FinishSetUp: confirming.finish_set_up,
    c.StartRun: confirming.start_run,
    c.EndRun: confirming.end_run,
    c.Answer: finding.answer,
    c.Read: finding.read,
    c.TellFinding: telling.tell_finding,
    c.ThrowAway: finding.throw_away,
    c.CannotDo: finding.cannot_do,
    c.LeaveRound: going.leave_round,
    c.CloseRound: going.close_round,
    c.AskFor: going.ask_for,
    c.RaiseAlarm: going.raise_alarm,
    c.TakeBack: finding.take_back,
    c.Correct: finding.correct,
    c.Undo: undoing.undo,
    c.Note: keeping.note,
    c.EnterMakerFigure: keeping.enter_maker_figure,
    c.UseLayout: driving.use_layout,
    c.CompareRate: driving.compare_rate,
    c.CompareDrive: driving.compare_drive,
    c.Pause: keeping.pause,
    c.Resume: keeping.resume,
    c.HandOver: keeping.hand_over,
    c.Close: keeping.close,
    c.Tick: keeping.tick,
    c.LoseTrace: keeping.lose_trace,
    c.Advise: advising.advise,
    c.AdviseRepair: advising.advise_repair,
    c.TellRenewal: advising.tell_renewal,
    c.TakeOwnRoute: routing.take_own_route,
    c.EndOwnRoute: routing.end_own_route,
    c.BeginRemedy: repairing.begin,
    c.PutRight: repairing.put_right,
    c.NamePlace: repairing.name_place,
    c.RecordPart: repairing.record_part,
    c.RecordTorque: repairing.record_torque,
    c.NotCured: repairing.not_cured,
    c.LeaveProofOpen: repairing.leave_proof_open,
}
_MOST_TURNS = 8
"""More than a repair that is finished, a conclusion and an entered state follow on no command."""
_AT_ANY_MOMENT = (
    c.Note,
    c.HandOver,
    c.Close,
    c.Tick,
    c.LoseTrace,
    c.SayChanged,
    c.UseLayout,
    c.CompareRate,
    c.CompareDrive,
    c.CorrectFact,
    c.TellRenewal,
    c.Advise,
    c.AdviseRepair,
)
_EVEN_WHEN_AGED = (*_AT_ANY_MOMENT, c.Pause, c.EndRun, c.RaiseAlarm)
_EVEN_WHEN_PAUSED = (*_AT_ANY_MOMENT, c.Resume)
_ENDING = (c.RefuseConfirmation, c.SayWhy, c.EndRun, c.SayChanged, c.SayAlone)
"""Acts at the vehicle that end something: taken from anybody."""
_ACTING = (
    *_ENDING,
    c.Confirm,
    c.TryAgain,
    c.FinishSetUp,
    c.StartRun,
    c.Answer,
    c.Read,
    c.CannotDo,
    c.BeginRemedy,
    c.PutRight,
    c.RecordPart,
    c.RecordTorque,
    c.NotCured,
)
"""What somebody gives who acts at the vehicle; nothing is ended by notes, look-ups and corrections on paper."""


def decide(knowledge: Knowledge, state: State, command: c.Command) -> Events:
    """What happens when a command is given.

    Args:
        knowledge: what the session was started with.
        state: where it stands.
        command: what is asked.

    Returns:
        The events, the step offered next included where it changes.

    Raises:
        CommandRefused: the command is not allowed now.
    """
    if state.events == 0 and not isinstance(command, c.Start):
        raise CommandRefused("No session has been started.", "Start one first.")
    if state.closed:
        raise CommandRefused("This session is closed.", "Start a new one for this vehicle.")
    if state.paused and not isinstance(command, _EVEN_WHEN_PAUSED):
        raise CommandRefused("The session is paused.", "Resume it at the vehicle first.")
    lapsed = interlocks.lapses(knowledge, state, command)
    ran_out = any(isinstance(event, e.ThingsEnded | e.RunEnded) for event in lapsed)
    if ran_out and not isinstance(command, _EVEN_WHEN_AGED):
        raise CommandRefused("Confirmations have run out in the meantime.", "Confirm them again, then go on.")
    came = _came(knowledge, fold(lapsed, state), command)
    now = fold((*lapsed, *came), state)
    happened = (
        () if came and _asks_otherwise(knowledge, now, command) else _RULES[type(command)](knowledge, now, command)
    )
    return _settled(knowledge, state, command, (*lapsed, *came, *happened))


def _came(knowledge: Knowledge, state: State, command: c.Command) -> Events:
    """Who acts at a vehicle that others have made safe has joined them."""
    new = isinstance(command, _ACTING) and bool(state.standing) and person(command.who) not in state.present
    return confirming.joined(knowledge, state, command) if new else ()


def _asks_otherwise(knowledge: Knowledge, state: State, command: c.Command) -> bool:
    """Whether what was answered is not what is asked any more, once somebody has joined."""
    return not isinstance(command, _ENDING) and next_step(knowledge, state, command.clock_ms) != state.step


def under_rules(knowledge: Knowledge, happened: Iterable[e.Event]) -> Knowledge:
    """The knowledge under the interlocks that were installed last among these events."""
    installed = [event for event in happened if isinstance(event, e.RulesInstalled)]
    return knowledge.under(installed[-1].interlocks) if installed else knowledge


def _settled(knowledge: Knowledge, state: State, command: c.Command, happened: Events) -> Events:
    after = fold(happened, state)
    knowledge = under_rules(knowledge, happened)
    more: list[e.Event] = []
    done = _done(knowledge, after, command, happened)
    more += done
    after = fold(done, after)
    if after.rules < RULES:
        # Nobody is led anywhere by older rules: whoever takes the session up brings those of today.
        return (*happened, *more)
    for _ in range(_MOST_TURNS):
        step = next_step(knowledge, after, command.clock_ms)
        turned = _concluded(knowledge, after, command, step) or entering(knowledge, after, command, step)
        if not turned:
            break
        more += turned
        after = fold(turned, after)
    step = _same_card(knowledge, state, after, step)
    if step != state.step or isinstance(command, c.Start):
        more.append(e.StepOffered(**command.stamp, step=step))
    return (*happened, *more)


def _same_card(knowledge: Knowledge, state: State, after: State, step: Step) -> Step:
    """The card that is on screen, where nothing but its pressed lines are gone: every line keeps its number."""
    shown = state.step
    if (step.kind, step.state, step.check) != ("confirm", shown.state, shown.check) or shown.kind != "confirm":
        return step
    left = tuple(line for line in shown.lines if not is_pressed(knowledge, after, line))
    return shown if left and step.lines[: len(left)] == left else step


def _concluded(knowledge: Knowledge, after: State, command: c.Command, step: Step) -> Events:
    if step.kind == "conclusion" and after.concluded is None:
        return (_conclusion(knowledge, after, command),)
    if step.kind == "prove" and after.stage == "working":
        does = [ending for one in after.remedies for ending in knowledge.remedies[one].does]
        done = ended(knowledge, after, command, *does) if does else ()
        return (e.WorkFinished(**command.stamp), *done, *looks_ended(knowledge, after, command))
    return ()


def _done(knowledge: Knowledge, after: State, command: c.Command, happened: Events) -> Events:
    """What the checks that were just made did to the vehicle."""
    made = (e.CheckAnswered, e.ReadingTaken, e.CheckNotDone)
    does = [ending for event in happened if isinstance(event, made) for ending in _of_check(knowledge, event)]
    return tuple(ended(knowledge, after, command, *does)) if does else ()


def _of_check(knowledge: Knowledge, event: e.CheckAnswered | e.ReadingTaken | e.CheckNotDone) -> tuple[Ending, ...]:
    check = knowledge.checks[event.check]
    # Left out, the engine may have been switched off all the same, and nothing else was done.
    return tuple(one for one in check.does if one == "stop") if isinstance(event, e.CheckNotDone) else check.does


def _conclusion(knowledge: Knowledge, state: State, command: c.Command) -> e.ConclusionReached:
    place = place_of(knowledge, state)
    close_calls = []
    for check in place.path:
        known = state.known.get(check)
        if known and known.verdict and not known.verdict.settled:
            close_calls.append(check)
    return e.ConclusionReached(
        **command.stamp,
        node=place.node_id,
        causes=place.node.conclude,
        end=place.node.end or "",
        path=tuple(check for check in place.path if check in state.known),
        close_calls=tuple(close_calls),
    )
