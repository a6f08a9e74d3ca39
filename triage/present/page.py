"""A session as a page of plain text that a colleague can take over from and a mentor can question."""

from collections.abc import Sequence
from datetime import UTC, datetime

from triage.knowledge.models import Knowledge
from triage.present.cleaning import clean_line
from triage.present.costs import costs_lines
from triage.present.drive_facts import match_words
from triage.present.likely import likely_lines, unlikely_lines
from triage.present.own_route import own_words
from triage.present.renewals import since_words
from triage.present.shapes import NOT_REVIEWED
from triage.present.shares import beside_conclusion
from triage.present.text import view_lines
from triage.present.vehicle import corrected_words
from triage.present.views import before_after, say_finding, step_view
from triage.present.ways import instruments_words
from triage.present.worth import advice_words, checks_beside, worth_lines
from triage.record import events as e
from triage.record.readings import Verdict
from triage.session.evolving import fold
from triage.session.state import State
from triage.units import say_quantity

WIDTH = 88
MINUTE_MS = 60_000


def page_of(knowledge: Knowledge, events: Sequence[e.Event], head: str, notices: Sequence[str] = ()) -> str:
    """The whole session: vehicle, what happened in order, conclusion, work, proof, where it stands, and the head.

    Args:
        knowledge: what the session used.
        events: what happened.
        head: count and digest of its trace.
        notices: what a reader should know first about the trace, such as a line that was cut off.
    """
    state = fold(events)
    tree = knowledge.trees[state.symptom]
    titled = [
        f"Job {state.job}: {tree.name}",
        f"Started {_instant(state.started_ms)} by {events[0].who}; now with {state.holder}",
        f'Complaint in their own words: "{state.words}"' if state.words else "Complaint: no words recorded",
        f"Reviewed by: {state.reviewer}" if state.reviewer else NOT_REVIEWED,
    ]
    lines = [
        *(f"Notice: {notice}" for notice in notices),
        *titled,
        "",
        "Vehicle",
        *_vehicle(state),
        "",
        "What happened",
        *happened_lines(knowledge, events),
    ]
    lines += _section("Findings that count now", _findings(knowledge, state))
    lines += _section("Likely causes, as recorded with the conclusion", likely_lines(knowledge, state, state.advice))
    lines += _section("Ruled out, or nearly, and by what", unlikely_lines(knowledge, state))
    if state.concluded and state.counsel and state.counsel.checks:
        checks = worth_lines(knowledge, state, state.counsel.checks, pays=bool(state.counsel.pays))
        lines += _section("Checks by what they are worth, as recorded with the conclusion", checks)
    if state.costs:
        lines += _section("Costs, as recorded with the conclusion", costs_lines(knowledge, state, state.costs))
    lines += _section("Before and after the repair", before_after(knowledge, state))
    lines += _section("Where it stands", view_lines(step_view(knowledge, state), WIDTH))
    lines += ["", f"Trace: {head} (count and digest; compare with what you were given)"]
    # One line stays one line, whatever stands in a text of the trace.
    return "".join(f"{clean_line(line)}\n" for line in lines)


def _section(title: str, lines: list[str]) -> list[str]:
    return ["", title, *[f"  {line}" for line in lines]] if lines else []


def _vehicle(state: State) -> list[str]:
    odometer = state.facts.get("odometer")
    cylinders = state.facts.get("cylinders")
    layout = [f"  layout of the drive: {state.layout.name}"] if state.layout else []
    return [
        f"  specified alternator pulley: {state.pulley}",
        f"  odometer: {say_quantity(odometer, 'distance') if isinstance(odometer, float) else 'not known'}",
        f"  cylinders: {cylinders:g}" if isinstance(cylinders, float) else "  cylinders: not known",
        *layout,
    ]


def _findings(knowledge: Knowledge, state: State) -> list[str]:
    lines = []
    for finding in state.known.values():
        check = knowledge.checks[finding.check]
        lines.append(f"{check.name}: {say_finding(check, finding)}")
        if finding.verdict:
            lines.append(f"    {_judged(knowledge, finding.check, finding.verdict)}")
            lines.append(f"    {instruments_words(knowledge, state.accuracies, check.reading, finding.way)}")
    return lines


def judged_words(knowledge: Knowledge, event: e.ReadingTaken) -> str:
    """What a reading came to, with its margin."""
    outcome = knowledge.checks[event.check].outcome(event.outcome)
    worked_out = f"From {_parts(event)}. " if len(event.parts) > 1 else ""
    verdict = _judged(knowledge, event.check, event.verdict)
    return f"{worked_out}{outcome.words if outcome else 'Too close to call'}: {verdict}"


