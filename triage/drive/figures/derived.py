"""A figure that is worked out from a layout: known, unsure by so much, or unknown with the reason; never guessed."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Generic, TypeVar

T = TypeVar("T")

NO_TENSIONER = "The layout names no tensioner."
"""Why nothing is said of one; no lack of the layout."""


@dataclass(frozen=True)
class Derived(Generic[T]):
    """A figure as far as its layout goes.

    Args:
        value: the figure, none where it is unknown.
        reason: one sentence that says why it is unknown, "" where it is known.
        uncertainty: standard uncertainty that what is unsure in the layout leaves, in the figure's own unit; infinite
            where something within its width would leave the figure unknown, none where all is sure.
    """

    value: T | None
    reason: str = ""
    uncertainty: T | None = None


def each(figure: float | tuple[float, ...] | None) -> tuple[float, ...]:
    """Take a single figure as a list of one.

    Args:
        figure: one, n or none [SI].

    Returns:
        one, n or no figures [SI].

    Source: common-practice
    """
    if figure is None:
        return ()
    return figure if isinstance(figure, tuple) else (figure,)


class UnknownFigureError(ValueError):
    """On the way to a figure something is missing or in the way.

    Args:
        reason: one sentence that says what.
    """

    def __init__(self, reason: str) -> None:
        """Keep the reason as it is shown."""
        super().__init__(reason)
        self.reason = reason


def derived(working: Callable[[], T]) -> Derived[T]:
    """Work a figure out, or keep the reason why it cannot be."""
    try:
        return Derived(working())
    except UnknownFigureError as unknown:
        return Derived(None, unknown.reason)


def known(value: T | None, what: str) -> T:
    """Insist on something that a layout may leave out; `what` names it as the layout's keys do.

    Raises:
        UnknownFigureError: it is not given.
    """
    if value is None:
        raise UnknownFigureError(f"The layout does not give {what}.")
    return value
