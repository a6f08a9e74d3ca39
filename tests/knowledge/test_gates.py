"""Which checks are looks after which an engine runs or stays off."""

from triage.knowledge.gates import lets_run
from triage.knowledge.models import Knowledge


def test_what_a_hand_spins_is_no_such_look_and_every_other_closing_check_is(knowledge: Knowledge) -> None:
    closing = {one.id for one in knowledge.checks.values() if any(each.closes_running for each in one.outcomes)}
    spun = {one for one in closing if one.startswith("spin-")}
    assert spun
    assert {one.id for one in knowledge.checks.values() if lets_run(one)} == closing - spun
