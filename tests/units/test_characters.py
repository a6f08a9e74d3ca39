"""Typed text made plain."""

import pytest

from triage.errors import QuantityRefused
from triage.units.characters import LONGEST_TEXT, plain


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("  9 \u00a0 in-lb ", "9 in-lb"),
        ("−5 V", "-5 V"),
        ("2½″", '2 1/2 "'),
        ("750 1/min", "750 /min"),
        ("750 min⁻¹", "750 /min"),
        ("3 kg m^2", "3 kg m²"),
        ("7 s-10 s", "7 s-10 s"),
        ("1 min-1.5 min", "1 min-1.5 min"),
    ],
)
def test_each_mark_has_one_plain_spelling(text: str, expected: str) -> None:
    assert plain(text) == expected


@pytest.mark.parametrize(
    "mark",
    ["\t", "\n", "\x00", "\x1b", "\x7f", "\x9b", "\u200b", "\u200f", "\u202e", "\u2066", "\ufeff", "\ufe0f", "\udcff"],
)
def test_what_cannot_be_seen_is_refused_by_its_code(mark: str) -> None:
    with pytest.raises(QuantityRefused, match=f"invisible character.*{ord(mark):04X}"):
        plain(f"9{mark} Nm")


@pytest.mark.parametrize("mark", ["é", "３", "٣", "€", "\u3164", "漢"])
def test_a_foreign_letter_or_figure_is_refused_by_its_code(mark: str) -> None:
    with pytest.raises(QuantityRefused, match=f"U\\+{ord(mark):04X}"):
        plain(f"9{mark} Nm")


def test_text_of_any_length_is_refused_beyond_the_limit() -> None:
    assert plain("9" * LONGEST_TEXT)
    with pytest.raises(QuantityRefused, match="100000 characters"):
        plain("m" * 100_000)
