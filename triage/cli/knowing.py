"""The shipped knowledge: from its kept form where these very files were read and checked before, else from its files.

Reading and checking the files takes longer than everything else at a start. docs/decisions/kept-forms.md says what the
kept form is, and when it is believed.
"""

import contextlib
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from triage.knowledge.matching import Matcher
    from triage.knowledge.models import Knowledge

KEPT = "knowledge.json"


def shipped_knowledge() -> "Knowledge":
    """Return what the trade knows, with every rule kept.

    Raises:
        DocumentFaulty: a file cannot be read or breaks a rule; every fault is named.
    """
    from triage.knowledge.models import Knowledge
    from triage.knowledge.shipped import trees_folder
    from triage.store import data_folder, kept_folder
    from triage.store.kept import keep, kept

    folder, path = trees_folder(), kept_folder(data_folder()) / KEPT
    origin = _fingerprint(folder)
    content = kept(path, origin)
    if origin and content is not None:
        with contextlib.suppress(ValueError):
            return Knowledge.model_validate_json(content)
    from triage.knowledge.loading import load_knowledge  # it brings YAML and every rule

    knowledge = load_knowledge(folder)
    if origin and origin == _fingerprint(folder):  # else it changed while it was read
        keep(path, origin, knowledge.model_dump_json().encode())
    return knowledge


def shipped_matcher(knowledge: "Knowledge") -> "Matcher":
    """Return what finds symptoms by free words.

    Raises:
        DocumentFaulty: the file of words cannot be read or has not the right shape.
    """
    from triage.knowledge.matching import Matcher
    from triage.knowledge.shipped import trees_folder
    from triage.knowledge.words import load_words

    return Matcher(load_words(trees_folder()), knowledge.trees)


def _fingerprint(folder: Path) -> str:
    """Nothing where a file cannot be read: reading them all will say which."""
    from triage.knowledge.files import fingerprint

    try:
        return fingerprint(folder)
    except OSError:
        return ""
