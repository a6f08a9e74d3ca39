"""What does not hold in the wording: a phrase for each outcome, and no phrase for two outcomes of one check."""

from collections.abc import Collection, Iterable, Iterator
from pathlib import Path

from triage.documents import Document, build, is_there
from triage.documents.reading import read_document
from triage.errors import DocumentFaulty, Fault
from triage.knowledge.models import Check, Knowledge
from triage.knowledge.nearest import nearest
from triage.listening.phrasebook import CHECKS, FOLDER, SPEECH, AllChecks, Speech


def check_phrasebook(folder: Path, knowledge: Knowledge) -> tuple[Fault, ...]:
    """Name every fault of a folder's wording; a folder without wording has none.

    Args:
        folder: what holds listening/.
        knowledge: what it is the wording of.
    """
    if not is_there(folder / FOLDER):
        return ()
    try:
        document = read_document(folder / FOLDER / CHECKS)
        wording = build(document, AllChecks)
        speech = read_document(folder / FOLDER / SPEECH)
        tools = build(speech, Speech).tools
    except DocumentFaulty as error:
        return error.faults
    return (
        *_strange(document, ("checks",), wording.checks, knowledge.checks, "check"),
        *_strange(speech, ("tools",), tools, knowledge.tools, "tool"),
        *(fault for check in knowledge.checks.values() for fault in _of_check(document, wording, check)),
    )


def _strange(
    document: Document, steps: tuple[str, ...], named: Iterable[str], known: Collection[str], what: str
) -> Iterator[Fault]:
    for name in named:
        if name not in known:
            yield Fault(document.place_of_key((*steps, name)), f"There is no {what} '{name}'.", nearest(name, known))


def _of_check(document: Document, wording: AllChecks, check: Check) -> Iterator[Fault]:
    words = wording.checks.get(check.id)
    if words is None:
        message = f"Nothing says how the outcomes of '{check.id}' are said."
        yield Fault(document.place(("checks",)), message, "Add it, with a phrase for each outcome.")
        return
    steps = ("checks", check.id, "outcomes")
    known = {outcome.id: outcome for outcome in check.outcomes}
    yield from _strange(document, steps, words.outcomes, known, f"outcome of {check.id}")
    for word, outcome in words.meant.items():
        if outcome not in known:
            place = document.place(("checks", check.id, word))
            yield Fault(place, f"There is no outcome of {check.id} '{outcome}'.", nearest(outcome, known))
    yield from _unsaid_or_shared(document, wording, check)


def _unsaid_or_shared(document: Document, wording: AllChecks, check: Check) -> Iterator[Fault]:
    first: dict[str, str] = {}
    for outcome in check.outcomes:
        patterns = wording.patterns(check.id, outcome.id)
        listed = outcome.id in wording.checks[check.id].outcomes
        steps = ("checks", check.id, "outcomes", *((outcome.id,) if listed else ()))
        if not patterns:
            message = f"Nothing says how '{outcome.id}' of {check.id} is said."
            yield Fault(document.place(steps), message, "Add a phrase.")
        for pattern in dict.fromkeys(patterns):
            other = first.setdefault(pattern, outcome.id)
            if other != outcome.id:
                message = f"'{pattern}' is a phrase of '{other}' and of '{outcome.id}'."
                yield Fault(document.place(steps), message, "A phrase tells one outcome; take it from one of them.")
