"""A saved session taken up again."""

from pathlib import Path

from triage.app.advising.adviser import Adviser, AllAlong
from triage.app.clocks import Steady
from triage.app.job import FLOOR, Clock, Job
from triage.app.sound import knowledge_of, refuse_unsafe
from triage.app.tracing import read_events
from triage.errors import TraceUnsafe
from triage.knowledge.models import Interlocks
from triage.knowledge.safety_floor import shortfalls
from triage.knowledge.shipped import trees_folder
from triage.record.events import Event, NotUnderstood
from triage.session import commands as c
from triage.store import TraceWriter


def resume(
    path: Path,
    clock: Clock,
    who: str,
    steady: Steady | None = None,
    interlocks: Interlocks | None = None,
    adviser: Adviser | None = None,
) -> tuple[Job, tuple[str, ...]]:
    """Take a saved session up again: the vehicle was left, so it is paused until somebody says that they are there.

    Whatever the trace says, no confirmation of before counts, and the interlocks are those of this program.

    Args:
        path: the trace.
        clock: the wall clock.
        who: who takes it up; the last one where it is empty.
        steady: the clock by which everything ages.
        interlocks: of this program; None for the shipped ones.
        adviser: says what the reasoning makes of it; where none is given, one that speaks all along.

    Returns:
        The session, and what a person should know about its trace.

    Raises:
        TraceDamaged: the trace does not hold together.
        TraceUnsafe: it can be read, and nobody may work on from it.
        StoreUnavailable: somebody else is writing it.
    """
    writer, lines, notices = TraceWriter.reopen(path)
    try:
        events, strange = read_events(lines, writer.knowledge)
        _expect_understood(events, path)
        knowledge = knowledge_of(events, path)
        job = Job(knowledge, writer, clock, who, events, steady, adviser or AllAlong())
        job.who = who or job.state.holder
        job.go_under(interlocks or _shipped_interlocks())
        _expect_floor(job, path)
        refuse_unsafe(events, path)
        if not job.state.paused and not job.state.closed:
            job.do(c.Pause(at_ms=clock(), who=job.who))
        # A trace that was cut or edited behind its pause still has a step of before it, perhaps at the running engine.
        job.tick()
    except BaseException:
        writer.close()
        raise
    return job, (*notices, *strange)


def _expect_understood(events: tuple[Event, ...], path: Path) -> None:
    for number, event in enumerate(events, 1):
        if isinstance(event, NotUnderstood):
            message = f'{path.name} can be read, and not be gone on with: line {number} holds "{event.what}".'
            raise TraceUnsafe(message, "A newer program wrote it. Go on with that one.")


def _shipped_interlocks() -> Interlocks:
    from triage.knowledge.loading import load_interlocks  # it brings YAML, which reading a trace does without

    return load_interlocks(trees_folder())


def _expect_floor(job: Job, path: Path) -> None:
    short = () if job.state.closed else shortfalls(job.knowledge_to_come)
    if short:
        raise TraceUnsafe(f"{path.name} can be read, and not be gone on with. {short[0]}", FLOOR)
