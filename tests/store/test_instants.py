import pytest
from hypothesis import given
from hypothesis import strategies as st

from triage.store.instants import iso_ms, iso_text

FIRST_MS = -62_135_596_800_000
LAST_MS = 253_402_300_799_999


@given(st.integers(FIRST_MS, LAST_MS))
def test_every_millisecond_of_the_calendar_comes_back_exactly(at_ms: int) -> None:
    assert iso_ms(iso_text(at_ms)) == at_ms


@pytest.mark.parametrize(
    ("at_ms", "text"),
    [
        (0, "1970-01-01T00:00:00.000Z"),
        (-1, "1969-12-31T23:59:59.999Z"),
        (FIRST_MS, "0001-01-01T00:00:00.000Z"),
        (LAST_MS, "9999-12-31T23:59:59.999Z"),
        (951_782_400_001, "2000-02-29T00:00:00.001Z"),
    ],
)
def test_known_moments_are_written_in_full(at_ms: int, text: str) -> None:
    assert iso_text(at_ms) == text


@pytest.mark.parametrize("at_ms", [FIRST_MS - 1, LAST_MS + 1, 10**30])
def test_a_moment_outside_the_calendar_is_refused(at_ms: int) -> None:
    with pytest.raises(ValueError, match="calendar"):
        iso_text(at_ms)


@pytest.mark.parametrize(
    "text",
    [
        "2026-01-01T00:00:00Z",
        "2026-01-01T00:00:00.0000Z",
        "2026-01-01T00:00:00.000001Z",
        "2026-01-01 00:00:00.000Z",
        "2026-01-01T00:00:00.000+00:00",
        "2026-01-01T00:00:00.000",
        "2026-01-01T00:00:60.000Z",
        "2026-02-29T00:00:00.000Z",
        "2026-W01-4T00:00:00.000Z",
        "20260101T000000.000Z",
        "２026-01-01T00:00:00.000Z",
        "Z",
        "",
    ],
)
def test_any_other_spelling_is_refused(text: str) -> None:
    with pytest.raises(ValueError, match=r".+"):
        iso_ms(text)
