"""A drive in time asked for in a face: a line that is typed, then work under way, then a page.

The one place in a face from where the simulation is loaded, and only when a run is asked for.
"""

from collections.abc import Callable
from typing import TYPE_CHECKING

from triage.app.long_work import LongWork, Progress
from triage.errors import TriageError
from triage.knowledge.models import PULLEY_TYPES
from triage.record.layout import Layout
from triage.record.layouts import Predictions

if TYPE_CHECKING:
    from triage.drive.motion.asking import Asked

Lines = Callable[[int], tuple[str, ...]]
"""A page for a width in characters."""


Outcome = Lines | Predictions
"""What a run comes to: a page, or what other pulleys would do, to be kept."""


def others_asked(layout: Layout) -> LongWork[Outcome]:
    """Begin to work out what other pulleys and the usual faults would do in a drive."""

    def work(progress: Progress) -> Predictions:
        from triage.drive.motion.predicting import predictions

        return predictions(layout, progress)

    return LongWork(work)


def run_asked(layout: Layout, name: str, line: str) -> Callable[[], LongWork[Outcome]]:
    """What begins the run of a line: an event, and behind it, after ";", what is otherwise than in the layout.

    Raises:
        TriageError: something in the line was not understood, or the layout does not say enough.
    """
    from triage.drive.motion.asking import asked

    wanted = asked(layout, name, options(line))
    return lambda: LongWork(lambda progress: _page(wanted, progress))


def _page(wanted: "Asked", progress: Progress) -> Lines:
    from triage.drive.motion.doubts import doubts
    from triage.drive.motion.simulating import simulate
    from triage.drive.pages.motion_drawn import charts
    from triage.drive.pages.motion_page import WIDTH, page_of

    answer = simulate(wanted.drive, wanted.parameters, wanted.question, progress)
    doubtful = doubts(answer)

    def lines(width: int) -> tuple[str, ...]:
        columns = min(width, WIDTH)
        return (*page_of(wanted, answer, columns, doubtful).splitlines(), "", *charts(answer, columns).splitlines())

    return lines


def options(line: str) -> dict[str, str]:
    """Read a line such as "slow-down; solid; rate 4000" into options by their names.

    Raises:
        TriageError: a part of it was not understood.
    """
    first, *rest = (part.strip() for part in line.split(";"))
    typed = {"event": first.lower()}
    for part in filter(None, rest):
        name, text = _option(part)
        if name in typed:
            raise TriageError(f"{name.replace('_', ' ')} was typed twice.", "Type the line again.")
        typed[name] = text
    return typed


def _option(part: str) -> tuple[str, str]:
    from triage.drive.motion.asking import PARAMETERS, WISHES
    from triage.drive.motion.machine import FAULTS

    word = part.lower().replace(" ", "-")
    if word == "compare":
        return word, ""
    if word in PULLEY_TYPES or word in FAULTS:
        return ("pulley" if word in PULLEY_TYPES else "fault"), word
    for name in (*WISHES, *PARAMETERS):
        said = name.replace("_", " ")
        if part.lower().startswith(f"{said} "):
            return name, part[len(said) :].strip()
    raise TriageError(
        f"I do not know what “{part[:40]}” is to a run.",
        f"A pulley type ({', '.join(PULLEY_TYPES)}), a fault ({', '.join(FAULTS)}), compare, or one of "
        f"{', '.join(name.replace('_', ' ') for name in (*WISHES, *PARAMETERS))} with its figure.",
    )
