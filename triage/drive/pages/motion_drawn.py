"""A run drawn over time: its charts in plain characters, and its picture."""

from triage.drive.motion.simulating import Answer
from triage.drive.pages.motion_chart import chart, drawing
from triage.drive.pages.motion_page import WIDTH, said
from triage.drive.pages.motion_series import panels


def charts(answer: Answer, columns: int = WIDTH) -> str:
    """Draw a run out of plain characters, one chart a quantity.

    Args:
        answer: what came out of it.
        columns: characters to a line at most [1].

    Returns:
        text.

    Source: common-practice
    """
    names = [said(variant) for variant in answer.machine.variants]
    times, drawn = panels(answer)
    return "\n".join(chart(times, panel, names, columns) for panel in drawn)


def picture(answer: Answer, name: str, summary: str) -> str:
    """Draw a run as an svg element, with the page in words for those who do not see it.

    Args:
        answer: what came out of it.
        name: of the layout.
        summary: the page in words.

    Returns:
        the text of the picture.

    Source: common-practice
    """
    names = [said(variant) for variant in answer.machine.variants]
    times, drawn = panels(answer)
    title = f"{answer.event.kind} of {name}: {', '.join(panel.title for panel in drawn)}, over time"
    return drawing(times, drawn, names, title, summary)
