"""What may follow what: every event answers the step on screen, or may come at any moment."""

from collections.abc import Callable, Iterator

from triage.knowledge.groups import of_group
from triage.knowledge.models import Confirmation, VehicleState
from triage.knowledge.rounds import closes_together
from triage.knowledge.vehicle import LATER_FACTS
from triage.record import events as e
from triage.record.steps import Step
from triage.session.acts import LASTING
from triage.session.audit.account import START_TRIED
from triage.session.audit.ledger import FIRST_RULES, Ledger, lasts_ms
from triage.session.audit.standing import AT_THE_VEHICLE, unfounded

ANSWERING: dict[type[e.Event], tuple[tuple[str, ...], tuple[str, ...]]] = {
    e.GateAnswered: (("gate",), ()),
    e.FactTold: (("fact",), ("fact",)),
    e.ThingConfirmed: (("confirm",), ("state", "confirmation")),
    e.ThingRefused: (("confirm",), ("state", "confirmation")),
    e.RefusalExplained: (("why",), ("confirmation",)),
    e.HeldTriedAgain: (("held",), ()),
    e.SetUpFinished: (("set-up",), ("check", "state")),
    e.RunStarted: (("run-ready",), ("state",)),
    e.CheckAnswered: (("check", "round", "result"), ("check", "proving")),
    e.ReadingTaken: (("check", "round", "result"), ("check", "attempt", "proving")),
    e.ReadingThrownAway: (("check", "round", "result"), ("check",)),
    e.CheckNotDone: (("check", "round", "result", "held", "confirm", "set-up", "run-ready"), ("check", "proving")),
    e.FaultPutRight: (("blocked",), ("check",)),
    e.RemedyBegun: (("conclusion",), ()),
    e.PlaceNamed: (("which",), ("remedy",)),
    e.PartRecorded: (("part",), ("part",)),
    e.TorqueRecorded: (("torque",), ("torque",)),
    e.NotCured: (("prove",), ()),
    e.ProofLeftOpen: (("prove",), ()),
}
"""The kinds of step that an event answers, and the fields in which both must agree."""
WHILE_PAUSED = (
    e.SessionResumed,
    e.SessionHandedOver,
    e.SessionClosed,
    e.NoteAdded,
    e.LayoutUsed,
    e.RateMatched,
    e.DriveCompared,
    e.FactCorrected,
    e.FindingTakenBack,
    e.RenewalTold,
    e.AdviceGiven,
    e.CostsWeighed,
    e.RunEnded,
    e.InterlockLapsed,
    e.ThingsEnded,
    e.LooksEnded,
    e.SomethingChanged,
    e.AloneSaid,
    e.EngineOff,
    e.ClockShifted,
    e.RulesInstalled,
    e.StepOffered,
)
"""What may be written down of a vehicle that was left."""
FINDINGS = (e.CheckAnswered, e.ReadingTaken, e.ReadingThrownAway, e.CheckNotDone)
CORRECTING = (e.FindingTakenBack, e.FactCorrected, e.FaultPutRight)
LEAVING = (e.SessionPaused, e.SessionHandedOver)


def misplaced(ledger: Ledger, event: e.Event) -> Iterator[str]:
    """Say why an event cannot stand where it does, as the rest of a sentence that begins with its line."""
    last = ledger.last
    if last is None:
        return
    if isinstance(event, e.SessionStarted):
        yield "starts the session a second time"
    elif ledger.closed and not isinstance(event, e.StepOffered):
        yield "goes on although the session is closed"
    elif (ledger.paused or ledger.away) and not (
        isinstance(event, (*WHILE_PAUSED, e.SessionPaused)) or _leaves(ledger, event)
    ):
        yield "goes on although the vehicle was left and nobody came back to it"
    elif answers(ledger, event):
        yield from _unasked(ledger, event)
    elif isinstance(event, e.StepOffered):
        yield from _unmoved(ledger, event)
    later = last.boot == event.boot and last.clock_ms < event.clock_ms
    if ledger.step is None and later and not isinstance(event, e.StepOffered):
        yield "goes on although nothing was asked after the answer before it"
    judge = _JUDGES.get(type(event))
    if judge:
        yield from judge(ledger, event)
    if isinstance(event, LEAVING if ledger.grouped else (*CORRECTING, *LEAVING)):
        yield from _left_standing(ledger)


def _leaves(ledger: Ledger, event: e.Event) -> bool:
    """Whether it says that what was clipped on is off: that opens nothing but the end, and is said with closing too."""
    line = ledger.knowledge.confirmations.get(event.confirmation) if isinstance(event, e.ThingConfirmed) else None
    return ledger.grouped and line is not None and line.group == "leaving"


