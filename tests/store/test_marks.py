"""Marks inside a trace: what was noted at a hand-over must be what stands there."""

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest

from triage.errors import TraceDamaged
from triage.store import Head, Line, read_trace, verify_trace
from triage.store.lines import encode

LineMaker = Callable[..., Line]


@pytest.fixture
def sealed(tmp_path: Path) -> Callable[..., Path]:
    """Write lines whose digests fit; each mark that is `None` is taken where it stands."""

    def seal(*lines: Line) -> Path:
        path, digest = tmp_path / "job.jsonl", ""
        with path.open("wb") as file:
            for line in lines:
                if line.data.get("head", "") is None:
                    line = replace(line, data={**line.data, "head": str(Head(line.seq - 1, digest))})
                raw, digest = encode(line, digest)
                file.write(raw)
        return path

    return seal


def test_a_mark_that_fits_is_sound_and_so_is_none(line: LineMaker, sealed: Callable[..., Path]) -> None:
    assert verify_trace(sealed(line(1), line(2, head=None), line(3), line(4, head=None), line(5, head=""))) == []


def test_lines_that_were_written_anew_no_longer_fit_the_mark_behind_them(
    line: LineMaker, sealed: Callable[..., Path]
) -> None:
    path = sealed(line(1), line(2, text="worn"), line(3, head=None), line(4))
    kept = read_trace(path).lines
    sealed(kept[0], line(2, text="sound"), *kept[2:])
    (fault,) = verify_trace(path)
    mark = kept[2].data["head"]
    assert fault.message == f"Line 3 holds the mark {mark}, which fits no line before it: they were written anew."
    with pytest.raises(TraceDamaged, match="Line 3 holds the mark"):
        read_trace(path)


@pytest.mark.parametrize("mark", ["2-000000000000", "3-000000000000", "99-000000000000", "x", 7, ["2"]])
def test_a_mark_that_means_no_line_is_named(line: LineMaker, sealed: Callable[..., Path], mark: object) -> None:
    (fault,) = verify_trace(sealed(line(1), line(2), line(3, head=mark)))
    assert fault.line == 3
