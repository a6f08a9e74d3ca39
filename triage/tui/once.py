"""Something slow that is worked out once: in the background, or by whoever needs it first."""

from collections.abc import Callable
from threading import Lock
from typing import Generic, TypeVar

T = TypeVar("T")


class Once(Generic[T]):
    """Who asks while it is being worked out waits; what went wrong is raised for everybody who asks."""

    def __init__(self, work_out: Callable[[], T]) -> None:
        """Work nothing out yet."""
        self._work_out = work_out
        self._lock = Lock()
        self._came: list[T] = []

    def get(self) -> T:
        """Return what comes of it.

        Raises:
            TriageError: as working it out does; the next one who asks tries again.
        """
        with self._lock:
            if not self._came:
                self._came.append(self._work_out())
            return self._came[0]
