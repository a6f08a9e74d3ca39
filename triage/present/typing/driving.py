"""The drive at hand in a session: its layout taken in, a counted rate compared."""

from triage.app.drive_known import known_of, rate_uncertainty_hz
from triage.app.shop.own_layouts import layout_file
from triage.errors import CommandRefused, QuantityRefused
from triage.knowledge.models import Knowledge
from triage.present.steps.drive_facts import contradiction
from triage.present.typing.correcting import Stamp
from triage.present.typing.entering import NEW, entered
from triage.present.typing.results import Ask, Result
from triage.record.layout import Layout
from triage.session import commands as c
from triage.session.state import State
from triage.units import Quantity, parse_quantity, say_back

WHICH_LAYOUT = (
    "Which layout? Give its file, the name of one of the shop's own or of one that came with the program, "
    'or "new" to enter this vehicle\'s drive now.'
)


def layout_taken(_knowledge: Knowledge, state: State, stamp: Stamp, lines: tuple[str, ...]) -> Result:
    """Which layout, then the command to use it.

    Raises:
        TriageError: there is no such layout, or it has faults.
    """
    if not lines:
        return Ask(WHICH_LAYOUT)
    if lines[0].strip().lower() == NEW:
        came = entered(lines[1:])
        return came if isinstance(came, Ask) else _used(came.name, came.layout, state, stamp)
    file = layout_file(lines[0].strip())
    from triage.drive.layout.placement import read_layout

    return _used(file.stem, read_layout(file), state, stamp)


def _used(name: str, layout: Layout, state: State, stamp: Stamp) -> c.Command:
    known = known_of(layout).model_copy(update={"against": contradiction(layout, state.facts)})
    return c.UseLayout(at_ms=stamp[0], who=stamp[1], layout=layout, name=name, known=known)


def rate_compared(_knowledge: Knowledge, state: State, stamp: Stamp, lines: tuple[str, ...]) -> Result:
    """The rate with its spread, then the engine speed, then the command to compare.

    Raises:
        TriageError: there is no layout, or a figure cannot be.
    """
    if state.layout is None:
        raise CommandRefused("There is no layout to compare a rate with.", 'Type "layout" and name one first.')
    if not lines:
        return Ask("How often does it come, and how sure is that? Such as 3.3 ± 0.1 Hz.")
    counted = parse_quantity(lines[0], "frequency")
    if not counted.spread or counted.value <= 0:
        raise QuantityRefused("That does not say how sure it is.", "Type it with its spread, such as 3.3 ± 0.1 Hz.")
    idle = state.layout.known.idle_rpm
    if len(lines) == 1:
        usual = f', or "idle" ({idle:.0f} r/min)' if idle else ""
        return Ask(f"{say_back(counted)}. At which engine speed? Type it{usual}.")
    speed = _speed(lines[1], idle)
    return c.CompareRate(
        at_ms=stamp[0],
        who=stamp[1],
        text=say_back(counted),
        rate_hz=counted.value,
        uncertainty_hz=rate_uncertainty_hz(counted, speed),
        crank_rpm=speed.value * 60 if speed else idle,
    )


def _speed(line: str, idle_rpm: float | None) -> Quantity | None:
    """Engine speed as it was typed; None for the layout's idle."""
    if idle_rpm is not None and line.strip().lower() == "idle":
        return None
    speed = parse_quantity(line, "speed")
    if speed.value <= 0:
        raise QuantityRefused("Nothing comes round while the engine stands.", "Type the speed while it was counted.")
    return speed
