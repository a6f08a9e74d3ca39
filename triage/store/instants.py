"""Moments as a trace writes them: ISO 8601 text in UTC on disk, whole milliseconds everywhere else.

Both directions use whole numbers only, so a moment comes back exactly and each has one spelling.
"""

from datetime import UTC, datetime, timedelta

_EPOCH = datetime(1970, 1, 1, tzinfo=UTC)
_MILLISECOND = timedelta(milliseconds=1)


def iso_text(at_ms: int) -> str:
    """Write a moment as ISO 8601 text.

    Args:
        at_ms: time since the UTC epoch [ms].

    Returns:
        text of 24 characters that ends in Z.

    Raises:
        ValueError: the moment is not in the years 1 to 9999.

    >>> iso_text(1_767_225_600_042)
    '2026-01-01T00:00:00.042Z'
    """
    try:
        moment = _EPOCH + timedelta(milliseconds=at_ms)
    except OverflowError:
        raise ValueError(f"no calendar has a date for {at_ms} ms") from None
    return moment.isoformat(timespec="milliseconds").removesuffix("+00:00") + "Z"


def iso_ms(text: str) -> int:
    """Read a moment that `iso_text` wrote.

    Args:
        text: the moment, spelled exactly as `iso_text` spells it.

    Returns:
        time since the UTC epoch [ms].

    Raises:
        ValueError: the text is no moment, or another spelling of one.

    >>> iso_ms('2026-01-01T00:00:00.042Z')
    1767225600042
    """
    if not text.endswith("Z"):
        raise ValueError(f"{text!r} is not a time in UTC")
    at_ms = (datetime.fromisoformat(text) - _EPOCH) // _MILLISECOND
    if iso_text(at_ms) != text:
        raise ValueError(f"{text!r} is not spelled like {iso_text(at_ms)!r}")
    return at_ms
