"""Who is likely and why, in words."""

import re
from dataclasses import replace
from functools import cache

import pytest

from triage.app.asking import reading_of
from triage.knowledge.loading import load_knowledge
from triage.knowledge.models import Knowledge
from triage.knowledge.shipped import trees_folder
from triage.present.pages.any_moment import tell_page
from triage.present.pages.likely import HOW_FAR, likely_lines, likely_page
from triage.record.counsel import LikelyCause, Reason
from triage.record.payloads import Counsel
from triage.record.steps import Step
from triage.session.state import Concluded, Finding, State


@cache
def shipped() -> Knowledge:
    return load_knowledge(trees_folder())


def told(**findings: str) -> State:
    found = {
        check.replace("_", "-"): Finding(check.replace("_", "-"), (outcome,), at_ms=1, who="Ann")
        for check, outcome in findings.items()
    }
    return State(symptom="shutdown-buzz", facts={"pulley": "decoupler"}, findings=found)


def likely(*factors: float) -> tuple[LikelyCause, ...]:
    reasons = tuple(Reason(check="spin-decoupler-ring", factor=factor) for factor in factors)
    return (LikelyCause(cause="decoupler-bearing-worn", probability=0.8127, before=0.1, reasons=reasons),)


@pytest.mark.parametrize(
    ("factor", "words"),
    [
        (12.0, "strongly for it, odds × 12: "),
        (4.0, "for it, odds × 4: "),
        (1.5, "a little for it, odds × 1.5: "),
        (0.5, "a little against it, odds ÷ 2: "),
        (0.25, "against it, odds ÷ 4: "),
        (0.05, "strongly against it, odds ÷ 20: "),
        (0.0, "ruled out by: "),
    ],
)
def test_a_factor_is_told_in_words_and_as_a_figure(factor: float, words: str) -> None:
    state = told(spin_decoupler_ring="rough")
    first, reason, last = likely_lines(shipped(), state, likely(factor))
    name = shipped().causes["decoupler-bearing-worn"].name
    assert first == f"{name}: 81 % likely; 10 % before anything was known"
    assert reason.startswith(f"  {words}{shipped().checks['spin-decoupler-ring'].name}: ")
    assert last == HOW_FAR


def test_what_says_nearly_nothing_is_left_out() -> None:
    assert len(likely_lines(shipped(), told(spin_decoupler_ring="rough"), likely(1.05, 0.95))) == 2


def test_before_a_conclusion_the_page_speaks_of_the_findings_so_far() -> None:
    lines = likely_page(shipped(), reading_of(shipped(), told(spin_decoupler_ring="rough"), "likely", 0).state)
    assert lines[0].startswith(shipped().causes["decoupler-bearing-worn"].name)
    assert any("to have made the complaint" in line for line in lines)


def test_after_a_conclusion_the_page_reads_what_was_recorded() -> None:
    concluded = Concluded((), "undecided", "end", (), ())
    state = replace(told(), concluded=concluded, counsel=Counsel(likely=likely()))
    assert likely_page(shipped(), state)[0].endswith("81 % likely; 10 % before anything was known")


def test_findings_that_contradict_each_other_are_said_so() -> None:
    state = told(decoupler_drive_feel="slips", clutch_drive_feel="holds")
    assert "contradict" in likely_page(shipped(), reading_of(shipped(), state, "likely", 0).state)[0]


def test_each_answer_to_a_check_says_what_it_would_make_likely() -> None:
    state = replace(told(), step=Step(kind="check", check="spin-decoupler-ring"))
    page = tell_page(shipped(), reading_of(shipped(), state, "tell", 0).state)
    smooth, rough = (next(row for row in page if words in row) for words in ("Smooth", "ough"))
    assert len(page) == len(shipped().checks["spin-decoupler-ring"].outcomes)
    name = shipped().causes["decoupler-bearing-worn"].name
    assert re.search(rf"To be expected: \d+ %\. Likeliest then: {name}, \d+ % \(now \d+ %\)$", rough)
    assert "To be expected: " in smooth
