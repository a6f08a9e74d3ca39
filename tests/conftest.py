"""What tests of several packages share: the shipped knowledge, a session at its first question, a fake terminal."""

import errno
from collections.abc import Callable, Iterable, Iterator
from itertools import count
from pathlib import Path

import pytest

from triage.app.advising.adviser import AtConclusions, Standing
from triage.app.job import Job, start
from triage.app.opening import Opening
from triage.app.shop.shop_file import Shop, accuracies
from triage.chat.lines import InputEndedError
from triage.knowledge.loading import load_knowledge
from triage.knowledge.models import Knowledge
from triage.knowledge.shipped import trees_folder
from triage.record.events import Event
from triage.session.commands import Command
from triage.store import disk as disks
from triage.store import writer as writing

MOST_LINES = 3000


class Silent(AtConclusions):
    """An adviser who says nothing: advice changes no step, and takes longer than all the rest."""

    def follow(self, happened: tuple[Event, ...], session: Standing, at_ms: int) -> Iterator[Command]:
        del happened, session, at_ms
        return iter(())


class Typist:
    """A fake terminal: types what it is given, asks for more where it can, and keeps what was said."""

    def __init__(self, *lines: str, more: Callable[[], Iterable[str]] = tuple) -> None:
        self._waiting = list(lines)
        self._more = more
        self.said: list[str] = []
        self.asked = 0
        self.ahead = False

    def read(self, prompt: str, waiting: Callable[[], bool]) -> str | None:
        if waiting():
            return None
        self.said.append(prompt)
        self.asked += 1
        self._waiting = self._waiting or list(self._more())
        if not self._waiting or self.asked > MOST_LINES:
            raise InputEndedError
        return self._waiting.pop(0)

    def say(self, text: str) -> None:
        self.said.append(text)


@pytest.fixture(scope="session", autouse=True)
def home(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Path]:
    """Keep the tests, and the programs that they start, away from this user's sessions."""
    folder = tmp_path_factory.mktemp("home")
    with pytest.MonkeyPatch.context() as kept:
        kept.setenv("TRIAGE_HOME", str(folder))
        yield folder


@pytest.fixture(scope="session")
def knowledge() -> Knowledge:
    """The shipped knowledge, read once."""
    return load_knowledge(trees_folder())


@pytest.fixture
def job(knowledge: Knowledge) -> Job:
    """A session of Ana's on the buzz after switching off, ten milliseconds a look at the clock."""
    times = count(0, 10)
    opening = Opening(symptom="shutdown-buzz", job="j", who="Ana")
    return start(knowledge, opening, accuracies(knowledge, Shop()), "", lambda: next(times), None)


@pytest.fixture(scope="session")
def silent() -> Silent:
    return Silent()


@pytest.fixture
def typist() -> type[Typist]:
    return Typist


class Disk:
    """A disk that is full whenever a test says so."""

    def __init__(self) -> None:
        self.full = False


@pytest.fixture
def disk(monkeypatch: pytest.MonkeyPatch) -> Disk:
    disk, write_all = Disk(), disks.write_all

    def written(handle: int, content: bytes) -> None:
        if disk.full:
            raise OSError(errno.ENOSPC, "full")
        write_all(handle, content)

    monkeypatch.setattr(writing, "write_all", written)
    return disk
