"""Whole sessions through the full screen, at the sizes that it must serve."""

import asyncio
from collections.abc import Awaitable, Callable, Iterable
from typing import Any

import pytest
from hands import lines_for
from textual import events

from triage.app.cases import Case, read_cases, walk_case
from triage.app.opening import Opening
from triage.app.respondent import Respondent
from triage.app.resuming import resume
from triage.app.shop.shop_file import Shop, accuracies
from triage.chat.lines import InputEndedError
from triage.chat.talk import Talk
from triage.knowledge.models import Knowledge
from triage.knowledge.shipped import trees_folder
from triage.present.steps.views import step_view
from triage.record.events import SessionClosed
from triage.record.steps import Step
from triage.tui.answer_line import AnswerLine
from triage.tui.pages.reader import Reader
from triage.tui.session.conversation import Conversation
from triage.tui.session.session_screen import SessionScreen
from triage.tui.session.side import Side
from triage.tui.session.step_panel import StepPanel

SIZES = [(60, 20), (80, 24), (120, 40)]
SYMPTOMS = ("bearing-rumble", "belt-squeal")
"""One that ends with a cause and one that does not; the chat goes through all."""


def one_case(knowledge: Knowledge, symptom: str, name: str = "") -> Case:
    """A recorded case by its name, the first one without a name."""
    cases = read_cases(trees_folder() / "cases" / f"{symptom}.yaml", knowledge)
    return next(case for case in cases if name in ("", case.id))


def squeezed(text: str) -> str:
    """Text without the folds, borders and blanks that a screen puts into it."""
    return "".join(text.translate(dict.fromkeys(map(ord, "│║┃╔╗╚╝═╭╮╰╯─┏┓┗┛━▁▂▃▄▅▆▇█"))).split())


def never(_step: Step) -> bool:
    return False


async def no_look() -> None:
    """Nobody looks."""


async def walk(
    bench: Any,
    pilot: Any,
    case: Case,
    look: Callable[[], Awaitable[None]] = no_look,
    until: Callable[[Step], bool] = never,
) -> tuple[str, ...]:
    """Type a case's lines until the tree concludes or a step is reached."""
    typed: list[str] = []
    for _ in range(400):
        step, happened = bench.job.state.step, bench.job.state.events
        lines = bench.lines_for(case, bench.job)
        if not lines or until(step):
            return tuple(typed)
        await look()
        await bench.type(pilot, *lines)
        # A card stays until every line of it is pressed.
        assert bench.job.state.events > happened, f"{lines} did not move {step}\n{bench.painted(pilot.app)}"
        typed += lines
    raise AssertionError("the case does not end")


async def test_question_answers_and_hazard_of_every_step_are_in_view(bench: Any, knowledge: Knowledge) -> None:
    """All of them at the smallest size, and one of each kind at the others."""
    seen = set()
    case = one_case(knowledge, "shutdown-buzz")
    async with bench.app().run_test(size=SIZES[0]) as pilot:
        await bench.open_session(pilot)

        def painted_step() -> str:
            edge = pilot.app.screen.query_one(StepPanel).region.right
            return squeezed("".join(row[:edge] for row in bench.painted(pilot.app).split("\n")[1:]))

        async def in_view() -> None:
            view = step_view(knowledge, bench.job.state)
            painted = painted_step()
            # A long round is read page by page; its head and how it goes on are there at once.
            for _ in range(8 if bench.job.state.step.kind == "round" else 0):
                await pilot.press("pagedown")
                await bench.settle(pilot)
                painted += painted_step()
            wanted = [view.ask, *(choice.words for choice in view.choices), view.title, *view.warnings[:1]]
            for text in wanted:
                assert squeezed(text) in painted, f"{text}\n{bench.painted(pilot.app)}"

        async def look() -> None:
            await in_view()
            kind = bench.job.state.step.kind
            if kind not in seen:
                seen.add(kind)
                for size in (*SIZES[1:], SIZES[0]):
                    await pilot.resize_terminal(*size)
                    await bench.settle(pilot)
                    await in_view()

        await walk(bench, pilot, case, look)
    assert seen >= {"gate", "fact", "confirm", "check"}


