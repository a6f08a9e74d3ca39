import pytest

from triage.errors import TriageError
from triage.store import Head


def test_the_short_form_comes_back_as_count_and_twelve_digits() -> None:
    head = Head(42, "00c0ffee00aa" + "0" * 52)
    assert str(head) == "42-00c0ffee00aa"
    assert Head.parse(str(head)) == Head(42, "00c0ffee00aa")


def test_the_whole_digest_is_taken_as_well() -> None:
    whole = "00c0ffee00aa" + "1f" * 26
    assert Head.parse(f"42-{whole.upper()}") == Head(42, whole)


@pytest.mark.parametrize(
    "text",
    [
        *("", "42", "42-", "0-00c0ffee00aa", "-1-00c0ffee00aa", "42-00c0ffee00a", "42-00c0ffee00aaa"),
        *(
            "42-" + "0" * 13,
            "42-" + "0" * 63,
            "42-" + "0" * 65,
            "42-00c0ffee00ag",
            "42 00c0ffee00aa",
            "٤-00c0ffee00aa",
            "9" * 5000 + "-00c0ffee00aa",
            "\x1b[2J",
        ),
    ],
)
def test_anything_else_is_refused_with_an_example(text: str) -> None:
    with pytest.raises(TriageError, match="42-00c0ffee00aa"):
        Head.parse(text)
