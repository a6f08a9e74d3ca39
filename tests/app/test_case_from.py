"""A session written as a case walks to the same findings and conclusion."""

from pathlib import Path

import pytest

from triage.app.case_from import case_text
from triage.app.cases import read_cases, walk_case
from triage.app.shop.shop_file import Shop, accuracies
from triage.cli.main import run
from triage.errors import EXIT_OK
from triage.knowledge.models import Knowledge
from triage.knowledge.shipped import demos_folder, trees_folder


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


def test_the_command_writes_one_from_a_saved_session(tmp_path: Path) -> None:
    out = tmp_path / "case.yaml"
    assert (
        run(["cases", "from", str(demos_folder() / "worn-bearing.jsonl"), "--name", "demo", "--out", str(out)])
        == EXIT_OK
    )
    text = out.read_text("utf-8")
    assert "id: demo" in text
    assert "decoupler-bearing-worn" in text
    assert "Ana" not in text
