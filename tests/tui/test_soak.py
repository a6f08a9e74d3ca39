"""A small version of tests/bench/soak_keys.py, and proof that its watcher can see what it watches for."""

import json
import shutil
from pathlib import Path
from typing import Any

import pytest

pytest.importorskip("pty")
from tests.bench import soak_keys, soak_watcher

DEMOS = Path(__file__).parents[2] / "transcripts_demo"


def test_random_keys_neither_end_the_program_nor_pass_an_interlock() -> None:
    counts = soak_keys.soak(300, seed=3)
    assert counts["keys"] >= 300
    assert counts["steps offered"] > 5


@pytest.fixture
def demo() -> list[dict[str, Any]]:
    """The lines of a demo in which an engine runs."""
    for path in sorted(DEMOS.glob("*.jsonl")):
        lines = [json.loads(line) for line in path.read_text(encoding="utf-8").splitlines()]
        if any(line["kind"] == "state-entered" and line["data"]["state"] == "running" for line in lines):
            return lines
    raise AssertionError("no demo runs an engine")


def watched(folder: Path, lines: list[dict[str, Any]]) -> Any:
    shutil.copytree(DEMOS / "knowledge", folder / "knowledge")
    path = folder / "trace.jsonl"
    path.write_text("".join(json.dumps(line) + "\n" for line in lines), encoding="utf-8")
    watcher = soak_watcher.Watcher(path)
    watcher.look()
    return watcher


def test_the_watcher_finds_nothing_in_a_sound_trace(demo: list[dict[str, Any]], tmp_path: Path) -> None:
    assert watched(tmp_path, demo).counts["of them with the engine running"] > 0


@pytest.mark.parametrize("kind", ["thing-confirmed", "state-entered"])
def test_the_watcher_misses_what_was_left_out_before_a_running_engine(
    demo: list[dict[str, Any]], tmp_path: Path, kind: str
) -> None:
    needed = next(line for line in demo if line["kind"] == kind and line["data"]["state"] == "running")
    with pytest.raises(AssertionError, match=r"without a confirmation|not confirmed|nothing is confirmed"):
        watched(tmp_path, [line for line in demo if line is not needed])


def test_the_watcher_doubts_what_goes_along_younger_than_it_was_confirmed(
    demo: list[dict[str, Any]], tmp_path: Path
) -> None:
    carried = next(line for line in demo if line["kind"] == "things-carried")
    thing = next(iter(carried["data"]["since"]))
    carried["data"]["since"][thing] += 1
    with pytest.raises(AssertionError, match=f"{thing} goes along with another time"):
        watched(tmp_path, demo)


def test_the_watcher_sees_confirmations_that_have_aged(demo: list[dict[str, Any]], tmp_path: Path) -> None:
    for line in demo:
        if line["kind"] == "thing-confirmed":
            line["time"] = line["time"].replace("2026-", "2025-")
    with pytest.raises(AssertionError, match="has aged"):
        watched(tmp_path, demo)
