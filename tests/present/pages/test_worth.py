"""Which checks are worth their minutes, in words, and what of that a trace keeps."""

from collections.abc import Iterator
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest

from triage.app.asking import reading_of
from triage.app.job import Job, start
from triage.app.opening import Opening
from triage.app.shop.shop_file import Shop, accuracies
from triage.knowledge.loading import load_knowledge
from triage.knowledge.models import Knowledge
from triage.knowledge.shipped import trees_folder
from triage.present.pages.costs import costs_page
from triage.present.pages.likely import likely_page
from triage.present.pages.session_page import said_lines
from triage.present.pages.worth import BEHIND, CLOSED, HOW, NOTHING_LEFT, OVER, worth_lines, worth_page
from triage.present.said.telling import told
from triage.present.steps.own_route import ENDED, NEXT, OWN
from triage.present.steps.shares import AT_ODDS, TURNED_AWAY, beside_conclusion
from triage.present.steps.views import step_view
from triage.present.steps.worth import CONTRADICTING, FIRST, OUT_OF_REACH, checks_beside
from triage.present.typing.interpreting import Typing, interpret
from triage.present.typing.results import Show
from triage.present.typing.showing import shown
from triage.record.counsel import CheckWorth, LikelyCause
from triage.record.events import AdviceGiven
from triage.record.payloads import OwnStep
from triage.record.steps import Step
from triage.record.weights import Weights
from triage.session import commands as c
from triage.session.own_route import one_more
from triage.session.state import Concluded, Finding, State
from triage.store import TraceWriter

SPIN = CheckWorth(check="spin-idler", saves_min=21.6, minutes=10.0, gain_bits=0.236)
LEAK = CheckWorth(check="fluid-leak", saves_min=0.4, minutes=2.0, gain_bits=0.0555)


@cache
def shipped() -> Knowledge:
    return load_knowledge(trees_folder())


def state(*findings: tuple[str, str], **more: object) -> State:
    found = {check: Finding(check, (outcome,), at_ms=1, who="Ann") for check, outcome in findings}
    facts: dict[str, str | float | None] = {"pulley": "decoupler"}
    return State(symptom="shutdown-buzz", gate="none", facts=facts, findings=found, **more)  # type: ignore[arg-type]


def advice(*checks: CheckWorth, **more: object) -> AdviceGiven:
    likely = (LikelyCause(cause="decoupler-bearing-worn", probability=0.8127, before=0.1),)
    given = {"at_ms": 1, "who": "reasoning", "clock_ms": 1, "boot": 1, "likely": likely, "checks": checks, **more}
    return AdviceGiven.model_validate(given)


def test_a_check_is_told_with_what_it_saves_takes_and_tells() -> None:
    first, second, losses, how = worth_lines(shipped(), state(), (SPIN, LEAK), pays=True)
    spin, leak = (shipped().checks[one.check].name for one in (SPIN, LEAK))
    assert first == f"1. {spin}: 22 min saved for 10 min; tells 0.24 bit"
    assert second == f"2. {leak}: under 1 min saved for 2 min, does not pay; tells 0.06 bit"
    assert losses.startswith("A part changed for nothing counts 120 min, a complaint that stays 300 min (from memory)")
    assert how == HOW


def test_where_no_check_pays_the_page_says_so() -> None:
    assert worth_lines(shipped(), state(), (LEAK,), pays=False)[1].startswith(
        "None of them is expected to save the minutes"
    )
    assert worth_lines(shipped(), state(), (), pays=False) == [NOTHING_LEFT]
    assert worth_lines(shipped(), state(), (LEAK,), pays=True)[1] == BEHIND
    assert worth_page(shipped(), reading_of(shipped(), state(), "worth", 0).state) == [
        FIRST
    ]  # nobody has heard the complaint yet
    assert worth_page(shipped(), state(stage="working")) == [OVER]
    assert worth_page(shipped(), state(stage="closed", closed="without-repair")) == [CLOSED]


def test_a_session_that_was_turned_away_weighs_nothing() -> None:
    away = State(symptom="shutdown-buzz", gate="hybrid", stage="closed", closed="turned-away")
    for page in (worth_page, likely_page, costs_page):
        assert page(shipped(), away) == [TURNED_AWAY]


