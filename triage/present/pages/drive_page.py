"""What a layout's drive does, as a page: drawing and figures."""

from triage.app.drive_known import worked_out
from triage.drive.pages.figures_page import WIDTH, account
from triage.knowledge.models import Knowledge
from triage.record.layout import Layout
from triage.session.state import State

NO_LAYOUT = 'There is no layout of this vehicle\'s drive. Type "layout" and name one.'


def drive_page(_knowledge: Knowledge, state: State, columns: int = WIDTH) -> list[str]:
    """Drawing and figures of this vehicle's drive, on lines of at most `columns` characters."""
    if state.layout is None:
        return [NO_LAYOUT]
    return layout_page(state.layout.name, state.layout.layout, columns)


def layout_page(name: str, layout: Layout, columns: int = WIDTH) -> list[str]:
    """Drawing and figures of a drive, on lines of at most `columns` characters.

    Raises:
        CommandRefused: the belt cannot run over these pulleys.
    """
    drive, figures = worked_out(layout)
    return [f"Layout: {name}", *account(drive, figures, columns).splitlines()]
