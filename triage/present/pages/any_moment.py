"""Pages to read at any moment: why, what would it tell, the path, the sources, help."""

from collections.abc import Callable

from triage.knowledge.models import Knowledge
from triage.present.commands import WORDS
from triage.present.pages.costs import costs_page
from triage.present.pages.drive_page import drive_page
from triage.present.pages.likely import likely_page
from triage.present.pages.why import things_on, why_page
from triage.present.pages.worth import worth_page
from triage.present.steps.coasting import coast_contradictions
from triage.present.steps.drive_facts import drive_sources
from triage.present.steps.findings import say_finding
from triage.present.steps.limits import say_limits
from triage.present.steps.own_route import OWN
from triage.present.steps.shares import share
from triage.present.steps.ways import instrument_words, instruments, worked_out_lines
from triage.record.counsel import Outlook
from triage.session.state import State


def tell_page(knowledge: Knowledge, state: State) -> list[str]:
    """What each answer to the check on screen would speak for, and what it would make likely."""
    check = knowledge.checks.get(state.step.check)
    if check is None:
        return ["This step asks for nothing that tells causes apart."]
    expected = {one.outcome: one for one in (state.counsel.outlooks if state.counsel else ())}
    lines = []
    for outcome in check.outcomes:
        sign = knowledge.signs.get(outcome.sign or check.sign or "")
        level = outcome.id if check.sign else "present"
        causes = [
            knowledge.causes[cause].name
            for cause in (sign.produced_by if sign else {})
            if sign and level in sign.strengths(cause, state.pulley)
        ]
        normal = outcome.id == check.normal(state.pulley)
        meaning = ", ".join(causes) or ("nothing wrong here" if normal else "nothing by itself")
        lines.append(f"{outcome.words}: {meaning}{_then(knowledge, expected.get(outcome.id))}")
    return lines


def _then(knowledge: Knowledge, outlook: Outlook | None) -> str:
    if outlook is None or not outlook.cause:
        return ""
    cause, change = knowledge.causes[outlook.cause], f"{share(outlook.after)} (now {share(outlook.before)})"
    return f". To be expected: {share(outlook.chance)}. Likeliest then: {cause.name}, {change}"


def path_page(knowledge: Knowledge, state: State) -> list[str]:
    """What was found so far, in order."""
    own = {step.check for step in state.own}
    lines = [
        f"{knowledge.checks[f.check].name}: {say_finding(knowledge.checks[f.check], f)}"
        + (f" ({OWN[0].lower()}{OWN[1:]})" if f.check in own else "")
        for f in state.known.values()
    ]
    return [*lines, *coast_contradictions(state)] or ["Nothing has been found yet."]


def sources_page(knowledge: Knowledge, state: State) -> list[str]:
    """Where the numbers on the step on screen come from."""
    step = state.step
    keys: list[str] = []
    check, things = knowledge.checks.get(step.check), things_on(knowledge, state)
    lines = []
    if things:
        keys.extend(key for thing in things for key in thing.sources)
    elif check:
        keys.extend(check.sources)
        lines.extend([*say_limits(knowledge, state, check), *drive_sources(check.id, state)])
        if check.reading:
            lines.extend(worked_out_lines(knowledge, check.reading))
            tools = dict.fromkeys(tool for way in check.reading.ways for tool in instruments(way))
            lines.extend(instrument_words(knowledge, state.accuracies, tool) for tool in tools)
    for remedy in state.remedies:
        keys.extend(knowledge.remedies[remedy].sources)
    lines.extend(knowledge.sources[key].title for key in dict.fromkeys(keys))
    return lines or ["There is no number on this step."]


def help_page(_knowledge: Knowledge, _state: State) -> list[str]:
    """What can be said at any moment."""
    lines = [f"{word.name:10} {word.does}" for word in WORDS]
    return ["Answer by number or by word. A reading is typed with its unit. At any moment:", *lines]


PAGES: dict[str, Callable[[Knowledge, State], list[str]]] = {
    "why": why_page,
    "tell": tell_page,
    "likely": likely_page,
    "worth": worth_page,
    "costs": costs_page,
    "path": path_page,
    "sources": sources_page,
    "drive": drive_page,
    "help": help_page,
}