class Typed:
    """Lines of a script, for the chat."""

    ahead = False

    def __init__(self, lines: tuple[str, ...]) -> None:
        self._lines = list(lines)

    def read(self, _prompt: str, waiting: Callable[[], bool]) -> str:
        waiting()
        if not self._lines:
            raise InputEndedError
        return self._lines.pop(0)

    def say(self, text: str) -> None:
        pass


@pytest.mark.parametrize("symptom", SYMPTOMS)
async def test_full_screen_chat_and_case_runner_write_the_same_events(
    bench: Any, knowledge: Knowledge, compare: Any, symptom: str
) -> None:
    case = one_case(knowledge, symptom)
    async with bench.app().run_test(size=(80, 24)) as pilot:
        await bench.open_session(pilot, symptom=symptom)
        typed = await walk(bench, pilot, case)
        on_screen = list(compare(bench.job.events))
        assert bench.job.state.step.kind == "conclusion"
    in_chat = bench.begin(knowledge, Opening(symptom=symptom, job="J-1", who="Ada"))
    Talk(in_chat, Typed(typed), lambda: 0.0).run()
    assert list(compare(in_chat.events)) == on_screen
    _, walked = walk_case(knowledge, case, accuracies(knowledge, Shop()))
    assert worked_alike(compare(walked.events)) == worked_alike(on_screen)


def worked_alike(events: Iterable[dict[str, Any]]) -> list[dict[str, Any]]:
    """What a recorded case writes as well: without names, and without advice on the way, which nobody would read there.

    The advice at the conclusion, the last one, is compared.
    """
    written = [{**event, "name": ""} if "name" in event else event for event in events]
    last = max(place for place, event in enumerate(written) if event["kind"] == "advice-given")
    return [event for place, event in enumerate(written) if place == last or event["kind"] != "advice-given"]


async def test_a_session_is_lived_through_to_its_signature(bench: Any, knowledge: Knowledge) -> None:
    job = bench.lived(one_case(knowledge, "shutdown-buzz"), lambda step: step.kind == "conclusion")
    async with bench.app().run_test(size=(80, 24)) as pilot:
        await bench.started(pilot)
        pilot.app.push_screen(SessionScreen(job))
        await bench.settle(pilot)
        await bench.type(pilot, "1")
        for _ in range(400):
            step = bench.job.state.step
            if step.kind == "closed":
                break
            await pilot.press("pagedown", "pagedown")
            await bench.settle(pilot)
            answers = {"torque": ("part's sheet", "80 N·m", "80", "click wrench"), "part": ("1",), "prove": ("1",)}
            if step.kind in ("check", "result"):
                check = knowledge.checks[step.check]
                proves = [check.proof(one.id, bench.job.state.pulley) == "proves" for one in check.outcomes]
                key = proves.index(True) + 1
                await bench.type(pilot, f"#{key}" if check.reading else str(key))
            else:
                person = Respondent().answer(knowledge, bench.job.state, bench.job.clock())
                given = lines_for(knowledge, person, bench.job.state.step)
                await bench.type(pilot, *answers.get(step.kind, given))
        assert bench.job.state.closed == "signed-off", bench.painted(pilot.app)
        assert "Signed off" in bench.painted(pilot.app)
        marks = [event.head for event in bench.job.events if isinstance(event, SessionClosed)]
        assert f"Saved. Trace {marks[0][:12]}" in bench.painted(pilot.app)
        await bench.type(pilot, "")
        assert "What is to be done?" in bench.painted(pilot.app)


