"""How a fastener was tightened: whose figure it is, the figure, what it was tightened to, and with which wrench."""

from triage.errors import CommandRefused, QuantityUnclear, TriageError
from triage.knowledge.models import Knowledge
from triage.present.steps.limits import plain_figure
from triage.present.typing.asking_back import SO
from triage.present.typing.correcting import Stamp, in_words
from triage.present.typing.results import Ask, Result
from triage.session import commands as c
from triage.session.state import State
from triage.session.tightening import deviation_of, is_off, off_by, torque_named
from triage.units import Quantity, parse_quantity, say_typed

NONE = "none"


def torque_told(knowledge: Knowledge, state: State, stamp: Stamp, lines: tuple[str, ...]) -> Result:
    """What the lines say about the fastener on screen; none of it is asked that was entered for this job.

    Raises:
        TriageError: a line was not understood.
    """
    torque, maker = state.step.torque, state.maker.get(state.step.torque)
    if lines[0].strip().lower() == NONE:
        return _not_tightened(torque, stamp, lines)
    if maker:
        reference, figure, rest = maker.reference, _entered(maker.text, maker.value), lines
    else:
        reference, rest = _reference(lines[0]), lines[2:]
        if len(lines) == 1:
            return Ask("What is the figure? With its unit, such as 90 N·m or 80 to 90 N·m.")
        figure = _figure(lines[1])
    taken, rest = _tightened(knowledge, state, figure, rest)
    if isinstance(taken, Ask):
        return taken
    if not rest:
        return Ask(f"{say_typed(taken)}. With which wrench?")
    return c.RecordTorque(
        at_ms=stamp[0],
        who=stamp[1],
        torque=torque,
        value_nm=taken.value,
        text=say_typed(taken),
        wrench=rest[0],
        reference=reference,
        figure=say_typed(figure),
    )


def _not_tightened(torque: str, stamp: Stamp, lines: tuple[str, ...]) -> Result:
    if len(lines) == 1:
        return Ask("Why was it not tightened to a figure?")
    reason = in_words(lines[1])
    return c.RecordTorque(
        at_ms=stamp[0], who=stamp[1], torque=torque, value_nm=None, text=reason, wrench="", reference=""
    )


def _entered(text: str, value_nm: float) -> Quantity:
    """A maker's figure as it was entered; its value where its words do not tell."""
    try:
        return parse_quantity(plain_figure(text), "torque")
    except TriageError:
        return Quantity("torque", value_nm, 0.0, "N·m", assumed=False)


def _reference(line: str) -> str:
    try:
        parse_quantity(line, "torque")
    except TriageError:
        return in_words(line)
    raise CommandRefused("First, whose figure is it?", 'Name the paper, such as "part\'s sheet". Then the figure.')


def _figure(line: str) -> Quantity:
    figure = parse_quantity(line, "torque")
    if figure.assumed:
        raise QuantityUnclear(f"“{line.strip()}” in which unit?", "Type it with its unit, such as N·m or lbf·ft.")
    return figure


def _tightened(
    knowledge: Knowledge, state: State, figure: Quantity, lines: tuple[str, ...]
) -> tuple[Quantity | Ask, tuple[str, ...]]:
    """The torque and the lines behind it; or what is asked, of a torque beside its figure too."""
    what, torque = torque_named(knowledge, state.step.torque).what, state.step.torque
    taken: Quantity | Ask = Ask(f"Figure {say_typed(figure)}. {what}: what was it tightened to?")
    for place, line in enumerate(lines):
        if not isinstance(taken, Ask) and line.strip().lower() in SO:
            return taken, lines[place + 1 :]
        taken = parse_quantity(line, "torque", figure.unit)
        if not is_off(knowledge, state, torque, taken.value, figure):
            return taken, lines[place + 1 :]
    return (Ask(_off_words(knowledge, state, taken, figure)) if isinstance(taken, Quantity) else taken), ()


def _off_words(knowledge: Knowledge, state: State, taken: Quantity, figure: Quantity) -> str:
    off = off_by(taken.value, figure)
    share, wrench = f"{abs(off):.0%}".replace("%", " %"), deviation_of(knowledge, state, state.step.torque)
    off_wrench = f"{wrench:.1%}".replace(".0%", "%").replace("%", " %")
    side = "above" if off > 0 else "below"
    return (
        f"{say_typed(taken)} is {share} {side} the figure {say_typed(figure)}; the wrench may be off by {off_wrench}. "
        'Type the torque again, or "yes" if it was tightened so.'
    )
