"""Footer, help and keys out of the one table of words."""

import pytest

from triage.present.commands import SCREEN_WORDS, WORDS
from triage.tui.app import TriageApp
from triage.tui.session.helping import footer_words, session_help
from triage.tui.session.session_screen import SessionScreen

ALL = (*WORDS, *SCREEN_WORDS)
KEYED = [word for word in ALL if word.key]


@pytest.mark.parametrize("width", [40, 60, 80, 120, 400])
def test_the_footer_fits_and_begins_with_help(width: int) -> None:
    said = footer_words(width)
    assert said.startswith("F1 help")
    assert len(said) <= width - 2
    assert width < 400 or all(word.name in said for word in WORDS)


def test_no_key_says_two_words() -> None:
    assert len({word.key for word in KEYED}) == len(KEYED)
    assert len({word.name for word in ALL}) == len(ALL)


def test_every_key_of_the_table_is_bound() -> None:
    bound = {key for binding in (*SessionScreen.BINDINGS, *TriageApp.BINDINGS) for key in binding.key.split(",")}  # type: ignore[union-attr]
    assert {word.key.lower() for word in KEYED} <= bound


@pytest.mark.parametrize("width", [36, 56, 76])
def test_help_names_every_word_with_what_it_does(width: int) -> None:
    told = session_help("1 or 2, then Enter", width)
    squeezed = "".join("".join(told).split())
    assert told[0] == "Now: 1 or 2, then Enter"
    assert all("".join(word.name.split()) in squeezed for word in ALL)
    assert all(len(line) <= width for line in told[:-2])