def test_the_page_of_the_findings_so_far_names_no_running_check_before_the_looks() -> None:
    heard = state(("complaint-heard", "heard-now"), ("met-under", "warm-idle"))
    lines = worth_page(shipped(), reading_of(shipped(), heard, "worth", 0).state)
    running = [check.name for check in shipped().checks.values() if check.state.startswith("running")]
    assert len(lines) > 3
    assert not [line for line in lines for name in running if f". {name}: " in line]


@pytest.mark.parametrize(
    ("given", "line"),
    [
        (advice(LEAK, pays=False), "More checks no longer pay: none that may be made now is expected to save"),
        (advice(SPIN, pays=True), "Checks pay again. "),
        (advice(pays=False, likely=()), CONTRADICTING),
    ],
)
def test_a_turn_is_said_once_by_every_face(given: AdviceGiven, line: str) -> None:
    (said,) = told(shipped(), (given,))
    assert said.startswith(line)
    assert told(shipped(), (given.model_copy(update={"stands": "carried"}),)) == []


def concluded(**more: object) -> State:
    found = Concluded(("decoupler-clutch-seized",), "", "end", (), ())
    given = advice(*more.pop("checks", (SPIN,)), **more)  # type: ignore[misc]
    stood = LikelyCause(cause="decoupler-clutch-seized", probability=0.12, before=0.04)
    given = given.model_copy(update={"likely": (*given.likely, stood)} if given.likely else {})
    return state(concluded=found, counsel=given)


def test_a_conclusion_that_the_findings_do_not_carry_is_told_with_the_limit() -> None:
    (line,) = [line for line in beside_conclusion(shipped(), concluded(stands="not-carried")) if "carry" in line]
    assert "they make it 12 % likely; putting it right pays from 29 %" in line


def test_a_conclusion_that_the_findings_speak_against_sends_back_to_them() -> None:
    line = beside_conclusion(shipped(), concluded(stands="contradicted"))[0]
    assert line.startswith("The findings speak against this: they make it 12 % likely, and clearly likelier: ")
    assert "81 %" in line


def test_a_carried_conclusion_is_not_doubted() -> None:
    assert not [line for line in beside_conclusion(shipped(), concluded(stands="carried")) if "findings" in line]


def test_findings_that_contradict_each_other_are_told_beside_the_conclusion() -> None:
    assert beside_conclusion(shipped(), concluded(stands="at-odds", likely=())) == [AT_ODDS]


def test_beside_a_conclusion_stands_whether_one_more_check_pays() -> None:
    assert checks_beside(shipped(), concluded(pays=True))[0].startswith("One more check still pays")
    assert checks_beside(shipped(), concluded(pays=False))[0].startswith("More checks would not pay")
    assert checks_beside(shipped(), concluded()) == []


def test_a_check_that_pays_is_offered_at_the_conclusion_and_no_other() -> None:
    paying = concluded(pays=True)
    assert one_more(paying) == SPIN
    dear = SPIN.model_copy(update={"minutes": SPIN.saves_min})
    assert one_more(concluded(pays=True, checks=(dear,))) is None
    assert checks_beside(shipped(), concluded(pays=True, checks=(dear,))) == [OUT_OF_REACH]


def test_the_end_of_an_own_route_is_said_once_and_names_no_further_check() -> None:
    own = concluded(pays=True)
    assert own.concluded
    own = replace(own, concluded=replace(own.concluded, own=True), step=Step(kind="conclusion"))
    assert checks_beside(shipped(), own) == []
    assert one_more(own) is None
    view = step_view(shipped(), own)
    assert [line for line in view.lines if "pay" in line or "going on" in line] == []
    assert view.lines[0] == f"{OWN}: {ENDED}"
    assert [choice.id for choice in view.choices] == ["repair", "close"]
    assert f"{OWN}: {ENDED}" in worth_lines(shipped(), own, (SPIN,), pays=True)


def test_a_check_of_an_own_route_leaves_its_worth_to_one_page() -> None:
    own = state(
        own=(OwnStep(check=SPIN.check, minutes=13.0, saves_min=0.5),), step=Step(kind="check", check=SPIN.check)
    )
    assert step_view(shipped(), own).lines == (f"{OWN}: {NEXT}",)


