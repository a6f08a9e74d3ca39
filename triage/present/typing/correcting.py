"""Dialogues over what was said before: an earlier answer put right, a vehicle maker's figure entered."""

from triage.drive.bay.formulas import evaluate
from triage.errors import CommandRefused, QuantityUnclear
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
from triage.units import KINDS, parse_quantity, say_quantity

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
        return Ask(answers_of(check))
    given = outcomes_or_reading(knowledge, state, check, lines[1:])
    if isinstance(given, Ask):
        return given
    return c.Correct(at_ms=stamp[0], who=stamp[1], check=check.id, outcomes=given[0], parts=given[1])


def answers_of(check: Check) -> str:
    """A check's question with its answers below it."""
    mark = "#" if check.reading else ""
    return numbered(check.question, tuple(Choice(one.id, one.words) for one in check.outcomes), mark)


def thrown_away(knowledge: Knowledge, state: State, stamp: Stamp, lines: tuple[str, ...]) -> Result:
    """Which reading of the check on screen counts no more, and why."""
    check = knowledge.checks.get(_measured_here(state))
    readings = state.first_readings.get(check.id, ()) if check else ()
    if check is None or not readings:
        raise CommandRefused("No reading waits here for another.", 'An earlier answer is put right with "amend".')
    choices = tuple(Choice(str(number), one.said) for number, one in enumerate(readings, 1))
    if len(choices) > 1 and not lines:
        return Ask(numbered("Which reading is to be thrown away?", choices))
    number, rest = (chosen(choices, lines[0]), lines[1:]) if len(choices) > 1 else ("1", lines)
    if not rest:
        return Ask(f"Why is {readings[int(number) - 1].said} thrown away?")
    reason = in_words(rest[0])
    return c.ThrowAway(at_ms=stamp[0], who=stamp[1], check=check.id, number=int(number), reason=reason)


def _measured_here(state: State) -> str:
    """The check on screen; of a round the first open line that has a reading already."""
    if state.step.kind != "round":
        return state.step.check
    return next((check for check in state.step.open if state.first_readings.get(check)), "")


def in_words(line: str) -> str:
    """A reason.

    Raises:
        CommandRefused: it has no word in it.
    """
    if not any(letter.isalpha() for letter in line):
        raise CommandRefused("That is no reason.", "Say it in a word or two.")
    return line


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
    for part, line in zip(way.parts, lines[1:], strict=False):
        _expect_unit(part, line)
    typed = [typed_part(part, state.layout, line) for part, line in zip(way.parts, lines[1:], strict=False)]
    if len(typed) < len(way.parts):
        return Ask(f"{typed[-1].text}. {question(way.parts[len(typed)], state.layout)}")
    value, said = _worked_out(way, typed, ways[0].parts[0].kind)
    if len(lines) == 1 + len(typed):
        return Ask(f"{said}. Where does it stand? (document, page)")
    reference = lines[1 + len(typed)]
    return c.EnterMakerFigure(at_ms=stamp[0], who=stamp[1], figure=figure, value=value, text=said, reference=reference)


def _expect_unit(part: Part, line: str) -> None:
    """Insist on the unit of a figure that would stand for the whole job, where two are as usual."""
    kind = KINDS[part.kind]
    if kind.also and part.from_layout is None and parse_quantity(line, part.kind).assumed:
        units = " or ".join(f"{line.strip()} {label}" for label in (kind.usual, *kind.also))
        raise QuantityUnclear(f"In which unit? {units}.", "Type it with its unit.")


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
                outcome = check.outcome(zone.outcome)
                words = outcome.words if outcome else zone.outcome
                figures[zone.figure] = (f"{check.name}: the limit below which it says “{words}”", ways)
    for remedy in remedies_of(knowledge, state):
        for torque in remedy.torques:
            figures[torque.id] = (torque.what, (_plain("torque"),))
    return figures


def _plain(kind: str) -> Way:
    return Way(id="", parts=(Part(id="figure", kind=kind, ask="Figure"),), instrument="maker")


def numbered(question: str, choices: tuple[Choice, ...], mark: str = "") -> str:
    """A question with its answers numbered below it, behind a mark where a plain number is a reading."""
    lines = [question, *(f"  {mark}{number}  {choice.words}" for number, choice in enumerate(choices, 1))]
    return "\n".join(map(clean_line, lines))
