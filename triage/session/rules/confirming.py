"""The card on screen: each line confirmed or refused by itself, and runs that have a time limit."""

from triage.errors import CommandRefused
from triage.knowledge.groups import arrives_so, of_group
from triage.knowledge.models import Confirmation, Ending, Knowledge
from triage.record import events as e
from triage.session import commands as c
from triage.session import interlocks
from triage.session.rules.asking import expect_step, words
from triage.session.rules.entering import looks_ended
from triage.session.state import State, person
from triage.session.stepping import PUT_TOGETHER

DEAD_V = 0.5
"""Less than this between two points counts as dead. From memory."""
LIVE_V = 6.0
"""A first reading of less proves nothing: the meter, or where it is put. From memory."""
READ_S = 0.1
"""Nobody reads a word in less: about 4 words a second is usual. From memory."""


def confirm(knowledge: Knowledge, state: State, command: c.Confirm) -> tuple[e.Event, ...]:
    """Take one line of the card; each is pressed by itself, in any order."""
    expect_step(state, "confirm")
    if command.confirmation not in state.step.lines:
        raise CommandRefused("That line is not on the card.", "Press the lines on screen, each by itself.")
    if interlocks.is_pressed(knowledge, state, command.confirmation):
        raise CommandRefused("That line was pressed already.", "Press the lines that are open.")
    line = knowledge.confirmations.get(command.confirmation)
    alone = line is not None and line.proof == "name" and state.alone
    proof = _proof(line, command) if line else ()
    confirmed = e.ThingConfirmed(
        **command.stamp,
        state=state.step.state,
        confirmation=command.confirmation,
        name=_name(line, state, command) if line else "",
        says=line.instead_of if line else (),
        proof=proof,
        quick=line is not None and _quick(line, state, command),
        alone=alone,
    )
    return (*_another(knowledge, state, command, confirmed), confirmed, *_put_together(knowledge, state, command, line))


def _another(
    knowledge: Knowledge, state: State, command: c.Confirm, confirmed: e.ThingConfirmed
) -> tuple[e.Event, ...]:
    """Another person at the key than before, whom nobody has seen yet, has joined."""
    before = state.named.get(confirmed.confirmation, "")
    new = before and confirmed.name and person(confirmed.name) not in {*state.present, person(before)}
    return joined(knowledge, state, command) if new else ()


def joined(knowledge: Knowledge, state: State, command: c.Command) -> tuple[e.Event, ...]:
    """Somebody is at the vehicle who was not there when it was made safe."""
    changed = e.SomethingChanged(**command.stamp, what="joined")
    return (*_interrupted(state, command), changed, *changes(knowledge, state, command, "joined"))


def _put_together(
    knowledge: Knowledge, state: State, command: c.Command, line: Confirmation | None
) -> tuple[e.Event, ...]:
    """Whoever says that the leads or the belt are on again has put them on."""
    group, now = line.group if line else None, state.condition
    if group not in PUT_TOGETHER:
        return ()
    belt = "fitted" if group == "belt-on" else now.belt
    battery = "connected" if group == "reconnected" else now.battery
    turned = e.VehicleTurned(**command.stamp, belt=belt, battery=battery)
    # Hands were in for it.
    endings: tuple[Ending, ...] = ("lead-on", "hands-in") if battery != now.battery else ("hands-in",)
    moved = (turned,) if (belt, battery) != (now.belt, now.battery) else ()
    return (*moved, *interlocks.ended(knowledge, state, command, *endings))


def _quick(line: Confirmation, state: State, command: c.Confirm) -> bool:
    """Whether it was answered faster than anybody reads it."""
    passed_ms = command.clock_ms - state.clock_ms
    return command.boot == state.boot and passed_ms < len(line.ask.split()) * READ_S * 1000


def _name(line: Confirmation, state: State, command: c.Confirm) -> str:
    """Who is at the key: somebody else than who watches the drive; alone, nobody else is there."""
    if line.proof == "word":
        return next((state.named[one] for one in line.instead_of if state.named.get(one)), "")
    if line.proof != "name":
        return ""
    if state.alone:
        return command.who
    name = words(command.name, "The name")
    if name.casefold().split() == command.who.casefold().split():
        raise CommandRefused(
            f"{name} watches the drive.", 'Name somebody else, say "alone" if nobody is there, or say "no".'
        )
    return name


def _proof(line: Confirmation, command: c.Confirm) -> tuple[str, ...]:
    if line.proof == "word":
        return (words(command.name, "The word that was called back"),)
    if line.proof != "dead":
        return ()
    if len(command.volts) != 2:
        raise CommandRefused("Two readings prove it dead.", "Give the voltage before the lead came off, and now.")
    before_v, now_v = command.volts
    if not before_v >= LIVE_V:
        raise CommandRefused("A first reading near zero proves nothing.", "Measure at points that the battery reaches.")
    if not abs(now_v) < DEAD_V:
        raise CommandRefused("It is not dead.", "Hands out. Look for another battery, charger or lead.")
    return (f"{before_v:.3g} V", f"{now_v:.3g} V")


