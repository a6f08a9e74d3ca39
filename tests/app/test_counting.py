"""What a recorded case asks of a technician."""

from pathlib import Path

from triage.app.cases import read_cases, walk_case
from triage.app.counting import engine_starts, goes, minutes_with_changes
from triage.app.shop.shop_file import Shop, accuracies
from triage.knowledge.models import Knowledge
from triage.knowledge.shipped import trees_folder


def test_what_is_set_up_for_a_run_is_set_up_before_the_look_that_opens_it(knowledge: Knowledge) -> None:
    cases = read_cases(Path(trees_folder()) / "cases" / "low-charge.yaml", knowledge)
    case = next(case for case in cases if case.id == "low-cable")
    walked, job = walk_case(knowledge, case, accuracies(knowledge, Shop()))
    runs = [go for go in goes(job.events) if "belt-tracking" in go]
    assert len(runs) == engine_starts(job.events)
    assert runs[-1][:2] == ["belt-tracking", "charging-circuit"]
    assert walked.counts.minutes_with_changes == minutes_with_changes(knowledge, job.events)
