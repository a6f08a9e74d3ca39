"""What the trade knows here, shipped trees and a shop's own over them: from its kept form, or from its files.

The kept form serves where these very files were read and checked before.

Reading and checking the files takes longer than everything else at a start. docs/decisions/kept-forms.md says what the
kept form is, and when it is believed.
"""

import contextlib
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from triage.knowledge.models import Interlocks, Knowledge
    from triage.knowledge.wording.matching import Matcher
    from triage.listening.listener import Listener

KEPT = "knowledge.json"


def shipped_knowledge() -> "Knowledge":
    """Return what the trade knows, with every rule kept: the shipped trees, and a shop's own laid over them.

    Raises:
        DocumentFaulty: a file cannot be read or breaks a rule; every fault is named.
    """
    from triage.knowledge.shipped import trees_folder

    folder, over = trees_folder(), laid_over()
    origin = _fingerprint(folder, over)
    knowledge = _kept(origin)
    if knowledge is not None:
        return knowledge
    from triage.knowledge.loading import load_knowledge  # it brings YAML and every rule
    from triage.store.kept import keep

    knowledge = load_knowledge(folder, over=over)
    if origin and origin == _fingerprint(folder, over):  # else it changed while it was read
        keep(_path(), origin, knowledge.model_dump_json().encode())
    return knowledge


def laid_over() -> Path | None:
    """The folder of the shop's own trees, where there is one."""
    from triage.store import shop_trees_folder

    folder = shop_trees_folder()
    return folder if folder.is_dir() else None


def shipped_interlocks() -> "Interlocks":
    """Return the interlocks of what the trade knows here, also where something else in it has a fault.

    Raises:
        DocumentFaulty: their own file cannot be read or has not the right shape.
    """
    from triage.knowledge.shipped import trees_folder

    folder, over = trees_folder(), laid_over()
    knowledge = _kept(_fingerprint(folder, over))
    if knowledge is not None:
        return knowledge.interlocks
    from triage.knowledge.loading import load_interlocks

    return load_interlocks(folder, over)


def shipped_matcher(knowledge: "Knowledge") -> "Matcher":
    """Return what finds symptoms by free words.

    Raises:
        DocumentFaulty: the file of words cannot be read or has not the right shape.
    """
    from triage.knowledge.shipped import trees_folder
    from triage.knowledge.wording.matching import Matcher
    from triage.knowledge.wording.words import load_words

    return Matcher(load_words(trees_folder()), knowledge.trees)


def shipped_listener(knowledge: "Knowledge") -> "Listener":
    """Return what understands typed sentences.

    Raises:
        DocumentFaulty: a file of wording cannot be read or has not the right shape.
    """
    from triage.knowledge.shipped import trees_folder
    from triage.listening.listener import Listener
    from triage.listening.phrasebook import load_phrasebook

    return Listener(knowledge, load_phrasebook(trees_folder()), shipped_matcher(knowledge))


def _path() -> Path:
    from triage.store import data_folder, kept_folder

    return kept_folder(data_folder()) / KEPT


def _kept(origin: str) -> "Knowledge | None":
    """The kept form, where it was made from files and a program of this digest."""
    from triage.knowledge.models import Knowledge
    from triage.store.kept import kept

    content = kept(_path(), origin) if origin else None
    if content is not None:
        with contextlib.suppress(ValueError):
            return Knowledge.model_validate_json(content)
    return None


def _fingerprint(folder: Path, over: Path | None) -> str:
    """Nothing where a file cannot be read: reading them all will say which."""
    from triage.knowledge.files import fingerprint

    try:
        return fingerprint(folder, over)
    except OSError:
        return ""
