"""What an author of trees is told beyond what loading refuses: a session could begin, and would serve nobody."""

from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Final

from triage.app.cases import read_cases
from triage.documents.reading import read_document
from triage.errors import DocumentFaulty, Fault
from triage.knowledge.files import CASES, TREES, listed

if TYPE_CHECKING:
    from triage.documents import Document
    from triage.knowledge.models import Knowledge, Tree
    from triage.knowledge.wording.matching import Matcher

OWN_WORDS: Final = "Say it in more of the customer's words, or put the words that tell it apart into words.yaml."


def faults_for_authors(folder: Path, knowledge: "Knowledge", matcher: "Matcher | None") -> Iterator[Fault]:
    """Find symptoms without a sign, phrases that do not find their symptom, and recorded cases that do not load.

    Args:
        folder: whose trees and cases are looked at.
        knowledge: what they stand in, without faults.
        matcher: what finds symptoms by words, among all of that knowledge; None where there are no words.
    """
    for path in listed(folder / TREES):
        document = read_document(path)
        data = document.data if isinstance(document.data, dict) else {}
        tree = knowledge.trees.get(str(data.get("symptom")))
        if tree is not None:
            yield from _of_tree(document, tree, knowledge, matcher)
    for path in listed(folder / CASES):
        try:
            read_cases(path, knowledge)
        except DocumentFaulty as error:
            yield from error.faults


def _of_tree(document: "Document", tree: "Tree", knowledge: "Knowledge", matcher: "Matcher | None") -> Iterator[Fault]:
    if tree.symptom not in knowledge.signs:
        hint = f"Put a sign with 'id: {tree.symptom}' into signs.yaml, with the causes that produce it."
        yield Fault(document.place(("symptom",)), f"The symptom '{tree.symptom}' has no sign.", hint)
    for position, phrase in enumerate(tree.phrases):
        found = matcher.match(phrase) if matcher else ()
        if matcher and (not found or found[0].symptom != tree.symptom):
            instead = f"{found[0].symptom} instead" if found else "nothing"
            message = f"The phrase '{phrase}' finds {instead}."
            yield Fault(document.place(("phrases", position)), message, OWN_WORDS)
