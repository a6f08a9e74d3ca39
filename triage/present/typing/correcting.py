"""Dialogues over what was said before: an earlier answer put right, a vehicle maker's figure entered."""

from triage.drive.bay.formulas import evaluate
from triage.errors import CommandRefused
from triage.knowledge.models import Check, Knowledge, Part, Way
from triage.present.cleaning import clean_line
from triage.present.shapes import Choice
from triage.present.steps.findings import say_finding
from triage.present.typing.choosing import chosen
from triage.present.typing.offering import question
from triage.present.typing.reading import outcomes_or_reading, typed_part, way_meant
from triage.present.typing.results import Ask, Result
from triage.record.readings import TypedPart
from triage.session import commands as c
from triage.session.state import State
from triage.session.stepping import remedies_of
from triage.units import say_quantity

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
    ways = figures[figure][1]
    way = way_meant(ways, lines[1])
    typed = [typed_part(part, state.layout, line) for part, line in zip(way.parts, lines[1:], strict=False)]
    if len(typed) < len(way.parts):
        return Ask(f"{typed[-1].text}. {question(way.parts[len(typed)], state.layout)}")
    value, said = _worked_out(way, typed, ways[0].parts[0].kind)
    if len(lines) == 1 + len(typed):
        return Ask(f"{said}. Where does it stand? (document, page)")
    reference = lines[1 + len(typed)]
    return c.EnterMakerFigure(at_ms=stamp[0], who=stamp[1], figure=figure, value=value, text=said, reference=reference)


def _worked_out(way: Way, typed: list[TypedPart], kind: str) -> tuple[float, str]:
    """The figure in SI, and in words with what it was worked out from."""
    said = "; ".join(part.text for part in typed)
    if way.formula is None:
        return typed[0].value, said
    value, _ = evaluate(way.formula, [part.value for part in typed], [0.0 for _ in typed])
    return value, f"{say_quantity(value, kind)} from {said}"


def _figures(knowledge: Knowledge, state: State) -> dict[str, tuple[str, tuple[Way, ...]]]:
    """The figures of the step on screen in words, each with the ways in which the maker may give it."""
    figures: dict[str, tuple[str, tuple[Way, ...]]] = {}
    check: Check | None = knowledge.checks.get(state.step.check)
    if check and check.reading:
        ways = (_plain(check.reading.kind), *check.reading.other_ways)
        for zone in check.reading.zones:
            if zone.figure and zone.below:
                figures[zone.figure] = (f"{check.name}: limit {zone.figure}", ways)
    for remedy in remedies_of(knowledge, state):
        for torque in remedy.torques:
            figures[torque.id] = (torque.what, (_plain("torque"),))
    return figures


def _plain(kind: str) -> Way:
    return Way(id="", parts=(Part(id="figure", kind=kind, ask="Figure"),), instrument="maker")


def numbered(question: str, choices: tuple[Choice, ...]) -> str:
    """A question with its answers numbered below it."""
    lines = [question, *(f"  {number}  {choice.words}" for number, choice in enumerate(choices, 1))]
    return "\n".join(map(clean_line, lines))
