"""Whether a saved session left somebody protected at a vehicle: then there is one, and no time for a made-up one."""

from pathlib import Path

from triage.app.reading import read_sound_part
from triage.errors import TriageError
from triage.session.evolving import fold
from triage.store import list_traces


def standing_jobs(folder: Path) -> tuple[str, ...]:
    """The open sessions of a folder whose confirmations stand, by the job; of a damaged one what is sound counts.

    Raises:
        StoreUnavailable: the folder cannot be read.
    """
    return tuple(one.job or one.path.stem for one in list_traces(folder) if one.now != "closed" and _stands(one.path))


def _stands(path: Path) -> bool:
    try:
        replayed = read_sound_part(path).replayed
    except TriageError:  # nothing of it can be read, so nothing in it stands
        return False
    return bool(fold(replayed.events).standing)