async def test_a_burst_of_type_ahead_says_exactly_what_was_typed(bench: Any) -> None:
    async with bench.app().run_test(size=(80, 24)) as pilot:
        await bench.open_session(pilot)
        await bench.type(pilot, "1")
        bench.burst(pilot.app, "4", "95000 km", "4", "note", "first remark", "note", "second remark", "1")
        for _ in range(10):
            await bench.settle(pilot)
        assert bench.notes == ["first remark", "second remark"]
        assert bench.job.state.facts == {"pulley": "decoupler", "odometer": 95_000_000.0, "cylinders": 4.0}
        assert bench.job.state.findings["complaint-heard"].outcomes == ("heard-now",)


async def test_time_that_passes_while_nobody_types_changes_the_step_and_drops_a_half_typed_line(bench: Any) -> None:
    async with bench.app().run_test(size=(80, 40)) as pilot:
        await bench.open_session(pilot)
        await bench.type(pilot, "1", "4", "unknown", "4", "1", "1", "1")
        await walk(
            bench,
            pilot,
            one_case(bench.knowledge, "shutdown-buzz"),
            until=lambda step: (step.kind, step.check) == ("check", "pulleys-in-sight"),
        )
        assert bench.job.state.step.kind == "check"
        for letter in "12":
            pilot.app.post_message(events.Key(letter, letter))
        await bench.settle(pilot)
        await bench.type(pilot, "why")
        assert not isinstance(pilot.app.screen, SessionScreen) or "12why" in bench.painted(pilot.app)
        bench.clock.now_ms += 24 * 3600 * 1000
        await bench.until_painted(pilot, "MAKE SAFE: 4 of")
        assert bench.job.state.step.kind == "confirm"
        assert isinstance(pilot.app.screen, SessionScreen)
        assert pilot.app.screen.query_one(AnswerLine).value == ""
        assert "MAKE SAFE: 4 of" in bench.painted(pilot.app)
        assert "Time has passed" in squeezed(bench.painted(pilot.app)) or "Timehaspassed" in squeezed(
            bench.painted(pilot.app)
        )


async def test_a_half_typed_line_is_dropped_and_said_where_the_lines_of_a_card_end(bench: Any) -> None:
    job = bench.lived_to(lambda step: step.kind == "confirm")
    async with bench.app().run_test(size=(80, 30)) as pilot:
        await bench.started(pilot)
        await bench.enter(pilot, job)
        step = job.state.step
        await bench.type(pilot, "1")
        await bench.type(pilot, "2")
        assert len(job.state.standing) == 2
        pilot.app.post_message(events.Key("3", "3"))
        await bench.settle(pilot)
        bench.clock.now_ms += 24 * 3600 * 1000
        await bench.until_painted(pilot, 'Dropped: "3"')
        assert (job.state.step, job.state.standing) == (step, {}), "the same card, and nothing of it stands"
        assert pilot.app.screen.query_one(AnswerLine).value == ""


async def test_a_page_over_the_session_gives_way_when_its_step_changes(bench: Any) -> None:
    async with bench.app().run_test(size=(80, 24)) as pilot:
        await bench.open_session(pilot)
        await walk(
            bench,
            pilot,
            one_case(bench.knowledge, "shutdown-buzz"),
            until=lambda step: (step.kind, step.check) == ("check", "pulleys-in-sight"),
        )
        await bench.type(pilot, "help")
        assert not isinstance(pilot.app.screen, SessionScreen)
        bench.clock.now_ms += 24 * 3600 * 1000
        await bench.until_painted(pilot, "MAKE SAFE: 4 of")
        assert isinstance(pilot.app.screen, SessionScreen)


async def test_cautions_without_room_come_first_and_leave_question_and_answers_in_view(
    bench: Any, knowledge: Knowledge
) -> None:
    job = bench.lived_to(lambda step: step.kind == "conclusion")
    async with bench.app().run_test(size=(60, 20)) as pilot:
        await bench.started(pilot)
        await bench.enter(pilot, job)
        await bench.type(pilot, "1")
        while bench.job.state.step.kind == "confirm":
            person = Respondent().answer(knowledge, bench.job.state, bench.job.state.last_ms)
            await bench.type(pilot, *lines_for(knowledge, person, bench.job.state.step))
        assert bench.job.state.step.kind == "part"
        view = step_view(knowledge, bench.job.state)
        painted = squeezed(bench.painted(pilot.app))
        for text in (view.warnings[0], view.ask, *(choice.words for choice in view.choices)):
            assert squeezed(text) in painted, f"{text}\n{bench.painted(pilot.app)}"
        assert "readon:PgDnPgUp" in painted


