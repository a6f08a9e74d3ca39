"""What is written reads back as the same data, and what could not be read back is not written."""

import json

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from triage.documents import read_text, write_document
from triage.errors import DocumentFaulty

DISPUTED = ["yes", "no", "010", "12:30", "1e3", "1e-06", "0x1F", "2024-05-06", "~", "null", "<<", "=", ".inf", "", " "]
MARKS = [
    "- a",
    "a: b",
    "a #b",
    "# c",
    "'",
    '"',
    "\\",
    "|",
    "> x",
    "%",
    "@",
    "&a",
    "*a",
    "!t",
    "[",
    "{}",
    "?",
    ":",
    "---",
]
WORDS = st.sampled_from(DISPUTED + MARKS)
LINES = st.text(st.characters(codec="utf-8", exclude_categories=["C", "Zl", "Zp"]) | st.just("\n"))
PROSE = st.lists(st.text("abc:#-'\" ", min_size=1, max_size=9), max_size=60).map(" ".join)
TEXT = WORDS | LINES | PROSE
DATA = st.recursive(
    st.none()
    | st.booleans()
    | st.integers(-(10**30), 10**30)
    | st.floats(allow_nan=False, allow_infinity=False)
    | TEXT,
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(TEXT, inner, max_size=4),
    max_leaves=15,
)


@given(DATA, LINES)
@example({"a": [[], {}, [[1]], {"b": {}}]}, "")
@example({"x" * 2000: {"y\nz": "\n\n  a\n b\n"}}, "")
def test_what_is_written_reads_back_as_the_same_data(data: object, heading: str) -> None:
    assert json.dumps(read_text(write_document(data, heading=heading), "f").data) == json.dumps(data)


def test_it_is_written_as_a_person_would() -> None:
    data = {"id": "look", "minutes": 5, "belt": "on", "steps": ["Look: twice.", "Turn it.\nListen.\n"], "none": None}
    assert write_document(data, heading="A shop's own\nfile") == (
        "# A shop's own\n# file\n"
        "id: look\nminutes: 5\nbelt: \"on\"\nsteps:\n- 'Look: twice.'\n- |\n  Turn it.\n  Listen.\nnone: null\n"
    )


def test_keys_stay_in_their_order_and_equal_parts_are_written_out() -> None:
    part = {"z": 1, "a": 2}
    assert write_document([part, part]) == "- z: 1\n  a: 2\n- z: 1\n  a: 2\n"


@pytest.mark.parametrize(
    "data", [float("nan"), float("inf"), "\x1b[31m", "a\tb", "\u202e", "\ud800", {5: "x"}, {"s": {1, 2}}, 10**50]
)
def test_what_could_not_be_read_back_is_not_written(data: object) -> None:
    with pytest.raises(DocumentFaulty):
        write_document(data)
