"""A drive in time, asked for in a session and without one: what happens, then the work."""

from functools import partial

from triage.app.drive_runs import others_asked, run_asked
from triage.errors import CommandRefused
from triage.knowledge.models import Knowledge
from triage.present.typing.correcting import Stamp
from triage.present.typing.results import Ask, Result, Work
from triage.record.layout import Layout
from triage.session.state import State

WHAT_HAPPENS = (
    "What happens? idle, sweep, slow-down, load-step or switch-off.\n"
    'Behind it, after ";", what is otherwise than in the layout: a pulley type, a fault such as seized, a figure such '
    "as rate 4000 r/min; or compare, for all pulleys and the usual faults side by side.\n"
    'Or "other pulleys": what each of them and the usual faults would show to the checks.'
)
OTHERS = "other pulleys"


def drive_run(_knowledge: Knowledge, state: State, _stamp: Stamp, lines: tuple[str, ...]) -> Result:
    """What happens to this vehicle's drive, then the run.

    Raises:
        TriageError: the line was not understood, or the layout does not say enough.
    """
    if state.layout is None:
        raise CommandRefused("There is no layout of this vehicle's drive.", 'Type "layout" and name one first.')
    return run_typed(state.layout.layout, state.layout.name, lines)


def run_typed(layout: Layout, name: str, lines: tuple[str, ...]) -> Ask | Work:
    """What happens, then the run.

    Raises:
        TriageError: the line was not understood, or the layout does not say enough.
    """
    if not lines:
        return Ask(WHAT_HAPPENS)
    if " ".join(lines[0].lower().split()) == OTHERS:
        return Work(f"{OTHERS} in {name}", partial(others_asked, layout))
    return Work(f"{lines[0].strip()} of {name}", run_asked(layout, name, lines[0]))
