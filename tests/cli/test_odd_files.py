"""Links that lead nowhere, pipes and folders in the place of a shop file, layout, list of cases or tree."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

from triage.errors import EXIT_DISAGREES, EXIT_FILE

pytestmark = pytest.mark.skipif(os.name == "nt", reason="Windows has no pipes and links of this kind")

ODD = {"pipe": "is a pipe", "link": "is a link to a file that is not there"}
COMMANDS = {
    ("drive",): EXIT_FILE,
    ("cases",): EXIT_FILE,
    ("rank",): EXIT_FILE,
    ("trees", "compare"): EXIT_FILE,
    ("trees", "check"): EXIT_DISAGREES,
}


def put(kind: str, path: Path) -> Path:
    if kind == "pipe":
        os.mkfifo(path)
    else:
        path.symlink_to("nowhere.yaml")
    return path


def triage(*words: str, home: Path) -> "subprocess.CompletedProcess[str]":
    """Run in a process of its own: one that hangs is ended, and the test fails."""
    return subprocess.run(
        [sys.executable, "-m", "triage", *words],
        stdin=subprocess.DEVNULL,
        capture_output=True,
        text=True,
        env={**os.environ, "TRIAGE_HOME": str(home)},
        timeout=60,
        check=False,
    )


@pytest.mark.parametrize("kind", ODD)
@pytest.mark.parametrize("command", COMMANDS, ids=" ".join)
def test_a_named_file_that_is_none_is_said(command: tuple[str, ...], kind: str, tmp_path: Path) -> None:
    told = triage(*command, str(put(kind, tmp_path / "odd.yaml")), home=tmp_path)
    assert ODD[kind] in told.stdout + told.stderr
    assert told.returncode == COMMANDS[command]


@pytest.mark.parametrize("kind", ODD)
def test_a_shop_file_that_is_none_is_not_taken_for_no_shop_file(kind: str, tmp_path: Path) -> None:
    put(kind, tmp_path / "shop.yaml")
    told = triage("chat", home=tmp_path)
    assert f"shop.yaml:1:1: The file cannot be read: it {ODD[kind]}" in told.stderr
    assert (told.stdout, told.returncode) == ("", EXIT_FILE)


@pytest.mark.parametrize("kind", ODD)
def test_the_page_about_the_shop_file_says_it_too(kind: str, tmp_path: Path) -> None:
    put(kind, tmp_path / "shop.yaml")
    script = "from triage.cli.face import desk; print(*desk().shop(), sep='\\n')"
    told = subprocess.run(
        [sys.executable, "-c", script],
        capture_output=True,
        text=True,
        env={**os.environ, "TRIAGE_HOME": str(tmp_path)},
        timeout=60,
        check=True,
    )
    assert ODD[kind] in told.stdout
