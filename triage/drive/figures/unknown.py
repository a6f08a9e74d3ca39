"""Figures that stay unknown because the layout does not say enough: never guessed, always with the reason."""

from typing import TypeVar

T = TypeVar("T")


class UnknownFigureError(ValueError):
    """A figure cannot be told.

    Args:
        reason: one sentence that says what is missing or in the way.
    """

    def __init__(self, reason: str) -> None:
        """Keep the reason as it is shown."""
        super().__init__(reason)
        self.reason = reason


def known(value: T | None, what: str) -> T:
    """Insist on something that a layout may leave out.

    Args:
        value: what the layout gives.
        what: how to call it, as the layout's keys do.

    Returns:
        the value.

    Raises:
        UnknownFigureError: it is not given.

    Source: common-practice
    """
    if value is None:
        raise UnknownFigureError(f"The layout does not give {what}.")
    return value
