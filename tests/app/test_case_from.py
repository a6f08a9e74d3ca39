"""A session written as a case walks to the same findings and conclusion."""

from dataclasses import replace
from itertools import count
from pathlib import Path

import pytest

from tests.conftest import Silent
from triage.app.case_from import case_of, case_text
from triage.app.case_walked import differences
from triage.app.cases import Case, Recorded, read_cases, walk_case
from triage.app.job import Job, start
from triage.app.opening import Opening
from triage.app.shop.shop_file import Shop, accuracies
from triage.cli.main import run
from triage.errors import EXIT_DISAGREES, EXIT_OK, CommandRefused
from triage.knowledge.models import Knowledge
from triage.knowledge.shipped import demos_folder, trees_folder
from triage.session import commands as c
from triage.session.state import Finding
from triage.store import TraceWriter

STIFF = """- id: first
  symptom: shutdown-buzz
  vehicle: {cylinders: 4, specified_pulley: decoupler, odometer: 95k miles}
  findings: {shutdown-listen: about 7 s, overrun-torque: 25 in-lb, cap-contents: metal-shavings}
"""


@pytest.mark.parametrize("symptom", ["belt-chirp", "low-charge", "slip-on-deceleration", "tensioner-flutter"])
def test_what_was_walked_is_walked_again(knowledge: Knowledge, tmp_path: Path, symptom: str) -> None:
    for case in read_cases(trees_folder() / "cases" / f"{symptom}.yaml", knowledge)[::9]:
        first, job = walk_case(knowledge, case, accuracies(knowledge, Shop()))
        file = tmp_path / f"{case.id}.yaml"
        file.write_text(case_text(knowledge, job.state, case.id), "utf-8")
        (again,) = read_cases(file, knowledge)
        second, walked = walk_case(knowledge, again, accuracies(knowledge, Shop()))
        assert second.concluded == first.concluded, case.id
        found = {check: one.outcomes for check, one in walked.state.findings.items() if one.outcomes}
        assert found == {check: one.outcomes for check, one in job.state.findings.items() if one.outcomes}, case.id


def kept(knowledge: Knowledge, folder: Path, *, asks_for: str = "") -> Path:
    """A trace of a stiff pulley's session on disk, in which somebody may have asked for a check of his own first."""
    (case,) = build_case(knowledge, folder)
    times, answers, asked = count(0, 1000), Recorded(case), not asks_for
    opening = Opening(symptom=case.symptom, job="R-7", who="Kim")
    writer = TraceWriter.create(folder, "job")
    job = start(knowledge, opening, accuracies(knowledge, Shop()), "", lambda: next(times), writer, adviser=Silent())
    while (command := answers.answer(knowledge, job.state, next(times))) is not None:
        if not asked and job.state.step.kind in ("check", "round"):
            command, asked = c.AskFor(at_ms=next(times), who="Kim", check=asks_for), True
        job.do(command)
    assert asked
    job.leave()
    return folder / "job.jsonl"


def build_case(knowledge: Knowledge, folder: Path) -> tuple[Case, ...]:
    file = folder / "first.yaml"
    file.write_text(STIFF, "utf-8")
    return read_cases(file, knowledge)


def test_the_command_writes_one_that_agrees_and_leaves_the_session_as_it_is(
    knowledge: Knowledge, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    trace, out = kept(knowledge, tmp_path), tmp_path / "case.yaml"
    before = trace.read_bytes()
    assert run(["cases", "from", str(trace), "--name", "demo", "--out", str(out)]) == EXIT_OK
    text = out.read_text("utf-8")
    assert "id: demo" in text
    assert "decoupler-bearing-worn" in text
    assert "Kim" not in text
    assert "R-7" not in text
    assert trace.read_bytes() == before
    assert run(["cases", str(out)]) == EXIT_OK
    assert "1 of 1 agree." in capsys.readouterr().out


def test_a_session_with_a_check_that_the_tree_does_not_come_to_is_not_written(
    knowledge: Knowledge, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    trace, out = kept(knowledge, tmp_path, asks_for="battery-tester"), tmp_path / "case.yaml"
    assert run(["cases", "from", str(trace), "--out", str(out)]) == EXIT_DISAGREES
    shown = capsys.readouterr().err
    name = knowledge.checks["battery-tester"].name
    assert "No case was written" in shown
    assert f"{name}: " in shown
    assert not out.exists()


def test_a_session_along_trees_that_have_changed_is_not_written_and_what_differs_is_named(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out = tmp_path / "case.yaml"
    assert run(["cases", "from", str(demos_folder() / "binding-clutch.jsonl"), "--out", str(out)]) == EXIT_DISAGREES
    assert "Conclusion: Pulley does not overrun freely in the session, no cause in the case." in capsys.readouterr().err
    assert not out.exists()


def test_what_a_case_leaves_out_is_the_difference(knowledge: Knowledge, tmp_path: Path) -> None:
    instruments = accuracies(knowledge, Shop())
    (case,) = build_case(knowledge, tmp_path)
    _, job = walk_case(knowledge, case, instruments, adviser=Silent())
    made = case_of(knowledge, job.state, "made")
    assert differences(knowledge, made, job.state, instruments, Silent()) == ()
    del made["findings"]["shutdown-listen"]
    unlike = differences(knowledge, made, job.state, instruments, Silent())
    assert "shutdown-listen" in {one.check for one in unlike}


def test_a_reading_too_close_to_tell_is_refused_in_words(knowledge: Knowledge, job: Job) -> None:
    close = Finding("overrun-torque", ("",), at_ms=0, who="Ana")
    state = replace(job.state, findings={"overrun-torque": close})
    made = case_of(knowledge, state, "made")
    with pytest.raises(CommandRefused, match="too close to tell"):
        differences(knowledge, made, state, accuracies(knowledge, Shop()), Silent())
