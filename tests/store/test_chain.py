"""Each world is drawn as the order of its lines: 1 2 4 is a trace whose line 3 was taken out."""

from collections.abc import Callable
from pathlib import Path

import pytest

from triage.store.chain import Chain, Record
from triage.store.lines import decode, encode

TraceMaker = Callable[..., Path]


def faults(raws: list[bytes]) -> str:
    faults = Chain([Record.read(raw) for raw in raws]).faults
    return ", ".join(f"{fault.kind} {fault.line}" for fault in faults)


@pytest.mark.parametrize(
    ("order", "named"),
    [
        ("1 2 3 4 5 6", ""),
        ("1 2 3", ""),
        ("1 2 4 5 6", "missing 3"),
        ("1 2 6", "missing 3"),
        ("2 3 4 5 6", "missing 1"),
        ("1 3 5", "missing 2, missing 4"),
        ("1 3 2 4 5 6", "reordered 2"),
        ("1 2 3 4 6 5", "reordered 5"),
        ("6 5 4 3 2 1", "reordered 1, reordered 2, reordered 3, reordered 4, reordered 5"),
        ("1 2 2 3 4", "repeated 2"),
        ("1 2 3 4 2 5", "repeated 2"),
        ("1 2 5 4 6", "missing 3, reordered 4"),
    ],
)
def test_lines_out_of_place_are_named_and_the_others_are_not(order: str, named: str, trace: TraceMaker) -> None:
    raws = trace(6).read_bytes().splitlines(keepends=True)
    assert faults([raws[int(number) - 1] for number in order.split()]) == named


def test_two_edits_are_both_named_and_nothing_between_them(trace: TraceMaker) -> None:
    raws = trace(9).read_bytes().splitlines(keepends=True)
    raws[2] = raws[2].replace(b"Ann", b"Bob")
    raws[6] = raws[6].replace(b"note", b"NOTE")
    assert faults(raws) == "changed 3, changed 7"


def test_an_edited_digest_does_not_blame_the_next_line(trace: TraceMaker) -> None:
    raws = trace(4).read_bytes().splitlines(keepends=True)
    raws[1] = raws[1][:-60] + (b"0" if raws[1][-60:-59] != b"0" else b"1") + raws[1][-59:]
    assert faults(raws) == "changed 2"


def test_a_line_without_digest_does_not_blame_the_next_line(trace: TraceMaker) -> None:
    raws = trace(4).read_bytes().splitlines(keepends=True)
    raws[1] = b"{}\n"
    assert faults(raws) == "unreadable 2"


def test_a_line_from_another_trace_is_named(trace: TraceMaker) -> None:
    raws = trace(5).read_bytes().splitlines(keepends=True)
    # The same event after another history: its own digest is right, its place is not.
    raws[3] = encode(decode(raws[3]), "f" * 64)[0]
    assert faults(raws) == "changed 4"


def test_a_line_made_anew_with_its_digest_shows_at_the_next(trace: TraceMaker) -> None:
    raws = trace(5).read_bytes().splitlines(keepends=True)
    before = Record.read(raws[1]).digest
    raws[2] = encode(decode(raws[2].replace(b"Ann", b"Bob")), before)[0]
    chain = Chain([Record.read(raw) for raw in raws])
    assert [fault.message for fault in chain.faults] == [
        "Line 4 was changed after it was saved, or line 3 was made anew."
    ]


def test_a_number_beyond_all_counting_is_one_fault(trace: TraceMaker) -> None:
    raws = trace(3).read_bytes().splitlines(keepends=True)
    raws[1] = raws[1].replace(b'"seq":2', b'"seq":' + b"9" * 40)
    assert faults(raws).startswith("missing 2, ")


def test_an_unreadable_line_does_not_hide_an_edit_of_the_next(trace: TraceMaker) -> None:
    raws = trace(5).read_bytes().splitlines(keepends=True)
    raws[2] = raws[2].replace(b'{"seq"', b'["seq"')
    raws[3] = raws[3].replace(b"Ann", b"Bob")
    assert faults(raws) == "unreadable 3, changed 4"
