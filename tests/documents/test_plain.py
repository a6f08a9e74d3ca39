"""Words without quotes: what they mean, and which are refused because readers disagree."""

from typing import Any

import pytest
import yaml
from hypothesis import given
from hypothesis import strategies as st

from triage.documents.plain import meaning, surprise


@pytest.mark.parametrize(
    ("word", "value"),
    [
        ("", None),
        ("null", None),
        ("true", True),
        ("false", False),
        ("0", 0),
        ("-12", -12),
        ("1.50", 1.5),
        ("-0.5", -0.5),
        ("1e3", 1000.0),
        ("1E-6", 1e-6),
        ("2.5e+3", 2500.0),
    ],
)
def test_true_false_null_and_the_numbers_of_json_are_not_text(word: str, value: object) -> None:
    assert surprise(word) is None
    assert (meaning(word), type(meaning(word))) == (value, type(value))


TEXT = "belt y n none nothing offset only 9-13 1,5 3/16 1.2.3 - -- x12:30 1e e3 0x -x .hidden ~/file 12: infinite ٣"
DISPUTED_WORDS = "yes Yes NO on Off True FALSE Null NULL ~ << .inf -.INF .NaN inf nan Infinity"
DISPUTED_NUMBERS = "010 -07 08 01.5 0x1F 0o17 0b11 1_000 1_0.5 0.5_0 +5 .5 5. -.5 +1e3 1e999 -1e999"
DISPUTED_TIMES = "12:30 190:20:30 12:30.5 1_:0 2024-05-06 2024-5-6T10:00:00Z"


@pytest.mark.parametrize("word", [*TEXT.split(), "90 N·m", "2024-01-02 was a Tuesday", "12 :30"])
def test_everything_that_no_reader_takes_for_something_else_is_text(word: str) -> None:
    assert surprise(word) is None
    assert meaning(word) == word


@pytest.mark.parametrize("word", [*DISPUTED_WORDS.split(), *DISPUTED_NUMBERS.split(), *DISPUTED_TIMES.split()])
def test_words_on_which_readers_disagree_are_refused(word: str) -> None:
    assert surprise(word)


@pytest.mark.parametrize("word", ["2024-05-06 10:00:00", "1" * 41, "0." + "1" * 40])
def test_a_time_with_a_space_and_an_endless_number_are_refused(word: str) -> None:
    assert surprise(word)


NEVER_PLAIN = ("=", "!", "&", "*")
"""PyYAML gives these tags of their own, which no reader acts on."""


@given(st.from_regex(r"[-+.0-9_:xXob~<a-fTZ ]{1,12}", fullmatch=True) | st.text(max_size=5))
def test_what_is_not_refused_means_the_same_to_a_reader_of_yaml_1_1_powers_of_ten_apart(word: str) -> None:
    if surprise(word) or word in NEVER_PLAIN or "e" in word.lower():
        return
    names = {str: "str", int: "int", float: "float", bool: "bool", type(None): "null"}
    resolver: Any = yaml.SafeLoader("")
    usual = resolver.resolve(yaml.ScalarNode, word, (True, False))
    assert usual == f"tag:yaml.org,2002:{names[type(meaning(word))]}"
