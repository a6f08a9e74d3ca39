"""A drive entered in a session and from the start page, as lines are typed."""

from pathlib import Path

import pytest

from triage.app.job import Job
from triage.app.shop.own_layouts import layouts_folder
from triage.knowledge.models import Knowledge
from triage.present.typing.exchange import Exchange
from triage.present.typing.interpreting import Typing, interpret
from triage.present.typing.results import Ask
from triage.present.typing.without_session import layout
from triage.record.events import LayoutUsed
from triage.session import commands as c

TAPE = ("160 outside; tensioner back 76 outside; alternator 56 outside", "done", "6PK1350", "4", "done", "bay-three")


@pytest.fixture(autouse=True)
def own_home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("TRIAGE_HOME", str(tmp_path))


def typed(job: Job, *lines: str) -> object:
    return interpret(Typing(job.knowledge, job.state, job.clock(), job.who), lines)


def test_a_drive_entered_in_a_session_is_kept_and_used_from_there_on(job: Job) -> None:
    asked = typed(job, "layout")
    assert isinstance(asked, Ask)
    assert '"new"' in asked.question
    for upto in range(len(TAPE)):
        assert isinstance(typed(job, "layout", "new", *TAPE[:upto]), Ask)
    assert not layouts_folder().exists()
    command = typed(job, "layout", "new", *TAPE)
    assert isinstance(command, c.UseLayout)
    events = job.do(command)
    assert any(isinstance(event, LayoutUsed) and event.name == "bay-three" for event in events)
    assert (layouts_folder() / "bay-three.yaml").is_file()
    assert isinstance(typed(job, "layout", "bay-three"), c.UseLayout)


def test_a_drive_can_be_entered_from_the_start_page_too(knowledge: Knowledge) -> None:
    asked = layout(knowledge, ())
    assert isinstance(asked, Ask)
    page = layout(knowledge, TAPE)
    assert not isinstance(page, Ask)
    assert page(80)[0] == "Layout: bay-three"


def test_an_empty_line_takes_back_one_line_of_many_and_drops_none_of_the_others(job: Job) -> None:
    exchange = Exchange(job)
    for line in ("layout", "new", *TAPE[:2]):
        exchange.take(line)
    assert exchange.question.startswith("Belt:")
    exchange.take("")
    assert exchange.question.startswith("Next pulley?")
    assert exchange.typed == ("layout", "new", TAPE[0])
    exchange.take("")
    assert exchange.question.startswith("Follow the belt")
    exchange.take("")
    assert not exchange.typed