def _parts(event: e.ReadingTaken) -> str:
    return "; ".join(part.text for part in event.parts)


def _judged(knowledge: Knowledge, check_id: str, verdict: Verdict) -> str:
    reading = knowledge.checks[check_id].reading
    kind = reading.kind if reading else "number"
    source = knowledge.sources.get(verdict.limit_source)
    settled = "settled at 95 %" if verdict.settled else "TOO CLOSE TO CALL"
    return (
        f"{say_quantity(verdict.value, kind)}, u = {say_quantity(verdict.uncertainty, kind)}; "
        f"nearest limit {say_quantity(verdict.limit, kind)} ({source.title if source else verdict.limit_source}), "
        f"margin {_signed(verdict.margin, kind)}; {settled}"
    )


def _signed(value: float, kind: str) -> str:
    return f"{'−' if value < 0 else '+'}{say_quantity(abs(value), kind)}"


def _instant(at_ms: int) -> str:
    return datetime.fromtimestamp(at_ms / 1000, UTC).strftime("%Y-%m-%d %H:%M:%S UTC")


def happened_lines(knowledge: Knowledge, events: Sequence[e.Event]) -> list[str]:
    """What happened, line by line: the day where it changes, what confirmations are for, what a reading came to.

    Under each conclusion stands what the advice recorded with it said of it.
    """
    accuracies = events[0].accuracies if isinstance(events[0], e.SessionStarted) else {}
    lines: list[str] = []
    day, wanted, state = "", "", State()
    verdict: tuple[str, ...] = ()
    for event in events:
        state = fold((event,), state)
        said = said_lines(knowledge, event, events[0].at_ms)
        if said and _instant(event.at_ms)[:10] != day:
            day = _instant(event.at_ms)[:10]
            lines.append(f"  {day} (UTC; + is since the start, in hours and minutes)")
        if isinstance(event, e.ThingsCarried | e.ThingConfirmed | e.ThingRefused) and event.state != wanted:
            wanted = event.state
            lines.append(f"      To be confirmed for: {knowledge.states[wanted].words}")
        elif isinstance(event, e.StateEntered | e.InterlockLapsed):
            wanted = ""
        lines += said
        if isinstance(event, e.ReadingTaken):
            reading = knowledge.checks[event.check].reading
            lines.append(f"      {instruments_words(knowledge, accuracies, reading, event.way)}")
            mean = "mean of both: " if event.attempt > 1 else ""
            lines.append(f"      {mean}{_judged(knowledge, event.check, event.verdict)}")
        elif isinstance(event, e.AdviceGiven) and state.concluded and not event.asked:
            beside = (*beside_conclusion(knowledge, state), *checks_beside(knowledge, state))
            # Advice is given anew when a part's age is told; where it says the same, once is enough.
            lines += [f"      {line}" for line in beside if beside != verdict]
            verdict = beside
        elif isinstance(event, e.ConclusionReached):
            verdict = ()
    return lines


def said_lines(knowledge: Knowledge, event: e.Event, start_ms: int | None = None) -> list[str]:
    """One event as a line of the page, none for what only matters to the program; with the time since a start."""
    told = event_words(knowledge, event)
    elapsed = "" if start_ms is None else f"{_elapsed(event.at_ms - start_ms)}  "
    return [clean_line(f"  {_instant(event.at_ms)[11:19]}  {elapsed}{event.who}: {told}")] if told else []


