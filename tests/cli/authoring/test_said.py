"""The command that says how a sentence is understood."""

import io
import json

import pytest

from triage.cli import main
from triage.errors import EXIT_OK, EXIT_REFUSED

ROUGH = {"kind": "finding", "check": "spin-idler", "outcome": "rough"}


def test_json_has_items_and_what_is_said_back(capsys: pytest.CaptureFixture[str]) -> None:
    assert main.run(["said", "the idler is rough", "--check", "spin-idler", "--json"]) == EXIT_OK
    told = capsys.readouterr()
    assert json.loads(told.out) == {
        "items": [ROUGH],
        "said_back": "I take that as: Spin the idlers: Rough, loose, or spins on and on dry.",
    }
    assert told.err == ""


def test_people_read_it_in_words_and_a_sentence_without_a_check_is_a_complaint(
    capsys: pytest.CaptureFixture[str],
) -> None:
    assert main.run(["said", "chirps at idle"]) == EXIT_OK
    assert capsys.readouterr().out == "I take that as: Chirping belt; When it comes: At steady idle.\n"


def test_many_sentences_are_answered_line_by_line(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    lines = [
        {"text": "rough", "check": "spin-idler", "at": "session"},
        {"text": "rough", "check": None, "at": "session"},
        {"text": "battery light stays on", "check": None, "at": "start"},
    ]
    typed(monkeypatch, "\n\n".join(map(json.dumps, lines)))
    assert main.run(["said", "--stdin", "--json"]) == EXIT_OK
    answers = [json.loads(line)["items"] for line in capsys.readouterr().out.splitlines()]
    assert answers == [[ROUGH], [{"kind": "nothing"}], [{"kind": "symptom", "symptom": "low-charge"}]]


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ("rough", "Line 2 is not JSON."),
        ("[" * 100_000, "Line 2 is not JSON."),
        ("[]", "Line 2 does not say"),
        ('{"text": 1}', "Line 2 does not say"),
        ('{"text": "x", "at": "home"}', "Line 2 does not say"),
        ('{"text": "x", "at": []}', "Line 2 does not say"),
        ('{"text": "x", "check": "idler"}', "There is no check 'idler'."),
    ],
)
def test_a_line_that_says_no_sentence_is_refused_after_the_lines_before(
    line: str, said: str, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    typed(monkeypatch, f'{{"text": "rough", "check": "spin-idler"}}\n{line}\n')
    assert main.run(["said", "--stdin", "--json"]) == EXIT_REFUSED
    told = capsys.readouterr()
    assert json.loads(told.out)["items"] == [ROUGH]
    assert said in told.err


@pytest.mark.parametrize(
    "words",
    [[], ["x", "--stdin"], ["--stdin", "--check", "spin-idler"], ["x", "--check", "idler"], ["x", "--at", "home"]],
)
def test_a_command_line_that_asks_nothing_is_refused(words: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    assert main.run(["said", *words]) == EXIT_REFUSED
    assert capsys.readouterr().out == ""


def typed(monkeypatch: pytest.MonkeyPatch, text: str) -> None:
    monkeypatch.setattr("sys.stdin", io.TextIOWrapper(io.BytesIO(text.encode())))
