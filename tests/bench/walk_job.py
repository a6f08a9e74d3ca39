"""A session of walk_commands.py as a real job, whose trace lies on a disk that fails at times.

While nothing can be saved only what ends something may be taken, no running step may be on screen, and what was ended
is written first when saving works again. Every line that was acknowledged is in the trace, in its order.
"""

import errno
import os
import random
import shutil
import tempfile
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager, suppress
from pathlib import Path
from unittest.mock import patch

from tests.bench.walk_answers import LEAVING, WHO, WORD
from tests.bench.walk_clocks import SECOND_MS, Clocks
from tests.bench.walk_ledger import AT_THE_VEHICLE, Moment
from tests.bench.walk_watcher import Watcher
from tests.bench.walk_worlds import shipped
from triage.app.clocks import Steady
from triage.app.job import start
from triage.app.opening import Opening
from triage.app.reading import replay
from triage.app.resuming import resume
from triage.errors import CommandRefused, NotSaved
from triage.knowledge.models import Knowledge
from triage.record import events as e
from triage.session import commands as c
from triage.session.audit import objections
from triage.session.state import State
from triage.store import TraceWriter
from triage.store import disk as disks
from triage.store import writer as writing

FAILS, MENDS = 0.02, 0.2
"""How often a disk fails before a command, and is put right again."""
TAKES_ALL = 0.5
"""How often a full disk still takes a part of a line."""
ENDING = (c.EndRun, c.RaiseAlarm, c.RefuseConfirmation, c.SayChanged, c.Tick, c.Pause)
"""All that is taken while nothing can be saved."""
ENDED = {
    "things-ended",
    "something-changed",
    "looks-ended",
    "alone-said",
    "run-ended",
    "alarm-raised",
    "engine-off",
    "thing-refused",
    "session-paused",
    "clock-shifted",
    "step-offered",
    "conclusion-reached",
}
"""All that may happen meanwhile; a conclusion waits until the engine is off, and takes nobody's word."""


def named(events: Iterable[e.Event]) -> Counter[str]:
    """How often each kind of event happened, with its reason where it has one of a few."""
    ending = (e.InterlockLapsed, e.RunEnded, e.ThingsEnded)
    return Counter(f"{one.kind} {one.because}" if isinstance(one, ending) else one.kind for one in events)


def unsound(events: Sequence[e.Event]) -> None:
    """Complain where the audit would let nobody go on with a trace that a session has written."""
    objection = next(objections(events), None)
    assert objection is None, f"the audit takes a real session for a forged one: {objection}"


class Disk:
    """The disk under a trace: sound, full, failing at the last moment, or the file on it is gone."""

    def __init__(self) -> None:
        self.full = False
        self.failing = False

    @property
    def sound(self) -> bool:
        """Whether it takes what is written."""
        return not (self.full or self.failing)

    @contextmanager
    def in_use(self, rng: random.Random) -> Iterator[None]:
        """Let the writer of traces write on this disk."""
        write_all, flush = disks.write_all, disks.flush

        def write(handle: int, content: bytes) -> None:
            if self.full:
                if rng.random() < TAKES_ALL:
                    write_all(handle, content[: len(content) // 2])
                raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))
            write_all(handle, content)

        def flushed(handle: int) -> None:
            if self.failing:
                raise OSError(errno.EIO, os.strerror(errno.EIO))
            flush(handle)

        with patch.object(writing, "write_all", write), patch.object(writing, "flush", flushed):
            yield