async def test_a_verdict_is_read_beside_the_next_step(bench: Any) -> None:
    job = bench.lived_to(lambda step: (step.kind, step.check) == ("check", "shutdown-listen"), case="buzz-timed-only")
    async with bench.app().run_test(size=(60, 20)) as pilot:
        await bench.started(pilot)
        await bench.enter(pilot, job)
        await bench.type(pilot, "0.7 s")
        painted = squeezed(bench.painted(pilot.app))
        assert squeezed("0.7 s: quiet (limit 1 s)") in painted, bench.painted(pilot.app)


async def test_a_timed_run_counts_down_and_says_when_it_is_over(bench: Any, knowledge: Knowledge) -> None:
    case = one_case(knowledge, "shutdown-buzz", "solid-buzz-nothing-found")
    job = bench.lived(case, lambda step: step.kind == "run")
    async with bench.app().run_test(size=(60, 20)) as pilot:
        await bench.started(pilot)
        pilot.app.push_screen(SessionScreen(job))
        await bench.until_painted(pilot, "TIME LEFT")
        assert "engine running" in bench.painted(pilot.app)
        bench.clock.now_ms = bench.job.state.step.until_ms
        await bench.until_painted(pilot, "TIME IS UP")


async def test_a_stopwatch_types_its_reading(bench: Any, knowledge: Knowledge) -> None:
    case = one_case(knowledge, "shutdown-buzz", "solid-buzz-nothing-found")
    job = bench.lived(case, lambda step: (step.kind, step.check) == ("check", "shutdown-listen"))
    async with bench.app().run_test(size=(80, 24)) as pilot:
        await bench.started(pilot)
        pilot.app.push_screen(SessionScreen(job))
        await bench.settle(pilot)
        await bench.type(pilot, "watch")
        assert "STOPWATCH" in bench.painted(pilot.app)
        begin, end = events.Key("space", " "), events.Key("space", " ")
        end.time = begin.time + 7.5
        pilot.app.post_message(begin)
        await bench.settle(pilot)
        assert "RUNNING" in bench.painted(pilot.app)
        pilot.app.post_message(end)
        await bench.settle(pilot)
        assert bench.job.state.known["shutdown-listen"].said == "7.5 s"


async def test_a_stopwatch_in_a_timed_run_shows_what_is_left_and_answers_nothing(
    bench: Any, knowledge: Knowledge
) -> None:
    case = one_case(knowledge, "shutdown-buzz", "solid-buzz-nothing-found")
    job = bench.lived(case, lambda step: step.kind == "run")
    async with bench.app().run_test(size=(60, 20)) as pilot:
        await bench.started(pilot)
        await bench.enter(pilot, job)
        await bench.type(pilot, "watch")
        await bench.until_painted(pilot, "TIME LEFT")
        painted = bench.painted(pilot.app)
        assert "STOPWATCH" in painted
        assert "TIME LEFT" in painted.split("STOPWATCH")[1].split("MAKE SAFE")[0]
        begin, end = events.Key("space", " "), events.Key("space", " ")
        end.time = begin.time + 3.0
        for key in (begin, end):
            pilot.app.post_message(key)
        await bench.settle(pilot)
        assert "Stopwatch: 3.0 s" in bench.painted(pilot.app)
        assert bench.job.state.step.kind == "run"
        await bench.type(pilot, "watch")
        bench.clock.now_ms = bench.job.state.step.until_ms
        await bench.until_painted(pilot, "TIME IS UP")
        painted = bench.painted(pilot.app)
        assert "STOPWATCH" not in painted
        assert "engine treat as running" in painted


