"""What a word means, and where a part is found."""

from functools import cache

from triage.knowledge.models import Check, Knowledge
from triage.knowledge.shipped import trees_folder
from triage.listening.meanings import Meanings, load_meanings

NO_WORD = 'I do not know that word. Ask for a part or a word on the screen, such as "what is an idler".'


@cache
def _meanings() -> Meanings:
    return load_meanings(trees_folder())


def meaning_lines(knowledge: Knowledge, text: str) -> list[str]:
    """What a word of a question means: of the trade, or the name of a cause."""
    known = _meanings().named(text)
    if known:
        placed = [f"Where: {known.where}."] if known.where else []
        return [f"{known.names[0].capitalize()}: {known.means}.", *placed]
    said = text.lower()
    causes = [one for one in knowledge.causes.values() if one.name.lower() in said]
    return [f"{one.name}: {one.meaning}" for one in causes] or [NO_WORD]


def where_lines(text: str, check: Check | None) -> list[str]:
    """Where a part is that a question names, or else the check on screen."""
    known = _meanings().named(text, placed=True)
    if known:
        return [f"{known.names[0].capitalize()}: {known.where}."]
    if check is None:
        return [NO_WORD]
    known = _meanings().named(check.question, placed=True) or _meanings().named(check.name, placed=True)
    placed = [f"{known.names[0].capitalize()}: {known.where}."] if known else []
    return [*placed, *check.steps[:1]] or [NO_WORD]
