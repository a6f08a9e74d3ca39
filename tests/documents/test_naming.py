"""Keys and values as they stand within a sentence."""

import pytest

from triage.documents.naming import called, shown, word


@pytest.mark.parametrize(
    ("text", "name"),
    [
        ("belt-fit", "belt-fit"),
        ("maß", "maß"),
        ("two words", "two words"),
        ("\x1b[31m", r"\x1b[31m"),
        ("\u202eab", r"\u202eab"),
        ("x" * 50, "x" * 40 + "…"),
    ],
)
def test_a_key_is_named_safely_and_briefly(text: str, name: str) -> None:
    assert word(text) == name


def test_the_whole_document_has_a_name_too() -> None:
    assert called(()) == "The document"
    assert called((1, "a")) == "[2].a"


def test_a_long_number_is_cut() -> None:
    assert shown(10**100) == "1" + "0" * 39
