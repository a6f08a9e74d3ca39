"""The line takes exactly what was typed, in the order of typing, and nothing that cannot be shown."""

from typing import Any

import pytest
from textual import events
from textual.app import App, ComposeResult

from triage.tui.answer_line import LONGEST_LINE, AnswerLine


class OneLine(App[None]):
    def __init__(self) -> None:
        super().__init__()
        self.given: list[str] = []
        self.refused: list[str] = []

    def compose(self) -> ComposeResult:
        yield AnswerLine()

    def on_answer_line_given(self, event: AnswerLine.Given) -> None:
        self.given.append(event.text)

    def on_answer_line_refused(self, event: AnswerLine.Refused) -> None:
        self.refused.append(event.why)


def press(app: App[Any], *keys: str) -> None:
    for key in keys:
        app.post_message(events.Key(key, key if len(key) == 1 else None))


async def test_lines_of_a_burst_do_not_run_into_each_other(bench: Any) -> None:
    app = OneLine()
    async with app.run_test() as pilot:
        bench.burst(app, "ab", "cd", "1.5 V", "")
        await bench.settle(pilot)
    assert app.given == ["ab", "cd", "1.5 V", ""]


async def test_editing_in_a_burst_happens_where_it_was_typed(bench: Any) -> None:
    app = OneLine()
    async with app.run_test() as pilot:
        press(app, "1", "2", "backspace", "3", "enter")
        press(app, "9", "ctrl+u", "7", "left", "6", "end", "5", "enter")
        await bench.settle(pilot)
    assert app.given == ["13", "675"]


async def test_a_pasted_line_is_taken_and_anything_else_refused_whole(bench: Any) -> None:
    app = OneLine()
    async with app.run_test() as pilot:
        for text in ("12 V\n", "two\nlines", "clear\x1b[2J", "turned\u202e", "x" * (LONGEST_LINE + 1)):
            app.post_message(events.Paste(text))
        press(app, "enter")
        await bench.settle(pilot)
    assert app.given == ["12 V"]
    assert len(app.refused) == 4


@pytest.mark.parametrize("letter", ["\u202e", "\u200b", "\x9b", "\ufeff"])
async def test_signs_that_are_not_seen_cannot_be_typed(bench: Any, letter: str) -> None:
    app = OneLine()
    async with app.run_test() as pilot:
        press(app, "a", letter, "b", "enter")
        await bench.settle(pilot)
    assert app.given == ["ab"]


async def test_nineteen_digits_and_a_letter_are_a_line_like_any_other(bench: Any) -> None:
    app = OneLine()
    async with app.run_test() as pilot:
        bench.burst(app, "1234567890123456789e")
        await bench.settle(pilot)
    assert app.given == ["1234567890123456789e"]
