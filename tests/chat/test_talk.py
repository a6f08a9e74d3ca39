"""The plain chat over whole sessions, with a fake terminal that types what a case or a person would."""

from collections.abc import Callable, Iterator
from functools import partial
from itertools import count
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from hands import lines_for

from tests.sizes import few_or_all
from triage.app.advising.adviser import Adviser
from triage.app.cases import Case, Recorded, read_cases, walk_case
from triage.app.job import Job, start
from triage.app.long_work import LongWork
from triage.app.opening import Opening
from triage.app.resuming import resume
from triage.app.shop.shop_file import Shop, accuracies
from triage.chat.talk import Talk
from triage.knowledge.models import Knowledge
from triage.knowledge.shipped import trees_folder
from triage.present.pages.drive_page import drive_page
from triage.present.read_first import NOT_READ
from triage.record.events import Event, LayoutUsed, NoteAdded, RateMatched, ThingConfirmed
from triage.session import commands as c
from triage.store import TraceWriter

if TYPE_CHECKING:
    from tests.conftest import Typist


def ticking(step_ms: int, first_ms: int = 1_767_225_600_000) -> Callable[[], int]:
    times = count(first_ms, step_ms)
    return lambda: next(times)


def begun(knowledge: Knowledge, symptom: str = "shutdown-buzz", writer: TraceWriter | None = None) -> Job:
    opening = Opening(symptom=symptom, job="j", who="case")
    return start(knowledge, opening, accuracies(knowledge, Shop()), "", ticking(10), writer)


def typed_for(knowledge: Knowledge, case: Case, job: Job) -> tuple[str, ...]:
    """The lines a person types for what the case answers to the step on screen."""
    command = Recorded(case).answer(knowledge, job.state, 0)
    if isinstance(command, c.Tick):
        job.clock = ticking(10, command.at_ms)
        return ("path",)
    return lines_for(knowledge, command, job.state.step)


def bare(events: tuple[Event, ...]) -> list[dict[str, object]]:
    """Events without their times, which differ from clock to clock, and without the knowledge."""
    plain = []
    for event in events:
        data = {
            "kind": event.kind,
            **event.model_dump(mode="json", exclude={"at_ms", "clock_ms", "until_ms", "knowledge", "quick"}),
        }
        if "step" in data:
            data["step"] = {key: value for key, value in data["step"].items() if key != "until_ms"}
        if "since" in data:
            data["since"] = sorted(data["since"])
        plain.append(data)
    return plain


def recorded(knowledge: Knowledge, symptom: str) -> tuple[Case, ...]:
    return read_cases(trees_folder() / "cases" / f"{symptom}.yaml", knowledge)


