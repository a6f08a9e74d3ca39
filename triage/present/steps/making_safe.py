"""The card of what is confirmed, and what is asked once a line of it is not so."""

from triage.knowledge.models import Confirmation, Knowledge
from triage.present.shapes import Choice, StepView
from triage.record.steps import Step
from triage.session.interlocks import IN_HAND, NO_PUMP, is_pressed
from triage.session.state import State
from triage.session.taking_off import BY_PICTURE, NEW_BELT

ASK = 'Press each line that is so, by its number, each by itself. Not so: "no" and its number.'
ASK_ONE = 'So? Its number. Not so: "no".'
PROGRAM_LINES = {
    NO_PUMP: "The maker's picture shows that this belt does not drive the coolant pump: the engine need not be cold.",
    NEW_BELT: (
        "In hand before anything is made safe for it: a new belt as specified, and the tool to fit it. A stretch belt "
        "is destroyed by taking it off, and one of which nobody knows counts as one."
    ),
    BY_PICTURE: "The maker's picture shows it: a tensioner or a screw keeps this belt tight. It is no stretch belt.",
}
"""Lines of the program's own, which no folder can take away."""
PRESSED, OPEN = "[x] ", "[ ] "


def card_view(knowledge: Knowledge, state: State, step: Step) -> StepView:
    """The lines to be pressed, each with its own number, which it keeps until all are."""
    lines = lines_of(step)
    pressed = [is_pressed(knowledge, state, line) for line in lines]
    choices = tuple(
        Choice(line, (PRESSED if done else OPEN) + ask_of(knowledge, state, line))
        for line, done in zip(lines, pressed, strict=True)
    )
    left = pressed.count(False)
    place = knowledge.states.get(step.state)
    return StepView(
        f"MAKE SAFE: {left} of {len(lines)} open",
        ASK if lines[1:] else ASK_ONE,
        lines=(*_to_set_up(knowledge, step), *_needs(knowledge, step)),
        choices=choices,
        vehicle=f"To come: {place.words}" if place else "",
    )


def lines_of(step: Step) -> tuple[str, ...]:
    """The lines of a card; a trace of older rules asks one thing at a time."""
    return step.lines or (step.confirmation,)


def ask_of(knowledge: Knowledge, state: State, line: str) -> str:
    """What a line says."""
    if line.startswith(IN_HAND):
        check = knowledge.checks[line.removeprefix(IN_HAND)]
        tools = [knowledge.tools[tool].name for tool in check.tools if tool in knowledge.tools]
        return f"In hand before anything is made safe for it: {', '.join((*check.consumes, *tools))}."
    if line in PROGRAM_LINES:
        return PROGRAM_LINES[line]
    thing = knowledge.confirmations[line]
    if thing.proof == "name" and state.alone:
        return f"{state.holder} is alone and at the key, and stays there until the engine is off."
    who = named_again(state, thing)
    return f"{who}: {thing.ask}" if who else thing.ask


def named_again(state: State, thing: Confirmation) -> str:
    """Who was named last at the key, where a line says that again."""
    return next((state.named[one] for one in thing.instead_of if state.named.get(one)), "")


def _to_set_up(knowledge: Knowledge, step: Step) -> tuple[str, ...]:
    check = knowledge.checks.get(step.check)
    wanted = check is not None and check.set_up is not None and check.state != step.state
    return (f"To be set up: {check.name}",) if check and wanted else ()


def _needs(knowledge: Knowledge, step: Step) -> tuple[str, ...]:
    """What must be there for a check: nothing is made safe for what cannot be done anyway."""
    check = knowledge.checks.get(step.check)
    names = [knowledge.tools[tool].name for tool in check.tools if tool in knowledge.tools] if check else []
    return (f'Needed for {check.name}: {", ".join(names)}. Not there? "cannot".',) if check and names else ()


def why_view(knowledge: Knowledge, state: State, step: Step) -> StepView:
    """What is asked once a line was said not to be so: first that nobody goes on, then which thing and why."""
    lines = (ask_of(knowledge, state, step.confirmation), "Everything that belongs to it has ended, in every state.")
    ask = "Which of these is not so, and why? A few words."
    return StepView("HANDS OUT", ask, lines=lines, warnings=("Hands out of the bay. Nobody goes in.",))
