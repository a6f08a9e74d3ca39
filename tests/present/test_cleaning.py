"""Text from other people does nothing to a terminal."""

import re
import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as some

from triage.present.cleaning import clean, clean_line


@pytest.mark.parametrize(
    ("hostile", "shown"),
    [
        ("\x1b[2J", "‹1B›[2J"),
        ("\x1b]0;title\x07", "‹1B›]0;title‹07›"),
        ("\x1b]52;c;aGk=\x1b\\", "‹1B›]52;c;aGk=‹1B›\\"),
        ("\x1bP1$r\x1b\\", "‹1B›P1$r‹1B›\\"),
        ("\x9b31m", "‹9B›31m"),
        ("\x9d0;title\x9c", "‹9D›0;title‹9C›"),
        ("a\x00b", "a‹00›b"),
        ("gone\rover", "gone‹0D›over"),
        ("back\x08\x7f", "back‹08›‹7F›"),
        ("\u202egnp.exe", "‹202E›gnp.exe"),
        ("\u2066a\u2069", "‹2066›a‹2069›"),
        ("half \ud83d", "half ‹D83D›"),
        ("a\u2028b", "a‹2028›b"),
    ],
)
def test_what_a_terminal_would_obey_is_shown_as_text(hostile: str, shown: str) -> None:
    assert clean(hostile) == shown


def test_what_technicians_write_stays_as_it_is() -> None:
    text = "Buzz ≈ 7 s, 1.5 N·m – “ok”\nbärend, 90°, 電 ½"
    assert clean(text) == text


def test_a_line_of_its_own_cannot_pass_for_two() -> None:
    assert clean_line("ok\nconcluded: nothing") == "ok‹0A›concluded: nothing"


@given(some.text(some.characters(exclude_categories=())))
def test_nothing_that_is_not_seen_comes_through(text: str) -> None:
    cleaned = clean(text)
    assert not [mark for mark in cleaned if mark != "\n" and unicodedata.category(mark) in ("Cc", "Cs", "Zl", "Zp")]
    assert not [mark for mark in cleaned if unicodedata.bidirectional(mark) in _TURNING]
    assert not re.search(r"[\u200b-\u200f\ufeff]", cleaned)
    assert clean(cleaned) == cleaned
    cleaned.encode("utf-8")


_TURNING = ("LRE", "RLE", "LRO", "RLO", "PDF", "LRI", "RLI", "FSI", "PDI")