def test_a_conclusion_names_what_else_to_look_at_while_the_belt_is_off() -> None:
    look = SPIN.model_copy(update={"minutes": 2.0})
    name = shipped().checks[SPIN.check].name
    line = checks_beside(shipped(), concluded(pays=False, meanwhile=(look,)))[1]
    assert line.endswith(f"Worth a look while the belt is off: {name} (22 min saved for 2 min).")


def clock() -> Iterator[int]:
    now = 1_700_000_000_000
    while True:
        now += 1000
        yield now


def job(folder: Path, weights: Weights) -> Job:
    times = clock()
    opening = Opening("shutdown-buzz", "J-1", "Ann")
    writer = TraceWriter.create(folder, "one")
    used = accuracies(shipped(), Shop())
    return start(shipped(), opening, used, "", lambda: next(times), writer, weights=weights)


def say(job: Job, *lines: str) -> list[str]:
    for line in lines:
        result = interpret(Typing(job.knowledge, job.state, job.clock(), job.who), (line,))
        assert isinstance(result, c.Command)
        said = told(job.knowledge, job.do(result))
    return said


def begun(folder: Path, weights: Weights | None = None) -> Job:
    session = job(folder, weights or Weights())
    say(session, "none", "decoupler", "unknown", "unknown")
    return session


def test_a_page_that_is_read_is_recorded_once_until_something_happens(tmp_path: Path) -> None:
    session = begun(tmp_path)
    say(session, "heard-now")
    say(session, "warm-idle")
    first = shown(session.knowledge, session.state, "worth", session.clock())
    assert first.record
    session.do(first.record)
    assert isinstance(session.events[-1], AdviceGiven)
    assert session.events[-1].asked == "worth"
    assert said_lines(session.knowledge, session.events[-1])[0].split("reasoning: ")[1].startswith("asked worth: ")
    again = shown(session.knowledge, session.state, "worth", session.clock())
    assert again == Show(first.lines)
    likely = shown(session.knowledge, session.state, "likely", session.clock())
    assert likely.record is None
    say(session, "after-shutdown")
    assert shown(session.knowledge, session.state, "likely", session.clock()).record
    session.leave()


def test_what_each_answer_would_do_is_recorded_when_it_is_read(tmp_path: Path) -> None:
    session = begun(tmp_path)
    say(session, "heard-now")
    page = shown(session.knowledge, session.state, "worth", session.clock())
    assert page.record
    session.do(page.record)
    told_of = session.state.step.check
    tell = shown(session.knowledge, session.state, "tell", session.clock())
    assert tell.record
    session.do(tell.record)
    given = session.events[-1]
    assert isinstance(given, AdviceGiven)
    assert (given.asked, given.about) == ("tell", told_of)
    assert sum(one.chance for one in given.outlooks) <= 1.001
    assert f"asked tell, {shipped().checks[told_of].name}: " in said_lines(session.knowledge, given)[0]
    assert shown(session.knowledge, session.state, "tell", session.clock()) == Show(tell.lines)
    session.leave()


def test_a_shop_that_loses_little_is_told_when_checks_pay_no_more(tmp_path: Path) -> None:
    session = begun(tmp_path, Weights(for_nothing_min=1.0, left_in_min=1.0))
    said = say(session, "heard-now")
    assert said[-1].startswith("More checks no longer pay")
    assert session.state.counsel is not None
    assert session.state.counsel.pays is False
    say(session, "warm-idle")
    assert not [line for line in say(session, "after-shutdown") if "pay" in line]
    assert step_view(session.knowledge, session.state).ask  # the step on screen stays open
    session.leave()


def test_a_replay_computes_nothing_of_it(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    session = begun(tmp_path)
    say(session, "heard-now")
    page = shown(session.knowledge, session.state, "worth", session.clock())
    assert page.record
    session.do(page.record)
    session.leave()
    monkeypatch.delattr("triage.reasoning.advice.worth.Weigher.outlook")
    assert tuple(worth_page(session.knowledge, session.state)) == page.lines