class JobSession:
    """A job under watch, with the manners of `walk_commands.Session`."""

    def __init__(self, knowledge: Knowledge, symptom: str, setting: float = 0.0) -> None:
        self.folder = Path(tempfile.mkdtemp(prefix="walk-"))
        self.rng = random.Random(f"{symptom} {setting}")
        self.disk, self.lost, self.copies = Disk(), False, 0
        self.clocks = Clocks(setting=setting)
        self.watcher = Watcher(knowledge)
        self.seen = 0
        self.counts: Counter[str] = Counter()
        self.counts_sleep = self.rng.random() < 0.8
        opening = Opening(symptom=symptom, job=WORD, who=WHO[0])
        self.path = self.folder / "trace.jsonl"
        writer = TraceWriter.create(self.folder, "trace")
        self.job = start(knowledge, opening, {}, "", self._wall_ms, writer, steady=self._steady())
        self._account()

    def _wall_ms(self) -> int:
        return self.clocks.wall_ms

    def _steady(self) -> Steady:
        return Steady(lambda: self.clocks.clock_ms, counts_sleep=self.counts_sleep)

    @property
    def knowledge(self) -> Knowledge:
        """What the session uses."""
        return self.job.knowledge

    @property
    def state(self) -> State:
        """Where it stands."""
        return self.job.state

    @property
    def events(self) -> list[e.Event]:
        """What has happened, saved or not."""
        return list(self.job.events)

    @property
    def now(self) -> Moment:
        """The reading that counts; a job stamps its own boots."""
        return Moment(self.job.events[-1].boot, self.clocks.clock_ms)

    def base(self, leap_ms: int = SECOND_MS, who: str = WHO[0]) -> c.Stamp:
        """Times and name of the next command."""
        self.clocks.wait(leap_ms)
        return self.clocks.stamp(who)

    def give(self, command: c.Command) -> bool:
        """Let the disk fail or be mended, give a command, and say whether it was accepted."""
        self._disturb_disk()
        broken, saved_before = self.lost or not self.disk.sound, len(self.job.events) - len(self.job.unsaved)
        taken = True
        with self.disk.in_use(self.rng):
            try:
                self.job.tick() if isinstance(command, c.Tick) else self.job.do(command)
            except CommandRefused:
                taken = False
            except NotSaved:
                taken = False
                self.counts["answer refused: not saved"] += 1
                assert broken, "a sound disk refused a line"
                assert self.job.trouble, "an answer was not saved, and nothing says so"
        happened = self._account()
        if broken:
            self.counts["ended: not saved yet"] += bool(happened)
            assert not taken or isinstance(command, ENDING) or not happened, f"{type(command).__name__} was taken"
            kinds = {event.kind for event in happened}
            assert kinds <= ENDED, f"{kinds - ENDED} counts, and nothing could be saved"
            assert len(self.job.events) - len(self.job.unsaved) == saved_before, "a broken disk took a line"
        else:
            assert not self.job.trouble or not happened, f"the disk is sound: {self.job.trouble}"
        return taken

    def _account(self) -> list[e.Event]:
        """Show the watcher what has happened since."""
        happened = list(self.job.events[self.seen :])
        self.seen += len(happened)
        for event in happened:
            self.watcher.see(event)
        self.clocks.told_ms = happened[-1].at_ms if happened else self.clocks.told_ms
        assert self.watcher.step == self.job.state.step or not self.watcher.step, "another step is on screen"
        self.watcher.look(self.now)
        self._look_at_trouble()
        return happened

    def _look_at_trouble(self) -> None:
        """Complain where a running step is on screen although it is known that nothing can be saved."""
        step = self.job.state.step
        target = self.knowledge.states.get(step.state)
        running = target is not None and target.engine == "running" and step.kind in AT_THE_VEHICLE
        assert not (self.job.trouble and running), f"{step.kind} is on screen, and nothing can be saved"
        if self.lost and self.watcher.ledger.engine_on:
            assert self.job.trouble, "the file is lost beside a running engine, and nothing says so"

    def _disturb_disk(self) -> None:
        rng = self.rng
        if self.lost or not self.disk.sound:
            if rng.random() < MENDS:
                self._mend()
        elif rng.random() < FAILS:
            kind = rng.choice(["full", "failing", "gone", "altered"])
            self.disk.full, self.disk.failing = kind == "full", kind == "failing"
            self.lost = kind in ("gone", "altered")
            if kind == "gone":
                self.path.unlink()
            elif kind == "altered":
                self._alter()
        elif rng.random() < FAILS / 4:
            self._copy()

    def _alter(self) -> None:
        """Change one byte of the file, and not its size."""
        with self.path.open("r+b") as file:
            at = self.rng.randrange(self.path.stat().st_size)
            file.seek(at)
            was = file.read(1)
            file.seek(at)
            file.write(b"x" if was != b"x" else b"y")

    def _mend(self) -> None:
        """Put the disk right; a file that is gone or altered is written anew elsewhere, out of what is in memory."""
        self.disk.full = self.disk.failing = False
        if self.lost and not self.job.trouble:
            with suppress(NotSaved, CommandRefused):
                self.job.do(c.Note(**self.base(), text=WORD))
            self._account()
        if self.lost or self.rng.random() < 0.3:
            self._copy()

    def _copy(self) -> None:
        """Save a copy, where the session goes on if its own file takes nothing; everything must be in it."""
        in_trouble = bool(self.job.trouble)
        self.counts["copied out of trouble" if in_trouble else "copied"] += 1
        self.copies += 1
        copy = self.folder / f"copy-{self.copies}.jsonl"
        self.job.copy_to(copy)
        assert replay(copy).events == self.job.events, "the copy holds something else"
        assert not self.job.trouble
        if in_trouble or self.job.state.closed:
            self.path, self.lost = copy, False

    def _saved(self) -> tuple[e.Event, ...]:
        return replay(self.path).events

    def take_up(self, rng: random.Random) -> None:
        """Leave, whatever the disk does, and take up what is in the file when the clock has begun anew."""
        if self.lost:
            self._mend()
        with self.disk.in_use(self.rng):
            self.job.leave()
        self.disk.full = self.disk.failing = False
        saved = len(self._saved())
        assert saved == len(self.job.events) - len(self.job.unsaved), (
            "the file holds something else than was acknowledged"
        )
        if saved < len(self.job.events):
            self._watch_anew(saved)
        self.clocks.restart(rng)
        self.counts["taken up from disk"] += 1
        installed = rng.choice([self.job.knowledge.interlocks, shipped().interlocks])
        self.job, _ = resume(self.path, self._wall_ms, "", self._steady(), installed)
        self._account()

    def _watch_anew(self, saved: int) -> None:
        """What was not saved has not happened for whoever reads the file."""
        started = self.job.events[0]
        assert isinstance(started, e.SessionStarted)
        self.watcher, self.seen = Watcher(started.knowledge), saved
        for event in self.job.events[:saved]:
            self.watcher.see(event)

    def account(self) -> Counter[str]:
        """How often what happened, and what became of it on the disk."""
        return named(self.job.events) + self.counts

    def close(self) -> None:
        """Mend the disk, and end it from wherever it stands, as a person could."""
        self._mend()
        self.job.tick()
        if self.state.paused:
            self.job.do(c.Resume(**self.base()))
        if self.state.step.kind == "run-over" or self.state.condition.engine == "running":
            self.job.do(c.EndRun(**self.base()))
        if not self.state.closed:
            self.job.do(c.Close(**self.base(), how="without-repair", reason=WORD, off=LEAVING))
        self._account()

    def finish(self) -> None:
        """See that the file says what happened, and clear up."""
        self.job.leave()
        assert not self.job.unsaved
        assert self._saved() == self.job.events, "the file holds something else than was acknowledged"
        unsound(self.job.events)
        shutil.rmtree(self.folder)
