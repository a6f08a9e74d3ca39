"""The card of what is confirmed, as every face shows it."""

from typing import Any

import pytest

from triage.app.job import Job, start
from triage.app.opening import Opening
from triage.app.respondent import Respondent
from triage.knowledge.loading import load_knowledge
from triage.knowledge.models import Knowledge
from triage.knowledge.shipped import trees_folder
from triage.present.pages.session_page import happened_lines
from triage.present.pages.why import why_page
from triage.present.steps.views import step_view
from triage.session import commands as c

SECOND_MS = 1000


class Bench:
    """A session in which everything is normal, answered a few seconds apart."""

    def __init__(self, knowledge: Knowledge, symptom: str) -> None:
        self.now_ms = 1_772_448_000_000
        self.job: Job = start(knowledge, Opening(symptom, "R-1", "Ana"), {}, "", lambda: self.now_ms, None)

    def do(self, kind: type[c.Command], **given: Any) -> None:
        self.now_ms += 5 * SECOND_MS
        self.job.do(kind(at_ms=self.now_ms, who=Respondent.who, **given))

    def until(self, kind: str, state: str = "") -> "Bench":
        while self.job.state.step.kind != kind or state not in ("", self.job.state.step.state):
            self.now_ms += 5 * SECOND_MS
            command = Respondent().answer(self.job.knowledge, self.job.state, self.now_ms)
            assert command is not None
            self.job.do(command)
        return self


@pytest.fixture
def card() -> Bench:
    """At the first card of a session."""
    return Bench(load_knowledge(trees_folder()), "belt-chirp").until("confirm")


def test_a_card_has_a_line_for_each_thing_with_its_own_number(card: Bench) -> None:
    view = step_view(card.job.knowledge, card.job.state)
    assert view.title == "MAKE SAFE: 4 of 4 open"
    assert [choice.id for choice in view.choices] == list(card.job.state.step.lines)
    assert all(choice.words.startswith("[ ] ") for choice in view.choices)
    assert "each by itself" in view.ask


def test_a_card_names_the_tools_of_its_check_before_anything_is_made_safe_for_it(card: Bench) -> None:
    card.until("check")
    while (
        not card.job.state.step.check
        or not card.job.knowledge.checks[card.job.state.step.check].tools
        or card.job.state.step.kind != "confirm"
    ):
        command = Respondent().answer(card.job.knowledge, card.job.state, card.now_ms)
        assert command is not None
        card.job.do(command)
    check = card.job.knowledge.checks[card.job.state.step.check]
    (needed,) = (line for line in step_view(card.job.knowledge, card.job.state).lines if line.startswith("Needed for"))
    assert card.job.knowledge.tools[check.tools[0]].name in needed
    assert needed.endswith('Not there? "cannot".')


def test_a_line_that_was_pressed_keeps_its_number_and_says_so(card: Bench) -> None:
    card.do(c.Confirm, confirmation=card.job.state.step.lines[2])
    view = step_view(card.job.knowledge, card.job.state)
    assert view.title == "MAKE SAFE: 3 of 4 open"
    assert [choice.words[:4] for choice in view.choices] == ["[ ] ", "[ ] ", "[x] ", "[ ] "]


def test_how_one_behaves_is_shown_where_it_applies_and_not_asked(card: Bench) -> None:
    shown = set(card.job.knowledge.states["stopped"].shown.values())
    assert not shown & {choice.words for choice in step_view(card.job.knowledge, card.job.state).choices}
    assert shown <= set(step_view(card.job.knowledge, card.until("check", "stopped").job.state).facts)


def test_after_a_no_hands_go_out_before_it_is_asked_why(card: Bench) -> None:
    card.do(c.RefuseConfirmation, confirmation=card.job.state.step.lines[0])
    view = step_view(card.job.knowledge, card.job.state)
    assert view.title == "HANDS OUT"
    assert "Nobody goes in" in view.warnings[0]
    assert view.ask.startswith("Which of these is not so, and why?")


def test_the_page_says_what_was_confirmed_and_what_was_answered_too_fast(card: Bench) -> None:
    line = card.job.state.step.lines[0]
    card.do(c.Confirm, confirmation=line)
    card.now_ms -= 4 * SECOND_MS
    card.do(c.Confirm, confirmation=card.job.state.step.lines[1])
    lines = happened_lines(card.job.knowledge, card.job.events)
    assert any(f"confirmed: {card.job.knowledge.confirmations[line].ask}" in one for one in lines)
    assert sum("[answered faster than anybody reads it]" in one for one in lines) == 1


def test_why_says_of_each_line_what_it_guards_against(card: Bench) -> None:
    page = why_page(card.job.knowledge, card.job.state)
    assert len(page) == 2 * len(card.job.state.step.lines)


def test_a_run_with_its_belt_says_until_when_it_may_last() -> None:
    bench = Bench(load_knowledge(trees_folder()), "shutdown-buzz").until("check", "running")
    view = step_view(bench.job.knowledge, bench.job.state)
    assert 0 < view.until_ms - bench.now_ms <= 15 * 60 * SECOND_MS
