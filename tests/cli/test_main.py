"""The command line: what it offers, and how everything that goes wrong ends in a sentence and an exit code."""

import argparse
import os
import subprocess
import sys
from collections.abc import Mapping
from pathlib import Path
from types import MappingProxyType

import pytest

from triage import __version__
from triage.cli import main
from triage.cli.bay import quantity
from triage.errors import (
    EXIT_DEFECT,
    EXIT_DISAGREES,
    EXIT_FILE,
    EXIT_INTERRUPTED,
    EXIT_MEMORY,
    EXIT_OK,
    EXIT_REFUSED,
    QuantityRefused,
    TraceDamaged,
)

ROOT = Path(__file__).resolve().parents[2]
QUANTITY = ("quantity", "9 Nm", "--as", "torque")


def triage(
    *words: str, out: int = subprocess.PIPE, under: Mapping[str, str] = MappingProxyType({})
) -> "subprocess.CompletedProcess[bytes]":
    return subprocess.run(
        [sys.executable, "-m", "triage", *words],
        stdin=subprocess.DEVNULL,
        stdout=out,
        stderr=subprocess.PIPE,
        cwd=ROOT,
        env={**os.environ, **under},
        timeout=60,
    )


def failing(monkeypatch: pytest.MonkeyPatch, error: BaseException) -> int:
    def fail(args: argparse.Namespace) -> int:
        assert args.text
        raise error

    monkeypatch.setattr(quantity, "run", fail)
    return main.run(QUANTITY)


def test_the_version_is_the_package_s(capsys: pytest.CaptureFixture[str]) -> None:
    assert main.run(["--version"]) == EXIT_OK
    assert capsys.readouterr().out == f"triage {__version__}\n"
    assert f'version = "{__version__}"' in (ROOT / "pyproject.toml").read_text(encoding="utf-8")


def test_help_names_every_command_and_exit_code(capsys: pytest.CaptureFixture[str]) -> None:
    assert main.run(["--help"]) == EXIT_OK
    shown = capsys.readouterr().out
    for command in (
        "chat",
        "symptom",
        "resume",
        "sessions",
        "show",
        "verify",
        "cases",
        "trees",
        "quantity",
        "drive",
        "tool",
    ):
        assert f"\n    {command} " in shown
    for code in (EXIT_OK, EXIT_DISAGREES, EXIT_REFUSED, EXIT_FILE, EXIT_DEFECT, EXIT_MEMORY, EXIT_INTERRUPTED):
        assert f"\n  {code} " in shown


def test_the_guide_to_exit_codes_and_help_name_the_same_codes() -> None:
    page = (ROOT / "docs" / "exit-codes.md").read_text(encoding="utf-8")
    for code in (EXIT_OK, EXIT_DISAGREES, EXIT_REFUSED, EXIT_FILE, EXIT_DEFECT, EXIT_MEMORY, EXIT_INTERRUPTED):
        assert f"\n| {code} |" in page


def test_words_that_are_not_understood_are_refused_without_harm(capsys: pytest.CaptureFixture[str]) -> None:
    assert main.run(["\x1b[2Jopen"]) == EXIT_REFUSED
    told = capsys.readouterr()
    assert told.out == ""
    assert "\x1b" not in told.err
    assert "See triage --help." in told.err


