"""A text out of a trace stays on its line: nothing in it passes for an answer, a heading or another event."""

import json
import re
from collections.abc import Iterator
from functools import cache
from typing import Any

import pytest

from triage.app.job import Job
from triage.app.reading import replay
from triage.chat.talk import Talk
from triage.knowledge.models import Knowledge
from triage.knowledge.shipped import demos_folder
from triage.present.cleaning import clean
from triage.present.pages.playing import scenes
from triage.present.pages.session_page import page_of
from triage.record.events import Event
from triage.tui.marked import hung

DEMO = demos_folder() / "binding-clutch.jsonl"
SEPARATORS = ["\n", "\r", "\x0b", "\x0c", "\x1c", "\x1e", "\x85", "\u2028", "\u2029"]
# Without blanks, so that folding a long line cannot begin a row with it.
FORGED = "1·Yes"
IS_FORGED = re.compile(r"^\W*1·Yes", re.MULTILINE)
TEXTS = {"name", "words", "ask", "why", "question", "meaning", "harm", "title", "if_left", "what", "because"}
LISTS = {"steps", "hazards", "cautions", "consumes"}


@cache
def demo() -> tuple[Knowledge, tuple[Event, ...]]:
    return replay(DEMO)[:2]


def forging(knowledge: Knowledge, separator: str) -> Knowledge:
    """The same knowledge, every text of which goes on in a new line with what looks like an answer."""

    def change(value: Any, key: str = "") -> Any:
        if isinstance(value, dict):
            return {one: change(below, one) for one, below in value.items()}
        if isinstance(value, list):
            return [change(below, key if key in LISTS else "") for below in value]
        return f"{value}{separator}{FORGED}" if isinstance(value, str) and key in TEXTS | LISTS else value

    return Knowledge.model_validate_json(json.dumps(change(knowledge.model_dump(mode="json"))))


@pytest.fixture(params=SEPARATORS, ids=lambda separator: f"{ord(separator[0]):02X}", scope="module")
def forged(request: pytest.FixtureRequest) -> tuple[Knowledge, tuple[Event, ...]]:
    knowledge, events = demo()
    return forging(knowledge, request.param), events


def rows(texts: Iterator[str]) -> str:
    """What a terminal shows, whichever of its characters end a row."""
    return "\n".join(row for text in texts for row in clean(text).splitlines())


def test_in_a_page(forged: tuple[Knowledge, tuple[Event, ...]]) -> None:
    page = page_of(*forged, "1-0")
    assert not IS_FORGED.search(rows(iter([page])))
    assert not IS_FORGED.search("\n".join(page.splitlines()))
    assert FORGED in page


def test_in_a_demo(forged: tuple[Knowledge, tuple[Event, ...]]) -> None:
    for scene in scenes(*forged):
        assert all(len(line.splitlines()) <= 1 for line in scene), scene
        assert not IS_FORGED.search(rows(iter(scene)))


def test_in_the_chat(forged: tuple[Knowledge, tuple[Event, ...]], typist: Any) -> None:
    knowledge, events = forged
    for count in (20, len(events) // 2):
        job = Job(knowledge, None, lambda: events[-1].at_ms, "Ana", events[:count])
        terminal = typist("why", "path", "part age", "1", "", "back", "1", "", "leave")
        Talk(job, terminal, lambda: 0.0).run()
        assert not IS_FORGED.search(rows(iter(terminal.said))), count


def test_in_a_long_page_of_the_full_screen(forged: tuple[Knowledge, tuple[Event, ...]]) -> None:
    knowledge, _ = forged
    for check in list(knowledge.checks.values())[:20]:
        assert not IS_FORGED.search("\n".join(hung(f"  {check.name}", 60, 2)))


def test_what_the_shipped_demos_show_is_as_it_was() -> None:
    page = page_of(*demo(), "1-0")
    assert clean(page) == page
    assert "‹" not in page
