"""How a vehicle shows what it has, what customers say, and what somebody might wrongly take for safe.

The words of a folder's `practice/`: they travel in no trace, and nothing is judged by them. An outcome without words
as it is perceived is shown in its own words; `unperceived` names those. Words for what is not
there any more do nothing.
"""

from collections.abc import Iterator
from pathlib import Path
from typing import Annotated, Final

from pydantic import Field, StringConstraints

from triage.documents import Model, build, is_there
from triage.documents.reading import read_document
from triage.knowledge.models import Id, Knowledge, Text

FOLDER: Final = "practice"
PERCEIVED: Final = "perceived.yaml"
CUSTOMERS: Final = "customers.yaml"
PROPOSALS: Final = "proposals.yaml"
Line = Annotated[str, StringConstraints(min_length=1, max_length=300)]


class Perceived(Model):
    """How outcomes are perceived, by check and outcome; one of several sentences is drawn for a vehicle."""

    checks: dict[Id, dict[Id, tuple[Line, ...]]] = Field(default_factory=dict)


class Complaining(Model):
    """What a customer with one complaint says."""

    says: tuple[Line, ...] = ()
    vague: tuple[Line, ...] = ()
    misleading: tuple[Line, ...] = ()
    under: tuple[Id, ...] = ()
    """Outcomes of the check that asks under which condition it was met."""


class Customers(Model):
    """What customers say."""

    symptoms: dict[Id, Complaining] = Field(default_factory=dict)
    hurry: tuple[Line, ...] = ()
    looked_before: tuple[Line, ...] = ()
    comes_and_goes: tuple[Line, ...] = ()


class Wrong(Model):
    """Something that is no protection, though it may sound like one.

    Args:
        says: as somebody would put it.
        why: what is wrong with it.
        hurts: the hazard that it brings; "" where it is only needless.
        engine: whether it is proposed for a running or a stopped engine; either where left out.
        battery: the same for an isolated battery.
    """

    says: Line
    why: Text
    hurts: str = ""
    engine: str = ""
    battery: str = ""


class Proposals(Model):
    """What is proposed before a vehicle state and must not be, or need not be, so."""

    wrong: tuple[Wrong, ...] = ()


class PracticeWords(Model):
    """All of it."""

    perceived: Perceived = Perceived()
    customers: Customers = Customers()
    proposals: Proposals = Proposals()


def load_practice_words(folder: Path) -> PracticeWords:
    """Read the words of a folder of knowledge; a file that is not there says nothing.

    Raises:
        DocumentFaulty: a file cannot be read or has not the right shape.
    """
    place = folder / FOLDER

    def read(name: str, model: type[Model]) -> Model:
        return build(read_document(place / name), model) if is_there(place / name) else model()

    return PracticeWords.model_validate(
        {
            "perceived": read(PERCEIVED, Perceived),
            "customers": read(CUSTOMERS, Customers),
            "proposals": read(PROPOSALS, Proposals),
        }
    )


def unperceived(knowledge: Knowledge, words: PracticeWords) -> Iterator[str]:
    """The outcomes that can show and have no words as they are perceived, by check: "spin-idler (rough, smooth)"."""
    for check in knowledge.checks.values():
        normal = (check.outcomes[0].id, *check.normal_for.values())
        shows = (one.id for one in check.outcomes if one.id in normal or one.sign or check.sign or one.complaint)
        told = words.perceived.checks.get(check.id, {})
        lacking = [one for one in shows if not told.get(one) and not _is_read(knowledge, check.id, one)]
        if lacking:
            yield f"{check.id} ({', '.join(lacking)})"


def unknown(knowledge: Knowledge, words: PracticeWords) -> Iterator[str]:
    """What has words as it is perceived and is no outcome of a check."""
    for check_id, told in words.perceived.checks.items():
        check = knowledge.checks.get(check_id)
        if check is None:
            yield check_id
        else:
            yield from (f"{check_id} {one}" for one in told if check.outcome(one) is None)


def _is_read(knowledge: Knowledge, check_id: str, outcome: str) -> bool:
    """Whether an outcome shows as a figure."""
    reading = knowledge.checks[check_id].reading
    return reading is not None and any(zone.outcome == outcome for zone in reading.zones)