def _left_standing(ledger: Ledger) -> Iterator[str]:
    if ledger.account.standing if ledger.grouped else ledger.live:
        yield "leaves standing what was confirmed before"
    if ledger.run == "running":
        yield "leaves a timed run going on"


def answers(ledger: Ledger, event: e.Event) -> bool:
    """Whether an event answers the step on screen, and is not the other half of a correction or of a thrown reading."""
    last = ledger.last
    found = isinstance(event, e.CheckAnswered | e.ReadingTaken)
    corrects = (
        found
        and isinstance(last, e.FindingTakenBack | e.ReadingThrownAway)
        and last.check == getattr(event, "check", "")
    )
    waits = isinstance(event, e.HeldTriedAgain) and ledger.step is not None and not ledger.step.confirmation
    return type(event) in ANSWERING and not (corrects or waits or _told_early(ledger, event))


def _told_early(ledger: Ledger, event: e.Event) -> bool:
    """Whether it tells a fact that is asked later, while nothing runs and a cause is looked for."""
    if not isinstance(event, e.FactTold) or event.fact not in LATER_FACTS or event.fact in ledger.facts:
        return False
    asked = ledger.step is not None and ledger.step.fact == event.fact
    return not asked and not ledger.running and ledger.stage == "finding" and ledger.gate == "none"


def _unasked(ledger: Ledger, event: e.Event) -> Iterator[str]:
    kinds, fields = ANSWERING[type(event)]
    step = ledger.step
    if ledger.grouped and isinstance(event, e.ThingConfirmed | e.ThingRefused):
        if _leaves(ledger, event):
            return
        if step is None or step.kind != "confirm" or step.state != event.state or event.confirmation not in step.lines:
            yield "answers what was not asked then"
        return
    if step and step.kind == "round" and isinstance(event, FINDINGS):
        yield from _line_unasked(ledger, step, event)
        return
    if step is None or step.kind not in kinds or any(getattr(step, name) != getattr(event, name) for name in fields):
        yield "answers what was not asked then"
    elif step.kind in (*AT_THE_VEHICLE, "result"):
        yield from (f"answers a step {reason}" for reason in unfounded(ledger, step))


def _line_unasked(
    ledger: Ledger, step: Step, event: e.CheckAnswered | e.ReadingTaken | e.ReadingThrownAway | e.CheckNotDone
) -> Iterator[str]:
    """Any open line of a round may be answered, but for what waits until the belt was seen to run true."""
    if event.check not in step.open or event.check in ledger.round_told or getattr(event, "proving", False):
        yield "answers what was not asked then"
        return
    check = ledger.knowledge.checks[event.check]
    yield from (f"answers a step {reason}" for reason in unfounded(ledger, step))
    if isinstance(event, e.CheckAnswered | e.ReadingTaken) and ledger.untracked(check):
        yield "takes a load or a raised speed, and nobody saw the belt run true in that run"
    if isinstance(event, e.CheckAnswered) and event.closed_with_round:
        normal = (check.normal(str(ledger.facts.get("pulley") or "unknown")),)
        if not closes_together(ledger.knowledge, check) or event.outcomes != normal:
            yield "closes a line with others that is answered by itself"


def _closed_alone(ledger: Ledger, event: e.CheckAnswered) -> Iterator[str]:
    if event.closed_with_round and (ledger.step is None or ledger.step.kind != "round"):
        yield "closes lines together where there is no round"


def _told(ledger: Ledger, event: e.FindingTold) -> Iterator[str]:
    if ledger.stage != "finding" or ledger.running or ledger.run in ("running", "overdue"):
        yield "tells of what was found before where nothing can be told"
    elif event.check in {*ledger.found, *ledger.put_right, *(() if _anew(ledger, event) else ledger.look_again)}:
        yield "tells of what was looked at here, or waits to be"
    if not event.by.strip():
        yield "tells of what was found before, and nobody found it"


def _anew(ledger: Ledger, event: e.FindingTold) -> bool:
    """Whether what was told is put right: it still waits to be looked at."""
    return isinstance(ledger.last, e.FindingTakenBack) and ledger.last.check == event.check


def _round_left(ledger: Ledger, event: e.RoundLeft) -> Iterator[str]:
    step = ledger.step
    if step is None or step.kind != "round" or step.round != event.round or not set(event.checks) <= set(step.open):
        yield "leaves lines open that were not asked then"


