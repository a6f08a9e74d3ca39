"""What is said where nothing can be saved: that it is so, what to do, and where a copy went."""

from collections.abc import Iterable
from pathlib import Path

from triage.app.job import Job
from triage.errors import CommandRefused, NotSaved, TriageError
from triage.knowledge.models import Knowledge
from triage.present.cleaning import clean_line
from triage.present.said.entries import said
from triage.present.typing.results import Copy
from triage.record.events import Event

LEAVE_QUESTION = 'Where is a copy to go? A new file or a folder; "leave" once more leaves without one.'
SAVED_AGAIN = "Everything is saved again."
NOTHING_TAKEN = "While nothing can be saved, only what ends something is taken."
NOT_SAVED_YET = "Not saved yet: it is written first when saving works again."
KEPT = "The session is kept; take it up again with: triage resume"


def place_typed(line: str) -> Path:
    """The file or folder that a line names.

    Raises:
        CommandRefused: it names none.
    """
    text = line.strip()
    if not text or clean_line(text) != text:
        raise CommandRefused("That is no name of a file or folder.", "Type one, such as ~/copy.jsonl or /media/stick.")
    try:
        return Path(text).expanduser()
    except RuntimeError as error:  # a name behind ~ that nobody has here
        raise CommandRefused("That is no name of a file or folder.", "Type it from / on.") from error


def unsaved_words(knowledge: Knowledge, trouble: str, unsaved: Iterable[Event]) -> str:
    """Why nothing can be saved, and what has happened meanwhile."""
    told = "; ".join(words for event in unsaved if (words := said(knowledge, event).words))
    return f"{trouble} Not saved: {told}." if told else trouble


def trouble_words(trouble: str) -> str:
    """That nothing can be saved, what to do, and why; empty where all is saved."""
    return f'NOT SAVED: type "copy" to save everything elsewhere. {trouble}' if trouble else ""


def refusal_words(error: TriageError) -> tuple[str, ...]:
    """Why a line was not taken; why nothing can be saved is said beside it already."""
    if isinstance(error, NotSaved):
        return (NOTHING_TAKEN,)
    return tuple(text for text in (error.message, error.hint) if text)


class Saving:
    """What a face has to say of the saving of its session: each thing once, until it changes."""

    def __init__(self, job: Job) -> None:
        """Have said nothing."""
        self._job = job
        self._said = ""
        self._place: Path | None = None

    def news(self) -> tuple[str, ...]:
        """What to say where saving has begun to fail, fails otherwise, or works again."""
        before, self._said = self._said, self._job.trouble
        if self._said == before:
            return ()
        return (trouble_words(self._said) or SAVED_AGAIN,)

    def refused(self) -> None:
        """Say it once more: something that was typed could not be saved, and was not taken."""
        self._said = ""

    def copy(self, wanted: Copy) -> str:
        """Save everything elsewhere, and say where it is now.

        Raises:
            StoreUnavailable: it cannot be written there.
        """
        if wanted.travels:
            return f"{self._job.export_to(wanted.place).absolute()} can travel: mark {self._job.head}."
        moves = bool(self._job.trouble)
        place = self._job.copy_to(wanted.place).absolute()
        self._said = self._job.trouble
        if not moves:
            return f"A copy of everything so far is in {place}. The session goes on where it was."
        self._place = place
        return f"Everything is in {place} now, and the session goes on there."

    def left(self) -> str:
        """What to say to somebody who leaves: where the session is kept, or what is not saved."""
        job = self._job
        if job.trouble:
            return f"Left without a copy. {unsaved_words(job.knowledge, job.trouble, job.unsaved)}"
        return f"{KEPT} {self._place}" if self._place else KEPT