def test_an_error_is_its_message_its_hint_and_its_code(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    assert failing(monkeypatch, QuantityRefused("No number.", "Type one.")) == EXIT_REFUSED
    assert capsys.readouterr().err == "No number.\nType one.\n"
    assert failing(monkeypatch, TraceDamaged("Line 3\x1b[0m.")) == EXIT_FILE
    assert capsys.readouterr().err == "Line 3‹1B›[0m.\n"


def test_a_defect_is_one_sentence_that_says_where_the_answers_are(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.delenv(main.TRACEBACK_VARIABLE, raising=False)
    assert failing(monkeypatch, KeyError("secret")) == EXIT_DEFECT
    told = capsys.readouterr().err
    assert "defect of the program" in told
    assert "on disk" in told
    assert "Traceback" not in told
    assert "secret" not in told


def test_a_developer_can_ask_for_the_traceback(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv(main.TRACEBACK_VARIABLE, "1")
    assert failing(monkeypatch, KeyError("secret")) == EXIT_DEFECT
    assert "Traceback" in capsys.readouterr().err


def test_a_refusal_of_the_system_is_no_defect(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(main, "_leave_output", lambda: None)
    assert failing(monkeypatch, OSError(28, "No space left on device")) == EXIT_FILE
    assert "No space left on device" in capsys.readouterr().err


def test_stopping_by_hand_is_quiet(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    monkeypatch.setattr(main, "_leave_output", lambda: None)
    assert failing(monkeypatch, KeyboardInterrupt()) == EXIT_INTERRUPTED
    assert capsys.readouterr().err == ""


def test_nobody_reading_is_quiet() -> None:
    reader, writer = os.pipe()
    os.close(reader)
    try:
        told = triage(*QUANTITY, out=writer)
    finally:
        os.close(writer)
    assert told.stderr == b""
    assert told.returncode == EXIT_INTERRUPTED


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="the system has no disk that is always full")
def test_a_full_disk_behind_the_output_is_said() -> None:
    with Path("/dev/full").open("wb") as full:
        told = triage(*QUANTITY, out=full.fileno())
    assert b"No space left" in told.stderr
    assert b"Traceback" not in told.stderr
    assert told.returncode == EXIT_FILE


def test_a_terminal_without_the_character_still_gets_the_answer() -> None:
    told = triage("quantity", "9 in-lb", "--as", "torque", under={"PYTHONIOENCODING": "ascii", "PYTHONUTF8": "0"})
    assert told.returncode == EXIT_OK
    assert told.stdout.split() == [b"9", b"lbf?in", b"(1.02", b"N?m)"]


ASCII_ONLY = {"LC_ALL": "C", "PYTHONUTF8": "0", "PYTHONCOERCECLOCALE": "0"}


@pytest.mark.skipif(os.name == "nt", reason="Windows hands words on as text")
@pytest.mark.parametrize(
    ("words", "answer"),
    [
        (("quantity", "9 N·m", "--as", "torque"), "9 N?m"),
        (("tool", "convert", "13 in·lbf", "N·m"), "1.4688 N?m"),
        (("drive", "two-pulleys", "--rpm", "900", "--repeat", "7.1 ± 0.2 Hz"), "It fits lap"),
    ],
    ids=lambda words: words[0] if isinstance(words, tuple) else "",
)
def test_a_word_with_a_point_is_understood_in_a_locale_of_plain_letters(words: tuple[str, ...], answer: str) -> None:
    told = triage(*words, under=ASCII_ONLY)
    assert told.returncode == EXIT_OK, told.stderr
    assert answer in told.stdout.decode()


@pytest.mark.skipif(os.name == "nt", reason="Windows hands words on as text")
def test_a_word_of_other_bytes_is_refused_with_the_name_of_the_locale() -> None:
    told = triage("quantity", os.fsdecode(b"9 N\xb7m"), "--as", "torque", under=ASCII_ONLY)
    assert told.returncode == EXIT_REFUSED
    assert b"no text in the locale C. Set a UTF-8 one, such as LC_ALL=C.UTF-8" in told.stderr
    assert b"DCB7" not in told.stderr


def test_alone_it_starts_the_chat(monkeypatch: pytest.MonkeyPatch) -> None:
    chosen = main.parser().parse_args(["chat"]).run
    started: list[argparse.Namespace] = []

    def chat(args: argparse.Namespace) -> int:
        started.append(args)
        return EXIT_OK

    monkeypatch.setattr(f"{chosen.__module__}.{chosen.__name__}", chat)
    assert main.run([]) == EXIT_OK
    assert len(started) == 1


@pytest.mark.skipif(os.name == "nt", reason="no shell that closes streams")
@pytest.mark.parametrize(
    ("closed", "code"),
    [("<&-", EXIT_OK), ("2>&-", EXIT_OK), (">&-", EXIT_INTERRUPTED), ("<&- >&- 2>&-", EXIT_INTERRUPTED)],
)
def test_a_closed_stream_is_no_defect(closed: str, code: int, tmp_path: Path) -> None:
    line = f'"{sys.executable}" -m triage chat {closed}'
    told = subprocess.run(
        ["/bin/sh", "-c", line],
        stdin=subprocess.DEVNULL,
        capture_output=True,
        cwd=ROOT,
        env={**os.environ, "TRIAGE_HOME": str(tmp_path)},
        check=False,
    )
    assert told.stderr == b""
    assert told.returncode == code
