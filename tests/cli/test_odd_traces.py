"""Well-chained traces that say what cannot be: each ends in a page or a sentence, and nothing in a defect."""

from collections import Counter
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.bench import odd_traces
from tests.sizes import few_or_all
from triage.chat.lines import InputEndedError
from triage.cli.main import run
from triage.errors import EXIT_DEFECT, EXIT_DISAGREES, EXIT_FILE, EXIT_OK
from triage.knowledge.loading import load_knowledge
from triage.store import Line

SMALL = Path(__file__).parents[1] / "session" / "small"
BASES = few_or_all(8, 30)
ODD_OF_EACH = 4
COMMANDS = ("show", "demo", "costs", "verify", "resume", "sessions")


class Typing:
    """Somebody who takes a session up, asks a few pages and goes away."""

    ahead = False

    def __init__(self) -> None:
        self._waiting = ["Bo", "path", "likely", "worth", "costs", "note odd"]

    def read(self, _prompt: str, _waiting: object) -> str:
        if not self._waiting:
            raise InputEndedError
        return self._waiting.pop(0)

    def say(self, _text: str) -> None:
        """Let it be."""


@pytest.fixture
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("TRIAGE_HOME", str(tmp_path))
    monkeypatch.setattr("triage.cli.chat.lines_here", Typing)
    return tmp_path


def odd() -> Iterator[tuple[str, list[Line]]]:
    knowledge = load_knowledge(SMALL)
    for seed in range(BASES):
        yield from odd_traces.odd_traces(odd_traces.rich_lines(knowledge, seed), seed, ODD_OF_EACH)


def test_no_odd_trace_ends_a_command_in_a_defect(home: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = home / "odd.jsonl"
    codes: Counter[int] = Counter()
    for what, lines in odd():
        odd_traces.sealed(path, lines)
        content = path.read_bytes()
        for command in COMMANDS:
            path.write_bytes(content)
            code = run([command] if command == "sessions" else [command, str(path)])
            told = capsys.readouterr()
            assert code != EXIT_DEFECT, (what, command, told.err)
            assert "Traceback" not in told.err, (what, command)
            assert code in (EXIT_OK, EXIT_FILE, EXIT_DISAGREES), (what, command)
            codes[code] += 1
    assert sum(codes.values()) == BASES * ODD_OF_EACH * len(COMMANDS)
    assert codes[EXIT_FILE] > BASES * ODD_OF_EACH, "hardly any of them is odd enough"