def _asked_for(ledger: Ledger, event: e.CheckAskedFor) -> Iterator[str]:
    if ledger.stage != "finding" or ledger.run in ("running", "overdue"):
        yield "asks for a check where none can be asked for"
    elif event.check in ledger.found and event.check not in ledger.told:
        yield "asks for a check that was made"


def _alarmed(ledger: Ledger, _event: e.AlarmRaised) -> Iterator[str]:
    if not ledger.running:
        yield "raises an alarm beside an engine that was not running"


def _unmoved(ledger: Ledger, event: e.StepOffered) -> Iterator[str]:
    """Another step, although nothing has happened since the last one: only time can have changed what is asked."""
    asked, step = ledger.step, event.step
    if asked and not ledger.moved and (asked == step or not _by_time(ledger, asked, step)):
        yield "asks anew although nothing has happened"


def _by_time(ledger: Ledger, asked: Step, step: Step) -> bool:
    """Whether time alone can do it: an engine has cooled, or what would have gone along is too old."""
    if asked.kind == "held":
        return not asked.confirmation
    place = ledger.knowledge.states.get(step.state)
    if (
        ledger.grouped
        or place is None
        or (asked.kind, asked.state) != ("confirm", step.state)
        or step.kind != "confirm"
    ):
        return False
    order = [*place.confirmations, asked.confirmation]
    earlier = step.confirmation in order[: order.index(asked.confirmation)]
    return earlier and ledger.knowledge.confirmations[step.confirmation].carries


def _pressed(ledger: Ledger, event: e.ThingConfirmed, thing: Confirmation | None) -> Iterator[str]:
    """What is typed with a line of a card, and what it may say again."""
    account, proof = ledger.account, thing.proof if thing else ""
    if set(event.lines) <= account.standing:
        yield "presses a line that stands"
    if event.says != (thing.instead_of if thing else ()):
        yield "says something else again than its line does"
    elif thing and thing.instead_of and not account.may_be_said_again(thing):
        yield "says again what was not said before, or what more than a stop has ended"
    if len(event.proof) != {"dead": 2, "word": 1}.get(proof, 0):
        yield "does not prove what its line asks to be proved"
    if proof == "word" and event.name not in account.named.values():
        yield "says again who is at the key, and nobody was named"
    if event.alone != (proof == "name" and account.alone):
        yield "is said as by somebody alone, and somebody else is there, or the other way round"
    elif event.alone and event.name != event.who:
        yield "names somebody who is not there"
    elif proof == "name" and not event.alone:
        yield from _somebody_else(event)
    elif event.name and not proof:
        yield "confirms by a name what is none, or without the name that is asked for"


def _somebody_else(event: e.ThingConfirmed) -> Iterator[str]:
    if not event.name.strip():
        yield "confirms by a name what is none, or without the name that is asked for"
    elif event.name.casefold().split() == event.who.casefold().split():
        yield "names the one who answers, where somebody else is asked for"


def _confirmed(ledger: Ledger, event: e.ThingConfirmed) -> Iterator[str]:
    thing = ledger.knowledge.confirmations.get(event.confirmation)
    if ledger.grouped:
        yield from _pressed(ledger, event, thing)
        return
    if bool(event.name.strip()) != bool(thing and thing.names):
        yield "confirms by a name what is none, or without the name that is asked for"
    elif event.name and event.name.casefold().split() == event.who.casefold().split():
        yield "names the one who answers, where somebody else is asked for"


def _carried(ledger: Ledger, event: e.ThingsCarried) -> Iterator[str]:
    if ledger.grouped:
        yield "carries confirmations, which stand by themselves until something ends them"
        return
    places = [ledger.knowledge.states[one] for one in (ledger.live, event.state) if one]
    if not ledger.entered or event.state == ledger.live or ledger.stage != "finding":
        yield "carries confirmations out of a vehicle state in which the session was not"
    elif any(place.engine == "running" for place in places):
        yield "carries confirmations past a running engine"
    lives = places[-1].lives
    lives_ms = lasts_ms(lives.text) if lives else 0
    for name, since_ms in event.since.items():
        thing = ledger.knowledge.confirmations.get(name)
        stood = ledger.since.get(name) == since_ms and name not in ledger.doubted
        if not (thing and thing.carries and stood and name in places[-1].confirmations):
            yield f'carries "{thing.ask if thing else name}", which does not go along'
        elif 2 * (event.clock_ms - since_ms) >= lives_ms:
            yield f'carries "{thing.ask}", which was confirmed too long before'


