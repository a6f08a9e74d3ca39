"""The specification in docs/trace-format.md, checked by its own script."""

import re
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from triage.app.tracing import to_events, to_lines
from triage.store import read_trace, travelling, verify_trace
from triage.store.lines import decode

TraceMaker = Callable[..., Path]
PAGE = (Path(__file__).parents[2] / "docs" / "trace-format.md").read_text(encoding="utf-8")


def block(language: str) -> str:
    (found,) = re.findall(rf"```{language}\n(.*?)```", PAGE, re.DOTALL)
    return str(found)


def check(path: Path) -> "subprocess.CompletedProcess[str]":
    command = [sys.executable, "-I", "-X", "utf8", "-c", block("python"), str(path)]
    return subprocess.run(command, capture_output=True, text=True, check=False, timeout=60)


def test_the_script_on_the_page_is_short_enough_to_be_read() -> None:
    assert len([line for line in block("python").splitlines() if line]) <= 15


def test_the_script_prints_the_head_of_a_sound_trace(trace: TraceMaker) -> None:
    path = trace(20)
    assert check(path).stdout == f"{read_trace(path).head}\n"


def test_the_example_on_the_page_is_a_sound_trace_with_the_head_that_it_says(tmp_path: Path) -> None:
    path = tmp_path / "example.jsonl"
    path.write_text(block("jsonl"), encoding="utf-8", newline="\n")
    assert verify_trace(path) == []
    assert f"`{check(path).stdout.strip()}`" in PAGE


def test_the_knowledge_on_the_page_is_what_its_first_line_names_and_travels_as_the_page_says(tmp_path: Path) -> None:
    path = tmp_path / "travelling.jsonl"
    path.write_text(block("jsonl") + block("json"), encoding="utf-8", newline="\n")
    assert verify_trace(path) == []
    assert travelling(path)[0] == path.read_bytes()
    assert f"`{check(path).stdout.strip()}`" in PAGE


def test_the_second_line_of_the_example_is_an_event_as_the_program_writes_it() -> None:
    line = decode(block("jsonl").splitlines(keepends=True)[1].encode())
    (event,) = to_events([line])
    assert to_lines([event], 2) == [line]


@pytest.mark.parametrize("edit", ["change", "remove", "swap", "tear", "format"])
def test_the_script_refuses_what_the_program_refuses(edit: str, trace: TraceMaker) -> None:
    path = trace(4)
    raws = path.read_bytes().splitlines(keepends=True)
    edited = {
        "change": [raws[0], raws[1].replace(b"Ann", b"Bob"), *raws[2:]],
        "remove": [raws[0], *raws[2:]],
        "swap": [raws[0], raws[2], raws[1], raws[3]],
        "tear": [*raws[:3], raws[3][:-5]],
        "format": [raws[0].replace(b'"format":1', b'"format":3'), *raws[1:]],
    }[edit]
    path.write_bytes(b"".join(edited))
    assert verify_trace(path)
    result = check(path)
    assert (result.returncode, result.stdout) == (1, "")
    assert "Traceback" not in result.stderr