@pytest.mark.parametrize("symptom", sorted(path.stem for path in (trees_folder() / "cases").glob("*.yaml")))
def test_the_same_script_through_chat_and_case_runner_writes_the_same_events(
    knowledge: Knowledge, typist: "type[Typist]", silent: Adviser, symptom: str
) -> None:
    """The first case with its advice, some others without, so that the suite stays quick; all with EVERY_CASE=1."""
    cases = recorded(knowledge, symptom)
    assert len(cases) >= 10
    for number, case in enumerate(cases[:: len(cases) // few_or_all(4, len(cases))]):
        adviser = silent if number else None
        _, walked = walk_case(knowledge, case, accuracies(knowledge, Shop()), adviser=adviser)
        opening = Opening(symptom=case.symptom, job=case.id, who="case")
        job = start(knowledge, opening, accuracies(knowledge, Shop()), "", ticking(10), None, adviser=adviser)
        Talk(job, typist(more=partial(typed_for, knowledge, case, job)), lambda: 0.0).run()
        assert bare(job.events) == bare(walked.events), case.id


def test_a_person_who_types_ahead_answers_only_the_steps_that_are_asked(
    knowledge: Knowledge, typist: "type[Typist]"
) -> None:
    job = begun(knowledge)
    Talk(job, typist("1", "decoupler", "150000 km", "4"), lambda: 0.0).run()
    assert job.state.gate == "none"
    assert job.state.facts == {"pulley": "decoupler", "odometer": 150_000_000.0, "cylinders": 4.0}


def test_words_of_the_table_show_pages_and_change_nothing(knowledge: Knowledge, typist: "type[Typist]") -> None:
    job = begun(knowledge)
    before = job.events
    terminal = typist("why", "tell", "path", "sources", "help")
    Talk(job, terminal, lambda: 0.0).run()
    assert job.events == before
    assert any("start the engine or shock" in line for line in terminal.said)


def test_a_line_that_is_not_understood_is_answered_with_what_would_be_right(
    knowledge: Knowledge, typist: "type[Typist]"
) -> None:
    job = begun(knowledge)
    terminal = typist("77")
    Talk(job, terminal, lambda: 0.0).run()
    assert any("That is not one of the answers." in line for line in terminal.said)
    assert job.state.gate == ""


def test_the_stopwatch_answers_a_timed_check(knowledge: Knowledge, typist: "type[Typist]") -> None:
    case = Case(id="w", symptom="shutdown-buzz", findings={"shutdown-listen": "buzzing"})
    job = begun(knowledge)
    times = iter([100.0, 107.5])

    def types() -> Iterator[str]:
        if job.state.step.kind == "check" and job.state.step.check == "shutdown-listen":
            return iter(["watch", "", ""])
        if "shutdown-listen" in job.state.findings:
            return iter([])
        return iter(typed_for(knowledge, case, job))

    Talk(job, typist(more=types), lambda: next(times)).run()
    assert job.state.findings["shutdown-listen"].said == "7.5 s"


def test_the_stopwatch_serves_in_a_timed_run_and_answers_nothing_there(
    knowledge: Knowledge, typist: "type[Typist]"
) -> None:
    case = next(case for case in recorded(knowledge, "shutdown-buzz") if case.id == "solid-buzz-nothing-found")
    job = begun(knowledge)
    times = iter([100.0, 107.5])
    lines = iter([["watch", "", ""], []])

    def types() -> Iterator[str]:
        return iter(next(lines)) if job.state.step.kind == "run" else iter(typed_for(knowledge, case, job))

    terminal = typist(more=types)
    Talk(job, terminal, lambda: next(times)).run()
    assert "Stopwatch: 7.5 s" in terminal.said
    assert "That is not one of the answers." not in terminal.said
    assert job.state.step.kind == "run"


def test_an_empty_line_drops_a_dialogue_that_was_begun(knowledge: Knowledge, typist: "type[Typist]") -> None:
    job = begun(knowledge)
    Talk(job, typist("note", "", "none"), lambda: 0.0).run()
    assert not any(isinstance(event, NoteAdded) for event in job.events)
    assert job.state.gate == "none"


def test_hostile_text_in_a_note_is_shown_inert(knowledge: Knowledge, typist: "type[Typist]") -> None:
    job = begun(knowledge)
    job.do(c.Note(at_ms=job.clock(), who="x", text="\x1b]52;c;aGk=\x07 [@click=app.quit]\u202e"))
    job.do(c.HandOver(at_ms=job.clock(), who="x", to="\x1b[2J Bo"))
    terminal = typist()
    Talk(job, terminal, lambda: 0.0).run()
    assert not any(bad in line for line in terminal.said for bad in ("\x1b", "\x07", "\u202e"))


def test_confirmations_that_age_while_nobody_types_bring_the_interlock_back(knowledge: Knowledge) -> None:
    case = Case(id="a", symptom="shutdown-buzz")
    job = begun(knowledge)
    while job.state.step.kind != "check" or job.state.step.state != "stopped":
        for_now = Recorded(case).answer(knowledge, job.state, job.clock())
        assert for_now is not None
        job.do(for_now)
    late = job.clock() + 10 * 3600 * 1000
    job.clock = lambda: late
    job.tick()
    now = job.state
    assert (now.step.kind, now.standing) == ("confirm", {})


def test_a_session_is_taken_up_again_paused_with_all_that_was_answered(
    knowledge: Knowledge, tmp_path: Path, typist: "type[Typist]"
) -> None:
    writer = TraceWriter.create(tmp_path, "kept")
    job = begun(knowledge, writer=writer)
    Talk(job, typist("1", "4", "unknown", "unknown"), lambda: 0.0).run()
    job.leave()
    again, notices = resume(tmp_path / "kept.jsonl", ticking(10), "")
    assert notices == ()
    assert again.state.paused
    assert again.state.facts["pulley"] == "decoupler"
    Talk(again, typist("Bo"), lambda: 0.0).run()
    assert (again.who, again.state.holder, again.state.paused) == ("Bo", "Bo", False)
    again.leave()


def test_every_confirmation_is_given_by_itself(knowledge: Knowledge, typist: "type[Typist]") -> None:
    job = begun(knowledge)
    case = Case(id="a", symptom="shutdown-buzz")
    while job.state.step.kind != "confirm":
        command = Recorded(case).answer(knowledge, job.state, job.clock())
        assert command is not None
        job.do(command)
    Talk(job, typist("1"), lambda: 0.0).run()
    assert sum(isinstance(event, ThingConfirmed) for event in job.events) == 1


def test_layout_rate_and_tools_are_talked_through_and_end_in_events_and_pages(
    knowledge: Knowledge, typist: "type[Typist]"
) -> None:
    job = begun(knowledge)
    terminal = typist(
        *("layout", "nowhere", "four-cylinder-full", "drive"),
        *("rate", "4.1 ± 0.1 Hz", "idle"),
        *("tool", "pulley-speed", "750 rpm", "160 mm", "58 mm", "none"),
    )
    Talk(job, terminal, lambda: 0.0).run()
    assert [type(event) for event in job.events if isinstance(event, LayoutUsed | RateMatched)] == [
        LayoutUsed,
        RateMatched,
    ]
    said = "\n".join(terminal.said)
    assert "There is no layout file nowhere." in said
    assert "It fits lap and nothing else here." in said
    assert "2069 r/min" in said
    # A page ends its dialogue: the line after it answers the step on screen.
    assert job.state.gate == "none"


def test_a_drive_is_run_in_the_chat_and_ends_in_a_page(knowledge: Knowledge, typist: "type[Typist]") -> None:
    job = begun(knowledge)
    terminal = typist(
        *("drive run", "layout", "seven-pulleys"),
        *("drive run", "idle; haunted", "idle; seconds 0.05; solid"),
    )
    Talk(job, terminal, lambda: 0.0).run()
    said = "\n".join(terminal.said)
    assert "There is no layout of this vehicle's drive." in said
    assert "I do not know what “haunted” is to a run." in said
    assert "Working out idle; seconds 0.05; solid of seven-pulleys. Ctrl-C stops it." in said
    assert "Speed of the alternator's rotor, r/min" in said


def test_ctrl_c_stops_a_run_in_the_chat_and_the_talk_goes_on(
    knowledge: Knowledge, typist: "type[Typist]", monkeypatch: pytest.MonkeyPatch
) -> None:
    real = LongWork.wait
    pressed: list[bool] = []

    def wait(work: LongWork[object], seconds: float) -> bool:
        if not pressed:
            pressed.append(True)
            raise KeyboardInterrupt
        return real(work, seconds)

    monkeypatch.setattr(LongWork, "wait", wait)
    job = begun(knowledge)
    terminal = typist("layout", "seven-pulleys", "drive run", "switch-off; rpm 6000", "note", "still here")
    Talk(job, terminal, lambda: 0.0).run()
    assert "Stopped. Nothing was lost." in "\n".join(terminal.said)
    assert [event.text for event in job.events if isinstance(event, NoteAdded)] == ["still here"]


def test_a_layout_drawn_in_the_chat_keeps_its_shape_in_eighty_columns(
    knowledge: Knowledge, monkeypatch: pytest.MonkeyPatch, typist: "type[Typist]"
) -> None:
    monkeypatch.setenv("COLUMNS", "80")
    job = begun(knowledge)
    terminal = typist("layout", "four-cylinder-full", "drive")
    Talk(job, terminal, lambda: 0.0).run()
    assert job.state.layout is not None
    drawn = [line for line in drive_page(knowledge, job.state) if len(line) < 80]
    assert len(drawn) > 40
    assert all(line in terminal.said for line in drawn)


def test_the_pulley_type_is_put_right_in_the_middle_of_the_search(knowledge: Knowledge, typist: "type[Typist]") -> None:
    job = begun(knowledge)
    lines = typist("1", "solid", "15000 km", "4", "1", "1", "after-shutdown", "vehicle", "1", "decoupler", "path")
    Talk(job, lines, lambda: 0.0).run()
    assert job.state.facts["pulley"] == "decoupler"
    assert any(said.startswith("Specified alternator pulley put right: Decoupler") for said in lines.said)
    assert list(job.state.findings) == ["complaint-heard", "met-under", "when-heard"]


def test_what_was_typed_ahead_confirms_and_refuses_nothing_but_words_are_taken(
    knowledge: Knowledge, typist: "type[Typist]"
) -> None:
    job = begun(knowledge)
    Talk(job, typist("1", "solid", "unknown", "4", "1", "1", "1", "1"), lambda: 0.0).run()
    assert job.state.step.kind == "confirm"
    before = job.events
    ahead = typist("y", "n", "note", "no lamp here")
    ahead.ahead = True
    Talk(job, ahead, lambda: 0.0).run()
    assert sum(NOT_READ.startswith(said) for said in ahead.said if said) == 2
    assert [event.kind for event in job.events[len(before) :]] == ["note-added"]


def test_an_enter_that_was_typed_ahead_is_no_yes_to_what_was_said_back(job: Job, typist: "type[Typist]") -> None:
    lines = typist("none", "solid", "unknown", "4", "I heard it myself", "", "")
    read = lines.read

    def ahead(prompt: str, waiting: Callable[[], bool]) -> str | None:
        line = read(prompt, waiting)
        lines.ahead = lines.asked == 6
        return line

    lines.read = ahead  # type: ignore[method-assign]
    Talk(job, lines, lambda: 0.0).run()
    assert sum(NOT_READ.startswith(said) for said in lines.said if said) == 1
    assert " ".join(lines.said).count("I take that as") == 2, "said back, said again for whoever did not read it"
    assert list(job.state.known) == ["complaint-heard"]


def test_what_is_said_back_and_the_question_again_stand_below_the_step(job: Job, typist: "type[Typist]") -> None:
    lines = typist("none", "solid", "unknown", "4", "why?", "I heard it myself")
    Talk(job, lines, lambda: 0.0).run()
    ask = job.knowledge.checks["complaint-heard"].question
    said = "\n".join(lines.said)
    assert said.count(ask.split(",")[0][:40]) == 2
    assert said.index("I take that as") > said.rindex(ask[:40])
