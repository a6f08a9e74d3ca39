"""Work that takes long, in a thread of its own: a face shows how far it is, and can stop it."""

import threading
from collections.abc import Callable
from typing import Generic, TypeVar

Result = TypeVar("Result")
Progress = Callable[[float], None]


class StoppedError(Exception):
    """The work was stopped before it had a result."""


class LongWork(Generic[Result]):
    """Some work under way.

    Attributes:
        share: how much of it is done, from 0 to 1.
    """

    def __init__(self, work: Callable[[Progress], Result]) -> None:
        """Begin it.

        Args:
            work: is given what it tells again and again how far it is.
        """
        self.share = 0.0
        self._work = work
        self._stopped = False
        self._ended = threading.Event()
        self._came: list[Result] = []
        self._failed: BaseException | None = None
        # A thread that is still at work must not keep a program from ending.
        threading.Thread(target=self._carry_out, daemon=True).start()

    def _carry_out(self) -> None:
        try:
            self._came.append(self._work(self._tell))
        except BaseException as error:  # it is raised where the result is asked for
            self._failed = error
        finally:
            self._ended.set()

    def _tell(self, share: float) -> None:
        self.share = share
        if self._stopped:
            raise StoppedError

    def stop(self) -> None:
        """Let it end as soon as it tells how far it is."""
        self._stopped = True

    def wait(self, seconds: float) -> bool:
        """Wait for its end, no longer than some seconds; say whether it has ended."""
        return self._ended.wait(seconds)

    def result(self) -> Result:
        """What came of it, once it has ended.

        Raises:
            TriageError: it cannot be; the sentence says why.
            StoppedError: it was stopped.
        """
        if self._failed is not None:
            raise self._failed
        if not self._came:
            raise StoppedError
        return self._came[0]
