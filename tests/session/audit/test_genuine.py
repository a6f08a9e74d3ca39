"""Whatever this program has written, in whatever release, passes the audit without an objection."""

import random
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from tests.bench.whole_lines import whole_lines
from triage.app.advising.adviser import Adviser
from triage.app.cases import read_cases, walk_case
from triage.app.shop.shop_file import Shop, accuracies
from triage.app.tracing import to_events
from triage.knowledge.models import Knowledge
from triage.knowledge.shipped import demos_folder, trees_folder
from triage.session.audit import objections

OLD = Path(__file__).parents[2] / "app" / "traces"
SAVED = [*sorted(demos_folder().glob("*.jsonl")), *sorted(OLD.glob("*.jsonl"))]
CASES = sorted((trees_folder() / "cases").glob("*.yaml"))


@pytest.mark.parametrize("trace", SAVED, ids=lambda trace: trace.stem)
def test_demos_and_traces_of_older_releases_pass(trace: Path) -> None:
    assert list(objections(to_events(whole_lines(trace)))) == []


@pytest.mark.parametrize("file", CASES, ids=lambda file: file.stem)
def test_every_recorded_case_passes(
    file: Path, shipped: Knowledge, silent: Adviser, objected: Callable[..., list[str]]
) -> None:
    """The first with its advice."""
    instruments = accuracies(shipped, Shop())
    for number, case in enumerate(read_cases(file, shipped)[::4]):
        _, job = walk_case(shipped, case, instruments, adviser=silent if number else None)
        assert objected(job.events) == [], case.id


@pytest.mark.parametrize("seed", range(6))
def test_random_sessions_pass_that_are_torn_and_taken_up_again(
    seed: int, shipped: Knowledge, small: Knowledge, wander: Any, objected: Callable[..., list[str]]
) -> None:
    rng = random.Random(seed)
    for knowledge in (shipped, small, small, small):
        session = wander(knowledge, rng).walk(250)
        assert objected(session.events) == []
