"""Dialogues over what was said before: an earlier answer put right, a vehicle maker's figure entered."""

from triage.errors import CommandRefused
from triage.knowledge.models import Check, Knowledge
from triage.present.reading import chosen, outcomes_or_reading
from triage.present.results import Ask, Result
from triage.present.views import Choice, say_finding
from triage.session import commands as c
from triage.session.state import State
from triage.session.stepping import remedies_of
from triage.units import parse_quantity, say_back

Stamp = tuple[int, str]
"""When and by whom."""


def correction(knowledge: Knowledge, state: State, stamp: Stamp, lines: tuple[str, ...]) -> Result:
    """Which finding, then its new answer."""
    findings = state.after if state.stage == "proving" else state.findings
    choices = tuple(
        Choice(check, f"{knowledge.checks[check].name}: {say_finding(knowledge.checks[check], finding)}")
        for check, finding in findings.items()
    )
    if not choices:
        raise CommandRefused("There is no answer to correct.", "Go on with the step on screen.")
    if not lines:
        return Ask(numbered("Which answer is to be put right?", choices))
    check = knowledge.checks[chosen(choices, lines[0])]
    if len(lines) == 1:
        return Ask(numbered(check.question, tuple(Choice(o.id, o.words) for o in check.outcomes)))
    given = outcomes_or_reading(check, state.layout, lines[1:])
    if isinstance(given, Ask):
        return given
    return c.Correct(at_ms=stamp[0], who=stamp[1], check=check.id, outcomes=given[0], parts=given[1])


def maker_figure(knowledge: Knowledge, state: State, stamp: Stamp, lines: tuple[str, ...]) -> Result:
    """Which figure of the step on screen, its value, and where it stands."""
    figures = _figures(knowledge, state)
    if not figures:
        raise CommandRefused("This step uses no figure of the maker's.", "Enter it when the step that uses it comes.")
    choices = tuple(Choice(figure, words) for figure, (words, _) in figures.items())
    if not lines:
        return Ask(numbered("Which figure?", choices))
    figure = chosen(choices, lines[0])
    if len(lines) == 1:
        return Ask("What does the maker give?")
    quantity = parse_quantity(lines[1], figures[figure][1])
    if len(lines) == 2:
        return Ask(f"{say_back(quantity)}. Where does it stand? (document, page)")
    return c.EnterMakerFigure(
        at_ms=stamp[0],
        who=stamp[1],
        figure=figure,
        value=quantity.value,
        text=say_back(quantity),
        reference=lines[2],
    )


def _figures(knowledge: Knowledge, state: State) -> dict[str, tuple[str, str]]:
    figures: dict[str, tuple[str, str]] = {}
    check: Check | None = knowledge.checks.get(state.step.check)
    if check and check.reading:
        for zone in check.reading.zones:
            if zone.figure and zone.below:
                figures[zone.figure] = (f"{check.name}: limit {zone.figure}", check.reading.kind)
    for remedy in remedies_of(knowledge, state):
        for torque in remedy.torques:
            figures[torque.id] = (torque.what, "torque")
    return figures


def numbered(question: str, choices: tuple[Choice, ...]) -> str:
    """A question with its answers numbered below it."""
    return "\n".join([question, *(f"  {number}  {choice.words}" for number, choice in enumerate(choices, 1))])
