"""A digit that answers by itself: only what was pressed for the step on screen, and never a run of steps."""

from typing import Any

import pytest
from textual import events

from triage.present.read_first import MOMENT_S
from triage.tui.answer_line import AnswerLine
from triage.tui.one_key import AGAIN_S, OneKey, Pressed, pressed_in

SHOWN_S = 100.0
LATER_S = SHOWN_S + MOMENT_S


@pytest.fixture
def one_key() -> OneKey:
    """Three answers that were painted at `SHOWN_S`."""
    offered = OneKey()
    offered.offer(3, SHOWN_S)
    return offered


@pytest.mark.parametrize(("at_s", "takes"), [(SHOWN_S - 1, False), (LATER_S - 0.01, False), (LATER_S, True)])
def test_a_digit_answers_once_its_answers_have_stood_for_a_moment(one_key: OneKey, at_s: float, takes: bool) -> None:
    assert one_key.takes("2", at_s, Pressed()) is takes


@pytest.mark.parametrize("digit", ["4", "9"])
def test_a_digit_that_names_no_answer_is_text(one_key: OneKey, digit: str) -> None:
    assert not one_key.takes(digit, LATER_S, Pressed())


def test_what_is_offered_again_has_stood_there_all_the_time(one_key: OneKey) -> None:
    for _ in range(2):
        one_key.withdraw()
    assert not one_key.was_read(LATER_S)
    one_key.restore()
    assert one_key.was_read(LATER_S)
    one_key.forget()
    one_key.withdraw()
    one_key.restore()
    assert not one_key.was_read(LATER_S + 60)


def test_ten_answers_and_more_take_no_digit_by_itself(one_key: OneKey) -> None:
    one_key.offer(10, SHOWN_S)
    assert not one_key.takes("1", LATER_S, Pressed())


def test_what_was_withdrawn_answers_nothing(one_key: OneKey) -> None:
    one_key.withdraw()
    assert not one_key.takes("1", LATER_S, Pressed())


@pytest.mark.parametrize("first_repeat_s", [0.2, 0.5, 0.66, 1.0])
def test_a_key_held_down_answers_no_second_step(one_key: OneKey, first_repeat_s: float) -> None:
    """Every step is painted at once here, so that only the key's own pauses protect it."""
    pressed, at_s, answered = Pressed(), LATER_S, 0
    for gap_s in (first_repeat_s, *(0.03,) * 200):
        if one_key.takes("1", at_s, pressed):
            answered += 1
            one_key.offer(3, at_s)
        at_s += gap_s
    assert answered == 1


def test_the_same_digit_answers_the_next_step_after_a_pause(one_key: OneKey) -> None:
    pressed = Pressed()
    assert one_key.takes("1", LATER_S, pressed)
    one_key.offer(3, LATER_S)
    assert one_key.takes("1", LATER_S + AGAIN_S, pressed)


async def at_first_check(bench: Any, pilot: Any) -> AnswerLine:
    """Open a session and answer what comes before its first check."""
    await bench.open_session(pilot)
    await bench.type(pilot, "1", "4", "unknown", "4")
    assert bench.job.state.step.check == "complaint-heard"
    rest(pilot.app)
    line: AnswerLine = pilot.app.screen.query_one(AnswerLine)
    return line


def rest(app: Any) -> None:
    """Let so much time pass that no key pressed before counts any more."""
    pressed = pressed_in(app)
    pressed.last_s.clear()
    pressed.answered_s = -AGAIN_S


def press(app: Any, keys: str, after_s: float, apart_s: float = 0.0) -> None:
    """Press keys so long after the answers were painted, as the terminal would stamp them."""
    line = app.screen.query_one(AnswerLine)
    for place, letter in enumerate(keys):
        key = events.Key("enter", "\r") if letter == "\n" else events.Key(letter, letter)
        key.time = line._one_key._painted_s + after_s + place * apart_s
        app.post_message(key)


async def test_one_key_answers_a_check(bench: Any) -> None:
    async with bench.app().run_test(size=(80, 24)) as pilot:
        line = await at_first_check(bench, pilot)
        press(pilot.app, "1", 3.0)
        await bench.settle(pilot)
        assert bench.job.state.findings["complaint-heard"].outcomes == ("heard-now",)
        assert line.value == ""


async def test_a_digit_that_comes_too_soon_waits_for_enter_and_says_what_it_would_answer(bench: Any) -> None:
    async with bench.app().run_test(size=(80, 24)) as pilot:
        line = await at_first_check(bench, pilot)
        press(pilot.app, "1", 0.1)
        await bench.settle(pilot)
        assert not bench.job.state.findings
        assert line.value == "1"
        words = bench.knowledge.checks["complaint-heard"].outcomes[0].words
        assert f"Enter: {words[:20]}" in bench.painted(pilot.app)
        press(pilot.app, "\n", 0.2)
        await bench.settle(pilot)
        assert bench.job.state.findings["complaint-heard"].outcomes == ("heard-now",)


@pytest.mark.parametrize("after_s", [0.1, 3.0])
async def test_digits_in_a_burst_answer_one_step_at_most(bench: Any, after_s: float) -> None:
    async with bench.app().run_test(size=(80, 24)) as pilot:
        line = await at_first_check(bench, pilot)
        press(pilot.app, "111", after_s)
        await bench.settle(pilot)
        assert len(bench.job.state.findings) == (1 if after_s > MOMENT_S else 0)
        assert line.value == ("11" if after_s > MOMENT_S else "111")


