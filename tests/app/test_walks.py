"""Random sessions on disks that fail, and forged traces that are taken up: nobody is let near the drive by either."""

import pytest

from tests.bench import craft_traces, walk_commands, walk_job
from tests.bench.prove_refusals import prove
from tests.bench.walk_worlds import shipped, short


def test_while_nothing_can_be_saved_only_what_ends_something_counts(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(walk_job, "FAILS", 0.1)
    counts = walk_commands.soak(short(), 400, 3, walk_job.JobSession)["happened"]
    assert counts["answer refused: not saved"] > 5
    assert counts["ended: not saved yet"]
    assert counts["copied out of trouble"]
    assert counts["taken up from disk"]
    assert counts["state-entered"]


def test_no_forged_trace_leads_to_the_drive_without_new_confirmations() -> None:
    counts = craft_traces.craft(short(), 40, 1, with_demos=False)["altogether"]
    assert counts.total() == 40
    assert counts["taken"]
    assert counts["unsafe"] > counts["taken"]


def test_no_forged_trace_would_do_so_if_nobody_had_walked_over_its_events(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("triage.app.resuming.refuse_unsafe", craft_traces.nothing_found)
    counts = craft_traces.craft(short(), 30, 2, with_demos=False)
    assert counts["altogether"]["taken"] > 15
    assert counts["came to"]["running"] + counts["came to"]["hands-in"] > 5


def test_a_no_on_the_way_to_a_check_of_any_tree_leads_nowhere_but_back() -> None:
    every_tree = prove(shipped(), 20)
    assert every_tree["refused"] > 50
    assert every_tree["step held"] > 50
    assert prove(short())["step switch-off"]
