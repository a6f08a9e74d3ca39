"""A program that is killed between two lines of one answer: what is left of the answer lets nobody in."""

from itertools import count
from pathlib import Path

from triage.app.job import start
from triage.app.opening import Opening
from triage.app.resuming import resume
from triage.app.shop.shop_file import Shop, accuracies
from triage.knowledge.models import Knowledge
from triage.session import commands as c
from triage.store import TraceWriter

BEGAN_MS = 1_767_254_400_000


def test_a_vehicle_that_was_just_turned_away_is_asked_the_first_question_again(
    knowledge: Knowledge, tmp_path: Path
) -> None:
    moments = count(BEGAN_MS, 1000)
    writer = TraceWriter.create(tmp_path, "torn")
    opening = Opening(symptom="shutdown-buzz", job="7", who="Ann")
    job = start(knowledge, opening, accuracies(knowledge, Shop()), "", lambda: next(moments), writer)
    job.do(c.AnswerGate(at_ms=next(moments), who="Ann", answer="hybrid"))
    job.leave()
    path = tmp_path / "torn.jsonl"
    lines = path.read_bytes().splitlines(keepends=True)
    kept = next(number for number, line in enumerate(lines) if b'"kind":"session-closed"' in line)
    path.write_bytes(b"".join(lines[:kept]))
    again, _ = resume(path, lambda: BEGAN_MS + 60_000, "Ann")
    again.do(c.Resume(at_ms=BEGAN_MS + 61_000, who="Ann"))
    asked = again.state.step.kind
    again.leave()
    assert asked == "gate"
