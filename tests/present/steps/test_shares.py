"""What stands beside a conclusion."""

from functools import cache

from triage.knowledge.loading import load_knowledge
from triage.knowledge.models import Knowledge
from triage.knowledge.shipped import trees_folder
from triage.present.steps.shares import beside_conclusion
from triage.record.counsel import LikelyCause
from triage.record.payloads import Counsel
from triage.session.state import Concluded, State


@cache
def shipped() -> Knowledge:
    return load_knowledge(trees_folder())


def beside(*causes: str, **shares: float) -> list[str]:
    advice = tuple(
        LikelyCause(cause=cause.replace("_", "-"), probability=share, before=0.1) for cause, share in shares.items()
    )
    return beside_conclusion(
        shipped(), State(concluded=Concluded(causes, "", "c", (), ()), counsel=Counsel(likely=advice))
    )


def test_a_conclusion_that_its_findings_carry_needs_no_word() -> None:
    assert beside("idler-bearing-worn", idler_bearing_worn=0.93, belt_worn=0.12) == []


def test_another_cause_that_is_likely_enough_is_named_for_the_same_work() -> None:
    (line,) = beside("idler-bearing-worn", idler_bearing_worn=0.93, belt_worn=0.31)
    assert line == "Also likely enough to look at in the same work: Belt worn (31 %)."


def test_a_conclusion_that_its_findings_do_not_carry_is_said_so() -> None:
    first, second = beside("idler-bearing-worn", belt_worn=0.6, idler_bearing_worn=0.04)
    assert first == "The findings do not carry this: they make it 4 % likely. Likeliest by them: Belt worn, 60 %."
    assert "Belt worn (60 %)" in second


def test_an_end_without_a_cause_still_names_what_is_likely() -> None:
    (line,) = beside(belt_worn=0.6)
    assert "Belt worn (60 %)" in line


def test_without_advice_nothing_is_said() -> None:
    assert beside("idler-bearing-worn") == []
    assert beside_conclusion(shipped(), State()) == []


def test_what_is_there_without_having_made_the_complaint_is_put_right_all_the_same() -> None:
    advice = (
        LikelyCause(cause="belt-worn", probability=0.6, present=0.7, before=0.1),
        LikelyCause(cause="idler-bearing-worn", probability=0.04, present=0.95, before=0.1),
    )
    state = State(concluded=Concluded(("idler-bearing-worn",), "", "c", (), ()), counsel=Counsel(likely=advice))
    first, second = beside_conclusion(shipped(), state)
    assert first.startswith("It is likely there (95 %) and is put right in any case, but the findings make it only 4 %")
    assert "Belt worn (70 %)" in second
