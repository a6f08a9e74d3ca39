from collections.abc import Callable
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from triage.store import FaultKind, Head, Line, TraceWriter
from triage.store.examine import Examination, compare_end, examine

TraceMaker = Callable[..., Path]


def kinds(examination: Examination) -> list[tuple[FaultKind, int]]:
    return [(fault.kind, fault.line) for fault in examination.faults]


def test_every_flipped_bit_is_named_at_its_line(trace: TraceMaker) -> None:
    content = trace(3).read_bytes()
    for place in range(len(content)):
        number = content[:place].count(b"\n") + 1
        for bit in range(8):
            edited = bytearray(content)
            edited[place] ^= 1 << bit
            faults = examine(bytes(edited)).faults
            assert faults, (place, bit)
            assert faults[0].line == number, (place, bit, faults)
            assert f"ine {number} " in faults[0].message or f"ines {number} to " in faults[0].message


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], max_examples=300)
@given(data=st.data())
def test_no_edit_of_any_kind_passes(data: st.DataObject, trace_bytes: bytes) -> None:
    start = data.draw(st.integers(0, len(trace_bytes)))
    end = data.draw(st.integers(start, len(trace_bytes)))
    edited = trace_bytes[:start] + data.draw(st.binary(max_size=40)) + trace_bytes[end:]
    lines_kept = edited.count(b"\n")
    if trace_bytes.startswith(edited) and (edited.endswith(b"\n") or not edited):
        # Whole lines gone from the end: that is what the head is for.
        assert [fault.kind for fault in examine(edited).faults] == ([] if lines_kept else [FaultKind.EMPTY])
    elif edited != trace_bytes:
        assert examine(edited).faults


@pytest.fixture(scope="module")
def trace_bytes(tmp_path_factory: pytest.TempPathFactory) -> bytes:
    writer = TraceWriter.create(tmp_path_factory.mktemp("traces"), "job")
    writer.append([Line(seq, seq, "Ann", "noted", 1, {"format": 1}) for seq in range(1, 5)])
    writer.close()
    return writer.path.read_bytes()


def test_a_last_line_torn_at_any_byte_leaves_the_others_readable(trace: TraceMaker) -> None:
    content = trace(3).read_bytes()
    last = content.rindex(b"\n", 0, -1) + 1
    for end in range(last + 1, len(content) - 1):
        found = examine(content[:end])
        assert kinds(found) == [(FaultKind.TORN, 3)]
        assert (len(found.lines), found.torn, found.damage) == (2, content[last:end], ())


def test_a_last_line_that_lacks_only_its_line_end_counts(trace: TraceMaker) -> None:
    content = trace(3).read_bytes()
    found = examine(content[:-1])
    assert kinds(found) == [(FaultKind.TORN, 3)]
    assert (found.lines, found.head) == (examine(content).lines, examine(content).head)
    assert (found.torn, found.ended) == (b"", False)


def test_an_edited_last_line_without_line_end_is_changed_and_not_only_torn(trace: TraceMaker) -> None:
    found = examine(trace(3).read_bytes()[:-1].replace("né 3".encode(), b"no 3"))
    assert [fault.kind for fault in found.damage] == [FaultKind.CHANGED]


@pytest.mark.parametrize("content", [b"", b'{"seq":1,"ti'])
def test_a_file_without_a_whole_line_says_that_nothing_was_saved(content: bytes) -> None:
    assert examine(content).damage[0].kind is FaultKind.EMPTY


def test_a_file_of_zeros_after_a_power_cut_is_torn_and_not_damage(trace: TraceMaker) -> None:
    assert examine(trace(3).read_bytes() + bytes(4096)).damage == ()


def test_a_file_that_is_no_trace_is_not_named_to_its_end() -> None:
    faults = examine(b"\n" * 5_000_000).faults
    assert len(faults) == 100


def test_a_file_beyond_the_limit_is_not_looked_at(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("triage.store.examine.TRACE_LIMIT_BYTES", 1 << 20)
    assert kinds(examine(bytes((1 << 20) + 1))) == [(FaultKind.TOO_LARGE, 0)]


def test_ten_thousand_events_are_sound(trace: TraceMaker) -> None:
    found = examine(trace(10_000).read_bytes())
    assert (found.faults, found.head.count) == ((), 10_000)


def test_the_head_shows_how_many_last_lines_are_gone(trace: TraceMaker) -> None:
    content = trace(5).read_bytes()
    head = Head.parse(str(examine(content).head))
    shorter = b"".join(content.splitlines(keepends=True)[:3])
    assert [fault.message for fault in compare_end(examine(shorter), head)] == [
        "The last 2 lines are missing: there were 5, and 3 are left."
    ]
    assert not list(compare_end(examine(content), head))


def test_a_trace_that_grew_after_its_head_was_noted_fits(trace: TraceMaker) -> None:
    content = trace(5).read_bytes()
    earlier = examine(b"".join(content.splitlines(keepends=True)[:3])).head
    assert not list(compare_end(examine(content), earlier))


def test_a_trace_that_was_rewritten_as_a_whole_does_not_fit_its_head(trace: TraceMaker) -> None:
    found = examine(trace(5).read_bytes())
    assert [fault.line for fault in compare_end(found, Head(5, "0" * 12))] == [5]
