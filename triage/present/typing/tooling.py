"""The hand tools of the bay in a session: which one, then its values one after the other, then a page."""

from triage.drive.bay.formula import Formula, FormulaPart, sensible
from triage.drive.pages.handtools import CONVERT, answer, tool_named
from triage.errors import QuantityRefused
from triage.knowledge.models import Knowledge
from triage.present.typing.correcting import Stamp
from triage.present.typing.results import Ask, Result, Show
from triage.session.state import State
from triage.units import KINDS, parse_quantity, say_quantity

LIST, USUAL = "list", "usual"
BETWEEN = ";"
"""Parts the values of a tool that are typed on one line: a comma may be a decimal one."""


def tool_worked(knowledge: Knowledge, _state: State, _stamp: Stamp, lines: tuple[str, ...]) -> Result:
    """The same in a session, whose step stays on screen."""
    return worked_out(knowledge, lines)


def worked_out(knowledge: Knowledge, lines: tuple[str, ...]) -> Ask | Show:
    """Ask for a tool and its values until its page can be shown.

    Raises:
        TriageError: there is no such tool, or a value cannot be.
    """
    words = [word.strip() for line in lines for word in line.split(BETWEEN) if word.strip()]
    if not words:
        return Ask(f'Which tool? Give its name, or "{LIST}". Values may follow, with {BETWEEN} between.')
    name, given = words[0].lower(), words[1:]
    if name == LIST:
        return _shown(knowledge, [])
    if name == CONVERT:
        still = ("What is to be converted? A number with its unit.", "Into which unit?")[len(given) :]
        return Ask(still[0]) if still else _shown(knowledge, [name, *given])
    formula = tool_named(name)
    values = _without_usual(formula, given)
    at_once = len(lines) == 1 and given
    if at_once or values != given or len(given) >= len(formula.parts):
        return _shown(knowledge, [name, *values])
    return Ask(_next(formula, given))


def _without_usual(formula: Formula, given: list[str]) -> list[str]:
    """The values as typed; `usual` may only stand in the place of a value that has one, and these are the last."""
    for part, word in zip(formula.parts, given, strict=False):
        if word.lower() == USUAL and part.usual is None:
            raise QuantityRefused(
                f"The {part.name} has no usual value.", f'Type it; "{USUAL}" holds only where one is named.'
            )
    return [word for word in given if word.lower() != USUAL]


def _next(formula: Formula, given: list[str]) -> str:
    if not given:
        return f"{formula.title}\n  {formula.text}\n{_asked(formula.parts[0])}"
    # A value that cannot be is refused while its line can still be typed again.
    part = formula.parts[len(given) - 1]
    sensible(part, parse_quantity(given[-1], part.kind).value)
    return _asked(formula.parts[len(given)])


def _asked(part: FormulaPart) -> str:
    unit = KINDS[part.kind].usual
    bare = f" A bare number is in {unit}." if unit else ""
    usual = "" if part.usual is None else f' Or "{USUAL}": {say_quantity(part.usual, part.kind)}.'
    return f"{part.name[0].upper()}{part.name[1:]}, {part.symbol}?{bare}{usual}"


def _shown(knowledge: Knowledge, words: list[str]) -> Show:
    titles = {source.id: source.title for source in knowledge.sources.values()}
    return Show(tuple(answer(words, titles).splitlines()))
