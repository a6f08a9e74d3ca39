"""A drive entered at the bay, the same in every face: questions until a layout is saved in the shop's own folder."""

from dataclasses import dataclass

from triage.app.shop.own_layouts import names_taken, save_layout
from triage.present.typing.results import Ask
from triage.record.layout import Layout

NEW = "new"
"""What is typed in the place of a layout's name to enter one."""


@dataclass(frozen=True)
class Kept:
    """A layout that was entered and saved.

    Args:
        name: under which.
        layout: what it holds.
    """

    name: str
    layout: Layout


def entered(lines: tuple[str, ...]) -> Ask | Kept:
    """The next question, or the layout that came of the lines, saved.

    Raises:
        TriageError: the last line was not understood, or the layout cannot be saved; the line can be typed again.
    """
    from triage.drive.entry.dialogue import asked

    came = asked(lines, names_taken())
    if isinstance(came, str):
        return Ask(came, by_line=bool(lines))
    save_layout(came.name, came.layout)
    return Kept(came.name, came.layout)
