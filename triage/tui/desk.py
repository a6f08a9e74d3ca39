"""What the face is given from outside: knowledge, sessions, files. It opens none of them by itself."""

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from triage.app.job import Job
    from triage.app.opening import Opening
    from triage.app.reading import Replayed
    from triage.knowledge.models import Knowledge
    from triage.knowledge.wording.matching import Matcher
    from triage.tui.pages.practising import Begin


@dataclass(frozen=True)
class Saved:
    """A saved session at a glance.

    Args:
        path: its file.
        words: job, symptom and when it was last saved.
        open: whether anything is left to do in it.
    """

    path: Path
    words: str
    open: bool


@dataclass(frozen=True)
class Desk:
    """Every way out of the face.

    Args:
        load: reads what the trade knows; slow, called once, away from the screen.
        load_rest: loads everything that a session needs; likewise.
        prove_units: holds the table of units against the unit library; likewise, and last.
        begin: starts a session.
        resume: takes a session up again; also gives what a person should know about its trace.
        saved: the saved sessions, the last one first.
        demos: the shipped demo sessions.
        replay: reads a trace without taking it up, as far as it can be relied on.
        shop: what the shop file says, and where it is.
        matcher: what finds symptoms by free words.
        practise: begins an exercise at a made-up vehicle.
    """

    load: "Callable[[], Knowledge]"
    begin: "Callable[[Knowledge, Opening], Job]"
    resume: "Callable[[Path], tuple[Job, tuple[str, ...]]]"
    saved: Callable[[], tuple[Saved, ...]]
    demos: Callable[[], tuple[Path, ...]]
    replay: "Callable[[Path], Replayed]"
    shop: Callable[[], tuple[str, ...]]
    matcher: "Callable[[Knowledge], Matcher]"
    load_rest: Callable[[], None]
    practise: "Begin"
    prove_units: Callable[[], None]