def refuse(knowledge: Knowledge, state: State, command: c.RefuseConfirmation) -> tuple[e.Event, ...]:
    """End the whole group of a line at once, here and everywhere; which thing and why is asked after."""
    expect_step(state, "confirm")
    lines = (command.confirmation,) if command.confirmation else state.step.lines
    if not set(lines) <= set(state.step.lines):
        raise CommandRefused("That line is not on the card.", "Say no to one of the lines on screen.")
    reason = words(command.reason, "The reason") if command.reason else ""
    # That nothing is as before leaves nothing to stand on, nor any look that was made.
    nothing = any(_is_recap(knowledge, line) for line in lines)
    stood = _everything(knowledge, state) if nothing else _of_groups(knowledge, state, lines)
    ended: tuple[e.Event, ...] = (e.ThingsEnded(**command.stamp, things=stood, because="refused"),) if stood else ()
    ended += looks_ended(knowledge, state, command) if nothing else ()
    # Said of no line in particular, it is said of each.
    refused = (
        e.ThingRefused(
            **command.stamp, state=state.step.state, confirmation=line, reason=reason, says=_says(knowledge, line)
        )
        for line in lines
    )
    return (*ended, *refused)


def _says(knowledge: Knowledge, line: str) -> tuple[str, ...]:
    return knowledge.confirmations[line].instead_of if line in knowledge.confirmations else ()


def _is_recap(knowledge: Knowledge, confirmation: str) -> bool:
    line = knowledge.confirmations.get(confirmation)
    return line is not None and line.group == "same-as-before"


def _everything(knowledge: Knowledge, state: State) -> tuple[str, ...]:
    """All that stands, and all that the vehicle arrived with in order."""
    apart = (one.id for one in knowledge.confirmations.values() if arrives_so(one) and one.group != "same-as-before")
    return tuple(dict.fromkeys((*state.standing, *apart)))


def _of_groups(knowledge: Knowledge, state: State, lines: tuple[str, ...]) -> tuple[str, ...]:
    groups = frozenset[str]().union(*(of_group(knowledge, line) for line in lines))
    return tuple(one for one in state.standing if one in groups)


def say_why(_knowledge: Knowledge, state: State, command: c.SayWhy) -> tuple[e.Event, ...]:
    """Write down which thing is not so, and why."""
    expect_step(state, "why")
    reason = words(command.reason, "The reason")
    return (e.RefusalExplained(**command.stamp, confirmation=state.unexplained, reason=reason),)


def try_again(_knowledge: Knowledge, state: State, command: c.TryAgain) -> tuple[e.Event, ...]:
    """Ask the refused line again."""
    expect_step(state, "held")
    if state.step.confirmation != state.held:
        raise CommandRefused("Asking again changes nothing here.", "Look at what the step says is lacking.")
    return (command.as_event(e.HeldTriedAgain),)


def say_changed(knowledge: Knowledge, state: State, command: c.SayChanged) -> tuple[e.Event, ...]:
    """End what something ends that happened besides; nothing of it can be taken back."""
    changed = e.SomethingChanged(**command.stamp, what=command.what)
    return (*_interrupted(state, command), changed, *changes(knowledge, state, command, command.what))


def _interrupted(state: State, command: c.Command) -> tuple[e.Event, ...]:
    """A timed run does not go on when something has changed around it."""
    return (e.RunEnded(**command.stamp, because="interrupted"),) if state.run == "running" else ()


def changes(knowledge: Knowledge, state: State, command: c.Command, *endings: Ending) -> tuple[e.Event, ...]:
    """Everything that these happenings end: lines, and looks that were made before."""
    ended = looks_ended(knowledge, state, command) if {"driven", "belt-moved"} & set(endings) else ()
    joined = "joined" in endings and state.alone
    came = (e.AloneSaid(**command.stamp, alone=False),) if joined else ()
    return (*interlocks.ended(knowledge, state, command, *endings), *ended, *came)


def say_alone(_knowledge: Knowledge, state: State, command: c.SayAlone) -> tuple[e.Event, ...]:
    """Take the word that nobody else is there, or that somebody came."""
    if command.alone == state.alone:
        raise CommandRefused("That is known already.", "Go on with the step on screen.")
    said = e.AloneSaid(**command.stamp, alone=command.alone)
    ended = interlocks.ended(_knowledge, state, command, "left-seat" if command.alone else "joined")
    return (*_interrupted(state, command), said, *ended)


def finish_set_up(knowledge: Knowledge, state: State, command: c.FinishSetUp) -> tuple[e.Event, ...]:
    """Take the word that a check is set up; what the running engine needs is confirmed after it."""
    expect_step(state, "set-up")
    if command.check != state.step.check:
        raise CommandRefused("That is not the check on screen.", "Set up the check on screen.")
    running = knowledge.checks[command.check].state
    return (command.as_event(e.SetUpFinished, state=state.step.state, running=running),)


def start_run(knowledge: Knowledge, state: State, command: c.StartRun) -> tuple[e.Event, ...]:
    """Start a run and its clock."""
    expect_step(state, "run-ready")
    target = knowledge.states[state.step.state]
    if target.run_limit is None:
        raise CommandRefused("This state has no timed run.", "Answer the step on screen.")
    until_ms = command.clock_ms + interlocks.period_ms(target.run_limit.text)
    started = e.RunStarted(**command.stamp, state=target.id, until_ms=until_ms)
    return (started, *interlocks.ended(knowledge, state, command, "engine-ran", "ignition-on"))


def end_run(knowledge: Knowledge, state: State, command: c.EndRun) -> tuple[e.Event, ...]:
    """Take the word that the engine is off and all is still."""
    timed = state.run in ("running", "overdue")
    if not timed and state.condition.engine != "running":
        raise CommandRefused("No run is under way.", "Answer the step on screen.")
    ended: e.Event = e.RunEnded(**command.stamp, because="switched-off") if timed else e.EngineOff(**command.stamp)
    return (ended, *interlocks.ended(knowledge, state, command, "stop"))