def _elapsed(since_ms: int) -> str:
    # A clock that was set back must show.
    hours, minutes = divmod(abs(since_ms) // MINUTE_MS, 60)
    return f"{'−' if since_ms < 0 else '+'}{hours}:{minutes:02}"


def event_words(knowledge: Knowledge, event: e.Event) -> str:
    """What happened in a few words; empty for what only matters to the program."""
    return (
        _told_checks(knowledge, event)
        or _told_interlock(knowledge, event)
        or _told_repair(knowledge, event)
        or _told_drive(event)
        or _told_keeping(event)
        or _told_going_on(event)
    )


def _told_checks(knowledge: Knowledge, event: e.Event) -> str:
    match event:
        case e.CheckAnswered():
            check = knowledge.checks[event.check]
            words = ", ".join(outcome.words for outcome in check.outcomes if outcome.id in event.outcomes)
            return f"{check.name}: {words}"
        case e.ReadingTaken():
            outcome = knowledge.checks[event.check].outcome(event.outcome)
            meaning = outcome.words if outcome else "too close to call, measured again"
            return f"{knowledge.checks[event.check].name}: {_parts(event)}: {meaning}"
        case e.CheckNotDone():
            return f"{knowledge.checks[event.check].name}: could not be done ({event.reason})"
        case e.FindingTakenBack():
            return f"{knowledge.checks[event.check].name}: taken back"
        case e.FaultPutRight():
            return f"{knowledge.checks[event.check].name}: put right ({event.done})"
        case e.AdviceGiven() if event.asked or (event.pays is not None and not event.stands):
            return advice_words(knowledge, event)
        case e.OwnRouteTaken() | e.OwnRouteEnded():
            return own_words(knowledge, event)
        case e.ConclusionReached():
            names = " and ".join(knowledge.causes[cause].name for cause in event.causes)
            return f"Conclusion: {names or event.end}"
    return ""


def _told_interlock(knowledge: Knowledge, event: e.Event) -> str:
    match event:
        case e.ThingConfirmed():
            thing = knowledge.confirmations.get(event.confirmation)
            name = f" ({event.name})" if event.name else ""
            return f"confirmed: {thing.ask if thing else 'what is used up is in hand'}{name}"
        case e.ThingsCarried():
            along = (
                f"carried from {_instant(since_ms)[11:19]}: {knowledge.confirmations[one].ask}"
                for one, since_ms in event.since.items()
            )
            return " ".join(along)
        case e.ThingRefused():
            thing = knowledge.confirmations.get(event.confirmation)
            return f"NOT confirmed: {thing.ask if thing else event.confirmation} ({event.reason})"
        case e.StateEntered():
            return f"-> {knowledge.states[event.state].words}"
        case e.InterlockLapsed():
            return f"confirmations ended ({event.because})"
        case e.SetUpFinished():
            return f"set up by hand: {knowledge.checks[event.check].name}"
        case e.RunStarted():
            return "engine started for a timed run"
        case e.RunEnded():
            return f"run over ({event.because})"
        case e.EngineOff():
            return "engine off, all still"
    return ""


def _told_drive(event: e.Event) -> str:
    match event:
        case e.LayoutUsed():
            return f"layout {event.name}, {len(event.layout.pulleys)} pulleys"
        case e.RateMatched():
            return f"rate {match_words(event.match)}"
    return ""


def _told_keeping(event: e.Event) -> str:
    match event:
        case e.NoteAdded():
            return f"note: {event.text}"
        case e.MakerFigureEntered():
            return f"maker's figure {event.figure}: {event.text} ({event.reference})"
        case e.RenewalTold():
            return f"part {event.part}: {since_words(event)}"
        case e.FactCorrected():
            return corrected_words(event)
        case e.SessionHandedOver():
            return f"handed over to {event.to} at {event.head}"
        case e.SessionClosed():
            proof = f"; not proved: {', '.join(event.not_proved)}" if event.not_proved else ""
            reason = f" ({event.reason})" if event.reason else ""
            return f"closed: {event.how}{reason}{proof} at {event.head}"
    return ""


def _told_going_on(event: e.Event) -> str:
    match event:
        case e.SessionPaused():
            return "paused"
        case e.SessionResumed():
            return "back at the vehicle"
        case e.ClockShifted():
            return shifted_words(event)
        case e.RulesInstalled():
            return f"goes on under the interlocks of the program that took it up (safety rules {event.rules})"
    return ""


def shifted_words(event: e.ClockShifted) -> str:
    """By how much the wall clock moved, and which way."""
    seconds = round(abs(event.by_ms) / 1000)
    hours, minutes = divmod(seconds // 60, 60)
    by = f"{seconds} s" if seconds < 120 else f"{hours} h {minutes} min" if hours else f"{minutes} min"
    return f"the clock of this computer was moved {'back' if event.by_ms < 0 else 'forward'} by {by}"


def _told_repair(knowledge: Knowledge, event: e.Event) -> str:
    match event:
        case e.RemedyBegun():
            return "began: " + ", ".join(knowledge.remedies[remedy].name for remedy in event.remedies)
        case e.PartRecorded():
            return f"part {event.part}: {event.done}"
        case e.TorqueRecorded():
            if event.value_nm is None:
                return f"torque {event.torque}: none ({event.text})"
            return f"torque {event.torque}: {event.text}, {event.wrench}, figure from {event.reference}"
        case e.NotCured():
            return "not cured: the search goes on"
    return ""