async def test_an_answer_is_put_right_from_the_path(bench: Any) -> None:
    async with bench.app().run_test(size=(80, 24)) as pilot:
        await bench.open_session(pilot)
        await bench.type(pilot, "1", "4", "unknown", "4", "1", "1", "6", "path")
        assert "Which answer is to be put right?" in bench.painted(pilot.app)
        await bench.type(pilot, "3")
        assert "When does the customer notice it most?" in bench.painted(pilot.app)
        await bench.type(pilot, "3")
        assert bench.job.state.findings["when-heard"].outcomes == ("steady-idle",)


async def test_a_word_said_by_its_key_answers_no_question_that_is_open(bench: Any) -> None:
    async with bench.app().run_test(size=(80, 24)) as pilot:
        await bench.open_session(pilot)
        await bench.type(pilot, "1", "note")
        for key in ("f8", "f2"):
            pilot.app.post_message(events.Key(key, None))
            await bench.settle(pilot)
        assert isinstance(pilot.app.screen, Reader)
        await bench.type(pilot, "")
        await bench.type(pilot, "it ticks")
        assert bench.notes == ["it ticks"]


async def test_enter_on_an_empty_line_says_and_changes_nothing(bench: Any) -> None:
    async with bench.app().run_test(size=(80, 24)) as pilot:
        await bench.open_session(pilot)
        before = bench.painted(pilot.app)
        await bench.type(pilot, "", "", "")
        assert bench.painted(pilot.app) == before


async def test_a_resize_at_any_time_keeps_the_question_in_view(bench: Any) -> None:
    async with bench.app().run_test(size=(120, 40)) as pilot:
        await bench.open_session(pilot)
        assert "FOUND SO FAR" in bench.painted(pilot.app)
        for size in ((60, 20), (40, 12), (5, 3), (1, 1), (80, 24)):
            await pilot.resize_terminal(*size)
            await bench.settle(pilot)
        assert "FOUND SO FAR" not in bench.painted(pilot.app)
        assert "Does the drive carry" in bench.painted(pilot.app)


async def test_five_thousand_messages_can_be_scrolled_to_the_first_and_back(bench: Any) -> None:
    async with bench.app().run_test(size=(80, 24)) as pilot:
        await bench.open_session(pilot)
        log = pilot.app.screen.query_one(Conversation)
        log.say(*(f"message {number}" for number in range(5000)))
        await bench.settle(pilot)
        assert "message 4999" in bench.painted(pilot.app)
        log.scroll_home(animate=False)
        await bench.settle(pilot)
        assert "message 0 " in bench.painted(pilot.app)
        await pilot.resize_terminal(60, 20)
        await bench.settle(pilot)
        assert "message 4999" not in bench.painted(pilot.app)
        log.say("and one more")
        await bench.settle(pilot)
        assert "and one more" in bench.painted(pilot.app)


async def test_what_was_said_last_stays_in_view_when_the_step_or_the_terminal_grows(bench: Any) -> None:
    async with bench.app().run_test(size=(120, 40)) as pilot:
        await bench.open_session(pilot)
        log = pilot.app.screen.query_one(Conversation)
        log.say(*("word " * 40 + str(number) for number in range(50)))
        for size in ((60, 20), (120, 40), (40, 12), (80, 24)):
            await pilot.resize_terminal(*size)
            await bench.settle(pilot)
            assert log.scroll_offset.y == log.max_scroll_y, size
        assert " 49" in bench.painted(pilot.app)


async def test_the_panel_of_an_interlock_is_marked_by_word_and_border(bench: Any) -> None:
    async with bench.app().run_test(size=(80, 24)) as pilot:
        await bench.open_session(pilot)
        panel = pilot.app.screen.query_one(StepPanel)
        assert panel.styles.border.top[0] == "round"
        await bench.type(pilot, "1", "4", "unknown", "4", "1", "1", "1", "1")
        assert panel.styles.border.top[0] == "double"
        assert "MAKE SAFE: 4 of" in bench.painted(pilot.app)