def _entered(ledger: Ledger, event: e.StateEntered) -> Iterator[str]:
    place = ledger.knowledge.states[event.state]
    engine = "stopped" if place.run_limit else place.engine
    if (event.engine, event.belt, event.battery) != (engine, place.belt, place.battery):
        yield f'enters "{place.words}" with engine {event.engine}, belt {event.belt}, battery {event.battery}'
    if ledger.grouped:
        yield from _entered_whole(ledger, event, place)
        return
    if ledger.entered or ledger.live != event.state:
        yield f'enters "{place.words}" without its confirmations'
        return
    lacking = [name for name in ledger.wanted(event.state) if name not in ledger.since]
    if lacking:
        more = f" (and {len(lacking) - 1} more)" if lacking[1:] else ""
        ask = ledger.knowledge.confirmations[lacking[0]].ask
        yield f'enters "{place.words}", and nobody confirmed: {ask}{more}'


def _entered_whole(ledger: Ledger, event: e.StateEntered, place: VehicleState) -> Iterator[str]:
    """A look from outside needs no start to have been tried; whoever puts hands in is judged at the step."""
    if (ledger.account.inside, ledger.place.engine) == (event.state, event.engine):
        yield f'enters "{place.words}", where the vehicle is'
    destroyed = ledger.destroys(place)
    if destroyed:
        yield f'enters "{place.words}", and {destroyed}'
    lacking = [one for one in ledger.lacking(event.state, None) if one != START_TRIED or place.engine == "running"]
    if lacking:
        more = f" (and {len(lacking) - 1} more)" if lacking[1:] else ""
        ask = ledger.knowledge.confirmations[lacking[0]].ask
        yield f'enters "{place.words}", and nobody confirmed: {ask}{more}'


def _turned(ledger: Ledger, event: e.VehicleTurned) -> Iterator[str]:
    last = ledger.last
    line = ledger.knowledge.confirmations.get(last.confirmation) if isinstance(last, e.ThingConfirmed) else None
    now, then = (ledger.place.belt, ledger.place.battery), (event.belt, event.battery)
    said = {"reconnected": (now[0], "connected"), "belt-on": ("fitted", now[1])}.get((line and line.group) or "", now)
    if then != said or then == now:
        yield "puts the vehicle together, and nobody said so"


def _run_started(ledger: Ledger, event: e.RunStarted) -> Iterator[str]:
    place = ledger.knowledge.states[event.state]
    if place.run_limit is None:
        yield "starts a timed run where there is none"
    elif event.until_ms - event.clock_ms > lasts_ms(place.run_limit.text):
        yield f"starts a run of more than {place.run_limit.text}"
    if place.runs is not None and ledger.runs >= place.runs:
        yield f"starts one run more than the {place.runs} that are allowed"
    if place.cold_after and ledger.hot_ms is not None:
        stood_ms = event.clock_ms - ledger.hot_ms
        if stood_ms < lasts_ms(place.cold_after.text) and not ledger.keeps_its_pump:
            yield f"starts a run with an engine that has not stood for {place.cold_after.text}"


def _run_ended(ledger: Ledger, event: e.RunEnded) -> Iterator[str]:
    said = event.because == "switched-off" or ledger.echo or ledger.grouped
    if ledger.run not in (("running", "overdue") if said else ("running",)):
        yield "ends a timed run that is not under way"


def _lapsed(ledger: Ledger, event: e.InterlockLapsed) -> Iterator[str]:
    if event.state not in (ledger.live, ledger.echo):
        yield "ends confirmations that did not stand"


def _corrected(ledger: Ledger, event: e.FactCorrected) -> Iterator[str]:
    if event.fact not in ledger.facts or ledger.facts[event.fact] != event.before:
        yield "puts right what was not told so before"


def _taken_back(ledger: Ledger, event: e.FindingTakenBack) -> Iterator[str]:
    if event.check not in ledger.found:
        yield "takes back what was not found"


def _paused(ledger: Ledger, _event: e.SessionPaused) -> Iterator[str]:
    if ledger.paused:
        yield "leaves a vehicle that was left already"


def _resumed(ledger: Ledger, _event: e.SessionResumed) -> Iterator[str]:
    if not ledger.paused:
        yield "comes back to a vehicle that was not left"


