"""What all events share."""

from typing import ClassVar

from triage.documents import Model


class Stamped(Model):
    """Base of all events; `kind` and `version` stand on the trace's line.

    Version 1 of every kind knew the wall clock alone: read back, it stands for the other clock too, in boot 0.
    """

    kind: ClassVar[str]
    version: ClassVar[int] = 2
    later: ClassVar[frozenset[str]] = frozenset()
    """Fields that came later: left out where they say nothing, so that older lines are written again as they stand."""
    at_ms: int
    """The wall clock, for the record: milliseconds since 1970-01-01 UTC."""
    who: str
    clock_ms: int
    """A clock that only goes forward and counts sleep [ms]; everything that ages goes by it."""
    boot: int
    """Which of that clock's starts: one more each time the session is taken up from disk. No age goes across two."""