async def test_leave_stops_the_program_and_keeps_the_session(bench: Any) -> None:
    app = bench.app()
    async with app.run_test(size=(80, 24)) as pilot:
        await bench.open_session(pilot)
        await bench.type(pilot, "1", "leave")
        await pilot.pause(0.1)
    assert "triage resume" in (app.return_value or "")
    kept, _ = resume(bench.folder / "job-0.jsonl", bench.clock, "")
    kept.leave()
    assert kept.state.gate == "none"


async def test_a_reading_by_its_other_way_is_asked_part_by_part_in_the_full_screen(
    bench: Any, knowledge: Knowledge
) -> None:
    case = one_case(knowledge, "belt-squeal", "squeal-slack-by-note")
    job = bench.lived(case, lambda step: (step.kind, step.check) == ("check", "span-tension"))
    async with bench.app().run_test(size=(80, 24)) as pilot:
        await bench.started(pilot)
        pilot.app.push_screen(SessionScreen(job))
        await bench.settle(pilot)
        await bench.type(pilot, "71")
        assert "aforceorafrequency" in squeezed(bench.painted(pilot.app))
        await bench.type(pilot, "71 Hz")
        assert "Lengthofthatfreespan" in squeezed(bench.painted(pilot.app))
        await bench.type(pilot, "340 mm", "0.105 kg/m", "6")
    assert job.state.findings["span-tension"].outcomes == ("low",)
    assert job.state.findings["span-tension"].way == "note"


async def test_coming_back_from_the_shell_lets_time_pass_at_once(bench: Any, knowledge: Knowledge) -> None:
    job = bench.lived(one_case(knowledge, "shutdown-buzz"), lambda step: step.check == "pulleys-in-sight")
    app = bench.app()
    async with app.run_test(size=(80, 24)) as pilot:
        await bench.started(pilot)
        await app.push_screen(SessionScreen(job))
        assert job.state.step.kind == "check"
        bench.clock.now_ms += 24 * 3600 * 1000
        app.app_resume_signal.publish(app)
        await asyncio.sleep(0)
        await asyncio.sleep(0)
        assert job.state.step.kind == "confirm"


async def test_a_layout_that_comes_behind_a_leave_does_no_harm(bench: Any, knowledge: Knowledge) -> None:
    job = bench.lived(one_case(knowledge, "shutdown-buzz"), lambda step: step.check == "pulleys-in-sight")
    app = bench.app()
    async with app.run_test(size=(80, 24)) as pilot:
        await bench.started(pilot)
        screen = SessionScreen(job)
        await app.push_screen(screen)
        await app.pop_screen()
        screen._show()
        await screen.run_action("scroll_log(-1)")


async def test_what_is_ranked_behind_a_leave_that_has_taken_its_place_away_does_no_harm(
    bench: Any, knowledge: Knowledge
) -> None:
    job = bench.lived(one_case(knowledge, "shutdown-buzz"), lambda step: step.check == "pulleys-in-sight")
    app = bench.app()
    async with app.run_test(size=(80, 24)) as pilot:
        await bench.started(pilot)
        screen = SessionScreen(job)
        await app.push_screen(screen)
        await screen.query_one(Side).remove()
        screen._show_beside()
        assert screen.is_attached


async def test_what_came_of_a_line_stands_right_over_the_next_one(bench: Any) -> None:
    job = bench.lived_to(lambda step: (step.kind, step.check) == ("check", "shutdown-listen"), case="buzz-timed-only")
    async with bench.app().run_test(size=(60, 20)) as pilot:
        await bench.started(pilot)
        await bench.enter(pilot, job)

        def over_the_line() -> str:
            rows = bench.painted(pilot.app).splitlines()
            prompt = next(at for at, row in enumerate(rows) if row.startswith(" >"))
            return " ".join(rows[prompt - 5 : prompt])

        await bench.type(pilot, "7 parsecs")
        assert "NOT TAKEN · " in over_the_line()
        await bench.type(pilot, "0.7 s")
        assert "NOT TAKEN" not in over_the_line()
        assert "SAVED · " in over_the_line()
