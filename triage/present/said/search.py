"""What was looked at, and what was made of it, in words."""

from typing import assert_never

from triage.knowledge.models import Knowledge
from triage.present.said.judgement import judged_words, parts_words
from triage.present.said.words import Words
from triage.present.steps.own_route import own_words
from triage.present.steps.ways import caveat
from triage.present.steps.worth import advice_words, turned
from triage.record import events as e
from triage.record.prices import RepairChoice
from triage.record.readings import said_of

WRITTEN_DOWN = "Written down."
TOLD = "Taken as told, not as seen: before an engine starts every look is made here."
ANOTHER = 'Written down. Which other check is worth its minutes: "worth"'


def check_words(knowledge: Knowledge, event: e.OfChecks) -> Words:
    """An event about a check."""
    if isinstance(event, e.MakerFigureEntered):
        return Words(f"maker's figure {event.figure}: {event.text} ({event.reference})", (WRITTEN_DOWN,))
    if isinstance(event, e.RoundLeft | e.CheckAskedFor):
        return _round_words(knowledge, event)
    check = knowledge.checks[event.check]
    match event:
        case e.CheckAnswered():
            words = ", ".join(outcome.words for outcome in check.outcomes if outcome.id in event.outcomes)
            return Words(f"{check.name}: {words}{' [closed together]' if event.closed_with_round else ''}")
        case e.FindingTold():
            words = ", ".join(outcome.words for outcome in check.outcomes if outcome.id in event.outcomes)
            read = f"{said_of(event.parts)}: " if event.parts else ""
            return Words(f"{check.name}: {read}{words} [told by {event.by}]", (TOLD,))
        case e.ReadingTaken():
            outcome = check.outcome(event.outcome)
            near = "does not agree" if event.apart else "too close to call"
            meaning = outcome.words if outcome else f"{near}, measured again"
            said = (judged_words(knowledge, event), *_caveat(knowledge, event))
            return Words(f"{check.name}: {parts_words(event)}: {meaning}", said)
        case e.ReadingThrownAway():
            left_out = f"{event.text} thrown away ({event.reason})"
            return Words(f"{check.name}: {left_out}", (f"{left_out}.",))
        case e.CheckNotDone():
            return Words(f"{check.name}: could not be done ({event.reason})", (ANOTHER,))
        case e.FindingTakenBack():
            return Words(f"{check.name}: taken back")
        case e.FaultPutRight():
            return Words(f"{check.name}: put right ({event.done})")
    assert_never(event)


def _round_words(knowledge: Knowledge, event: e.RoundLeft | e.CheckAskedFor) -> Words:
    if isinstance(event, e.RoundLeft):
        names = ", ".join(knowledge.checks[one].name for one in event.checks)
        return Words(f"left open: {names}", ("Left open. Each is asked for by itself where it is needed.",))
    if not event.check:
        return Words("back to what the tree asks")
    return Words(f"asked for: {knowledge.checks[event.check].name}")


def _caveat(knowledge: Knowledge, event: e.ReadingTaken) -> list[str]:
    reading = knowledge.checks[event.check].reading
    return [line for way in (reading.other_ways if reading else ()) if way.id == event.way for line in caveat(way)]


def reasoning_words(knowledge: Knowledge, event: e.OfReasoning) -> Words:
    """An event of the reasoning; advice that belongs to a conclusion stands under it."""
    match event:
        case e.ConclusionReached():
            names = " and ".join(knowledge.causes[cause].name for cause in event.causes)
            return Words(f"Conclusion: {names or event.end}")
        case e.OwnRouteTaken() | e.OwnRouteEnded():
            return Words(own_words(knowledge, event))
        case e.AdviceGiven():
            if event.asked:
                return Words(advice_words(knowledge, event))
            line = advice_words(knowledge, event) if event.pays is not None and not event.stands else ""
            return Words(line, () if event.stands else (turned(knowledge, event),))
        case e.CostsWeighed():
            return Words(f"costs weighed: {_repair(knowledge, event.choice)}")
    assert_never(event)


def _repair(knowledge: Knowledge, choice: RepairChoice) -> str:
    """What costs least by them; the tables stand in a section of their own."""
    if choice.currency and choice.visits:
        least = choice.visits[0]
        names = " + ".join(knowledge.remedies[one].name for one in least.remedies)
        return f"least expected with {names}, {least.now:.2f} {choice.currency} now"
    if choice.tries:
        return f"first {knowledge.remedies[choice.tries[0].remedy].name}"
    return "no repair could be weighed"
