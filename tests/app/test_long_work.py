"""Work in a thread of its own: its result, how far it is, and an end before that."""

import threading

import pytest

from triage.app.long_work import LongWork, Progress, StoppedError
from triage.errors import TriageError

PATIENCE_S = 30.0


def test_work_says_how_far_it_is_and_what_came_of_it() -> None:
    half, on = threading.Event(), threading.Event()

    def counting(progress: Progress) -> str:
        progress(0.5)
        half.set()
        on.wait(PATIENCE_S)
        return "done"

    work = LongWork(counting)
    assert half.wait(PATIENCE_S)
    assert work.share == 0.5
    assert not work.wait(0)
    on.set()
    assert work.wait(PATIENCE_S)
    assert work.result() == "done"


def test_stopped_work_ends_where_it_next_says_how_far_it_is() -> None:
    begun, on = threading.Event(), threading.Event()

    def endless(progress: Progress) -> None:
        begun.set()
        on.wait(PATIENCE_S)
        while True:
            progress(0.1)

    work = LongWork(endless)
    assert begun.wait(PATIENCE_S)
    work.stop()
    on.set()
    assert work.wait(PATIENCE_S)
    with pytest.raises(StoppedError):
        work.result()


def test_what_went_wrong_is_raised_where_the_result_is_asked_for() -> None:
    def refused(_progress: Progress) -> None:
        raise TriageError("It cannot be.")

    work = LongWork(refused)
    assert work.wait(PATIENCE_S)
    with pytest.raises(TriageError, match="cannot be"):
        work.result()
