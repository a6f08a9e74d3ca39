"""What all events share."""

from typing import ClassVar

from triage.documents import Model


class Event(Model):
    """Base of all events; `kind` and `version` stand on the trace's line."""

    kind: ClassVar[str]
    version: ClassVar[int] = 1
    at_ms: int
    who: str