def _refused(ledger: Ledger, event: e.ThingRefused) -> Iterator[str]:
    if ledger.grouped:
        thing = ledger.knowledge.confirmations.get(event.confirmation)
        if event.says != (thing.instead_of if thing else ()):
            yield "says no to something else than its line says"
        doubts = thing is not None and thing.group == "same-as-before"
        group = ledger.account.standing if doubts else of_group(ledger.knowledge, event.confirmation)
        if ledger.account.standing & group:
            yield "says no, and leaves standing what was confirmed before"
        return
    if ledger.rules == FIRST_RULES or not ledger.live:
        return
    listed = event.confirmation in (*ledger.knowledge.states[ledger.live].confirmations, *ledger.since)
    if (ledger.entered and listed) or ledger.running:
        yield "says no, and leaves standing what was confirmed before"


def _began(ledger: Ledger, event: e.RemedyBegun) -> Iterator[str]:
    wanted = {ledger.knowledge.causes[cause].remedy for cause in ledger.causes or ()}
    if set(event.remedies) != wanted:
        yield "begins a repair that was not concluded"


def _work_finished(ledger: Ledger, _event: e.WorkFinished) -> Iterator[str]:
    if ledger.stage != "working":
        yield "finishes a repair that was not begun"
    elif ledger.left:
        yield f"finishes a repair of which nothing is recorded for: {', '.join(sorted(ledger.left))}"


def _weighed(ledger: Ledger, _event: e.CostsWeighed) -> Iterator[str]:
    if ledger.causes is None:
        yield "weighs what a repair costs before there is a conclusion"


def _searched(ledger: Ledger, event: e.OwnRouteTaken | e.ConclusionReached | e.OwnRouteEnded) -> Iterator[str]:
    if ledger.stage != "finding":
        yield "goes on searching although the search is over"
    elif not isinstance(event, e.OwnRouteTaken):
        unknown = [check for check in event.path if check not in ledger.found]
        if unknown:
            yield f"concludes from a check of which nothing was recorded: {ledger.knowledge.checks[unknown[0]].name}"


def _undone(ledger: Ledger, event: e.ActUndone) -> Iterator[str]:
    last = ledger.acts[-1] if ledger.acts else None
    if last is None or (last.kind, last.about) != (event.act, event.about):
        yield "takes back what was not done last"
    elif event.act in LASTING:
        yield "takes back what has happened to the vehicle or to people"


def _matched(ledger: Ledger, _event: e.RateMatched) -> Iterator[str]:
    if not ledger.layout:
        yield "compares a rate with a layout that was not taken"


def _compared(ledger: Ledger, _event: e.DriveCompared) -> Iterator[str]:
    if not ledger.layout:
        yield "says what other pulleys would do in a drive whose layout was not taken"


def _engine_off(ledger: Ledger, _event: e.EngineOff) -> Iterator[str]:
    if not ledger.running:
        yield "switches off an engine that was not running"


def _closed(ledger: Ledger, event: e.SessionClosed) -> Iterator[str]:
    kind = ledger.step.kind if ledger.step else ""
    if event.how == "turned-away" and ledger.gate in ("", "none"):
        yield "turns away a vehicle that may pass"
    elif event.how == "signed-off" and (kind != "prove" or ledger.paused):
        yield "signs off what is not proved yet"
    elif event.how != "turned-away" and ledger.run in ("running", "overdue"):
        yield "ends the session although the engine of a timed run may be running"
    elif event.how != "turned-away" and ledger.grouped:
        lines = ledger.knowledge.confirmations.values()
        if any(one.group == "leaving" and one.id in ledger.account.due for one in lines):
            yield "ends the session, and nobody said that what was clipped on is off"


_JUDGES: dict[type[e.Event], Callable[..., Iterator[str]]] = {
    e.CheckAnswered: _closed_alone,
    e.FindingTold: _told,
    e.RoundLeft: _round_left,
    e.CheckAskedFor: _asked_for,
    e.AlarmRaised: _alarmed,
    e.ThingConfirmed: _confirmed,
    e.ThingsCarried: _carried,
    e.StateEntered: _entered,
    e.VehicleTurned: _turned,
    e.RunStarted: _run_started,
    e.RunEnded: _run_ended,
    e.InterlockLapsed: _lapsed,
    e.FactCorrected: _corrected,
    e.FindingTakenBack: _taken_back,
    e.SessionPaused: _paused,
    e.SessionResumed: _resumed,
    e.ThingRefused: _refused,
    e.RemedyBegun: _began,
    e.WorkFinished: _work_finished,
    e.CostsWeighed: _weighed,
    e.OwnRouteTaken: _searched,
    e.OwnRouteEnded: _searched,
    e.ConclusionReached: _searched,
    e.RateMatched: _matched,
    e.ActUndone: _undone,
    e.DriveCompared: _compared,
    e.EngineOff: _engine_off,
    e.SessionClosed: _closed,
}
