"""A session as a page of plain text that a colleague can take over from and a mentor can question."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from triage.knowledge.models import Knowledge
from triage.knowledge.vehicle import LATER_FACTS
from triage.present.cleaning import clean_line
from triage.present.pages.costs import costs_lines
from triage.present.pages.likely import likely_lines, unlikely_lines
from triage.present.pages.worth import worth_lines
from triage.present.said.entries import Entry, entries, said
from triage.present.said.instants import day, elapsed, instant, time_of_day
from triage.present.said.judgement import verdict_words
from triage.present.said.vehicle import NAMES, fact_words
from triage.present.shapes import NOT_REVIEWED
from triage.present.steps.coasting import coast_contradictions
from triage.present.steps.findings import before_after, say_finding
from triage.present.steps.oddities import odd_lines
from triage.present.steps.other_pulleys import prediction_lines
from triage.present.steps.proof import proof_line
from triage.present.steps.views import step_view
from triage.present.steps.ways import instruments_words
from triage.present.text import view_lines
from triage.record import events as e
from triage.session.evolving import fold
from triage.session.state import State
from triage.units import say_quantity

WIDTH = 88


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
        *proof_line(knowledge, state),
        f"Job {state.job}: {tree.name}",
        f"Started {instant(state.started_ms)} by {events[0].who}; now with {state.holder}",
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
    lines += _section("Likely causes, as recorded with the conclusion", likely_lines(knowledge, state, state.likely))
    lines += _section("Ruled out, or nearly, and by what", unlikely_lines(knowledge, state))
    if state.concluded and state.counsel and state.counsel.checks:
        checks = worth_lines(knowledge, state, state.counsel.checks, pays=bool(state.counsel.pays))
        lines += _section("Checks by what they are worth, as recorded with the conclusion", checks)
    if state.costs:
        lines += _section("Costs, as recorded with the conclusion", costs_lines(knowledge, state, state.costs))
    lines += _section("Tell the customer", _told(knowledge, state))
    if state.predictions:
        lines += _section("Other pulleys and faults in this drive", prediction_lines(state.predictions, WIDTH - 2))
    lines += _section("Before and after the repair", before_after(knowledge, state))
    if state.stage != "finding":
        lines += _section("Odd about this session", list(odd_lines(knowledge, state)))
    lines += _section("Where it stands", view_lines(step_view(knowledge, state), WIDTH))
    lines += ["", f"Trace: {head} (count and digest; compare with what you were given)"]
    # One line stays one line, whatever stands in a text of the trace.
    return "".join(f"{clean_line(line)}\n" for line in lines)


def _section(title: str, lines: list[str]) -> list[str]:
    return ["", title, *[f"  {line}" for line in lines]] if lines else []


def _told(knowledge: Knowledge, state: State) -> list[str]:
    """What to tell the customer where nothing is wrong."""
    node = knowledge.trees[state.symptom].nodes.get(state.concluded.node) if state.concluded else None
    return [node.tell] if node and node.tell else []


def _vehicle(state: State) -> list[str]:
    odometer = state.facts.get("odometer")
    cylinders = state.facts.get("cylinders")
    layout = [f"  layout of the drive: {state.layout.name}"] if state.layout else []
    return [
        f"  specified alternator pulley: {state.pulley}",
        f"  odometer: {say_quantity(odometer, 'distance') if isinstance(odometer, float) else 'not known'}",
        f"  cylinders: {cylinders:g}" if isinstance(cylinders, float) else "  cylinders: not known",
        *(
            f"  {NAMES[fact].lower()}: {fact_words(fact, state.facts[fact])}"
            for fact in LATER_FACTS
            if fact in state.facts
        ),
        *layout,
    ]


def _findings(knowledge: Knowledge, state: State) -> list[str]:
    lines = []
    for finding in state.known.values():
        check = knowledge.checks[finding.check]
        lines.append(f"{check.name}: {say_finding(check, finding)}")
        if finding.verdict:
            lines.append(f"    {verdict_words(knowledge, finding.check, finding.verdict)}")
            lines.append(f"    {instruments_words(knowledge, state.accuracies, check.reading, finding.way)}")
    return [*lines, *coast_contradictions(state)]


def happened_lines(knowledge: Knowledge, events: Sequence[e.Event]) -> list[str]:
    """What happened, line by line: the day where it changes, what confirmations are for, what a reading came to.

    Under each conclusion stands what the advice recorded with it said of it.
    """
    lines: list[str] = []
    on_day, wanted = "", ""
    for event, entry in _folded(events, entries(knowledge, events)):
        if entry.words and day(entry.at_ms) != on_day:
            on_day = day(entry.at_ms)
            lines.append(f"  {on_day} (UTC; + is since the start, in hours and minutes)")
        if isinstance(event, e.ThingsCarried | e.ThingConfirmed | e.ThingRefused) and event.state != wanted:
            wanted = event.state
            lines.append(f"      To be confirmed for: {knowledge.states[wanted].words}")
        elif isinstance(event, e.StateEntered | e.InterlockLapsed):
            wanted = ""
        lines += entry_lines(entry, events[0].at_ms)
        lines += [f"      {line}" for line in entry.under]
    return lines


def _folded(events: Sequence[e.Event], told: Iterable[Entry]) -> Iterator[tuple[e.Event, Entry]]:
    """Events with their entries; lines of one state that one person confirmed one after the other are one entry."""
    card: list[tuple[e.ThingConfirmed, Entry]] = []
    for event, entry in zip(events, told, strict=True):
        if isinstance(event, e.ThingConfirmed):
            if card and (card[-1][0].state, card[-1][0].who) != (event.state, event.who):
                yield _card(card)
                card = []
            card.append((event, entry))
            continue
        if card and not isinstance(event, e.StepOffered):
            yield _card(card)
            card = []
        yield event, entry
    if card:
        yield _card(card)


def _card(card: Sequence[tuple[e.ThingConfirmed, Entry]]) -> tuple[e.Event, Entry]:
    event, first = card[0]
    if len(card) == 1:
        return event, first
    names = list(dict.fromkeys(one.name for one, _ in card if one.name))
    words = f"{len(card)} lines confirmed{f' ({names[-1]})' if names else ''}: "
    return event, replace(first, words=words + " ".join(one.words.removeprefix("confirmed: ") for _, one in card))


def entry_lines(entry: Entry, start_ms: int | None = None) -> list[str]:
    """One entry as a line of the page, none where it has no words; with the time since a start."""
    since = "" if start_ms is None else f"{elapsed(entry.at_ms - start_ms)}  "
    line = f"  {time_of_day(entry.at_ms)}  {since}{entry.who}: {entry.words}"
    return [clean_line(line)] if entry.words else []


def said_lines(knowledge: Knowledge, event: e.Event) -> list[str]:
    """One event by itself as a line of the page, none for what only matters to the program."""
    return entry_lines(said(knowledge, event))