@pytest.mark.parametrize("after_s", [0.1, 3.0])
@pytest.mark.parametrize("apart_s", [0.0, 0.05, 0.5])
async def test_lines_typed_ahead_say_exactly_what_was_typed(bench: Any, after_s: float, apart_s: float) -> None:
    async with bench.app().run_test(size=(80, 24)) as pilot:
        line = await at_first_check(bench, pilot)
        press(pilot.app, "1\n2\n", after_s, apart_s)
        await bench.settle(pilot)
        told = [(finding.check, finding.outcomes) for finding in bench.job.state.told]
        first, second = (bench.knowledge.checks[check] for check, _ in told)
        assert told == [(first.id, (first.outcomes[0].id,)), (second.id, (second.outcomes[1].id,))]
        assert line.value == ""


async def test_a_digit_typed_for_the_shell_does_not_answer_when_the_program_comes_back(bench: Any) -> None:
    async with bench.app().run_test(size=(80, 24)) as pilot:
        line = await at_first_check(bench, pilot)
        before_s = line._one_key._painted_s
        await pilot.pause(0.01)
        pilot.app.app_resume_signal.publish(pilot.app)
        await bench.settle(pilot)
        assert line._one_key._painted_s > before_s
        press(pilot.app, "1", 0.1)
        await bench.settle(pilot)
        assert (line.value, bench.job.state.findings) == ("1", {})


async def test_a_pasted_digit_waits_for_enter(bench: Any) -> None:
    async with bench.app().run_test(size=(80, 24)) as pilot:
        line = await at_first_check(bench, pilot)
        pilot.app.post_message(events.Paste("1"))
        await bench.settle(pilot)
        assert (line.value, bench.job.state.findings) == ("1", {})


async def test_no_single_key_passes_the_first_question_or_an_interlock(bench: Any) -> None:
    async with bench.app().run_test(size=(80, 24)) as pilot:
        await bench.open_session(pilot)
        press(pilot.app, "1", 60.0)
        await bench.settle(pilot)
        assert bench.job.state.step.kind == "gate"
        await bench.type(pilot, "")
        await bench.type(pilot, "4", "unknown", "4", "1", "1", "1", "1")
        assert bench.job.state.step.kind == "confirm"
        before = bench.job.state.step
        press(pilot.app, "1", 60.0)
        await bench.settle(pilot)
        assert bench.job.state.step == before
        assert not bench.job.state.standing
        line = bench.knowledge.confirmations[before.lines[0]]
        assert f"Enter: [ ] {line.ask[:40]}" in bench.painted(pilot.app)
        await bench.type(pilot, "")
        assert list(bench.job.state.standing) == [line.id]


async def test_confirmations_typed_ahead_are_dropped_until_each_has_been_seen(bench: Any) -> None:
    job = bench.lived_to(lambda step: step.kind == "confirm")
    async with bench.app().run_test(size=(80, 24)) as pilot:
        await bench.started(pilot)
        await bench.enter(pilot, job)
        before = bench.job.state.step
        bench.burst(pilot.app, "1", "2", "no")
        for _ in range(5):
            await bench.settle(pilot)
        assert bench.job.state.step == before
        assert not bench.job.state.standing
        assert "Look, then answer." in " ".join(bench.painted(pilot.app).split())
        await bench.type(pilot, "1")
        assert list(bench.job.state.standing) == [before.lines[0]]


async def test_words_typed_ahead_at_an_interlock_are_taken(bench: Any) -> None:
    job = bench.lived_to(lambda step: step.kind == "confirm")
    before = job.state.step
    async with bench.app().run_test(size=(80, 24)) as pilot:
        await bench.started(pilot)
        await bench.enter(pilot, job)
        bench.burst(pilot.app, "note", "y", "y")
        for _ in range(5):
            await bench.settle(pilot)
        assert bench.notes == ["y"]
        assert bench.job.state.step == before


async def test_a_digit_begins_a_reading_where_one_is_asked_for(bench: Any) -> None:
    job = bench.lived_to(lambda step: (step.kind, step.check) == ("check", "shutdown-listen"), case="buzz-timed-only")
    async with bench.app().run_test(size=(80, 24)) as pilot:
        await bench.started(pilot)
        await bench.enter(pilot, job)
        assert "Reading in s, or #1 to #5, then Enter" in bench.painted(pilot.app)
        press(pilot.app, "1", 60.0)
        await bench.settle(pilot)
        assert pilot.app.screen.query_one(AnswerLine).value == "1"
        assert not bench.job.state.findings.get(bench.job.state.step.check)


async def test_a_number_that_is_an_answer_too_is_asked_back_on_the_screen_and_answered_there(bench: Any) -> None:
    job = bench.lived_to(lambda step: (step.kind, step.check) == ("check", "shutdown-listen"), case="buzz-timed-only")
    check = job.state.step.check
    async with bench.app().run_test(size=(80, 24)) as pilot:
        await bench.started(pilot)
        await bench.enter(pilot, job)
        await bench.type(pilot, "1")
        assert "1 s, or answer 1" in bench.painted(pilot.app)
        assert check not in bench.job.state.findings
        await bench.type(pilot, "#1")
        assert bench.job.state.findings[check].outcomes == (bench.knowledge.checks[check].outcomes[0].id,)


async def test_enter_behind_a_digit_does_not_close_the_page_that_the_digit_opened(bench: Any) -> None:
    async with bench.app().run_test(size=(80, 24)) as pilot:
        await bench.started(pilot)
        press(pilot.app, "4", 3.0)
        await bench.settle(pilot)
        assert "Walk a tree without a vehicle" in bench.painted(pilot.app)
        enter = events.Key("enter", "\r")
        enter.time = pilot.app.screen.query_one(AnswerLine)._one_key._painted_s + 0.1
        pilot.app.post_message(enter)
        await bench.settle(pilot)
        assert "Walk a tree without a vehicle" in bench.painted(pilot.app)
