"""The vehicle's own drive: its layout, and what a counted repeat fits in it."""

from triage.drive.mechanics.rates import match_rate
from triage.errors import CommandRefused
from triage.knowledge.models import Knowledge
from triage.record import events as e
from triage.record.layouts import DriveKnown, MatchedRate
from triage.session import commands as c
from triage.session.rules.asking import words
from triage.session.state import State


def use_layout(_knowledge: Knowledge, _state: State, command: c.UseLayout) -> tuple[e.Event, ...]:
    """Take a layout; it stands in the place of an earlier one."""
    return (command.as_event(e.LayoutUsed, name=words(command.name, "The layout's name")),)


def compare_rate(_knowledge: Knowledge, state: State, command: c.CompareRate) -> tuple[e.Event, ...]:
    """Compare a counted repeat with what comes round in the drive."""
    if state.layout is None:
        raise CommandRefused("There is no layout to compare a rate with.", 'Type "layout" and name one first.')
    crank_rpm = _crank_rpm(state.layout.known, command)
    match = _matched(state.layout.known, command, crank_rpm)
    return (e.RateMatched(**command.stamp, match=match),)


def compare_drive(_knowledge: Knowledge, state: State, command: c.CompareDrive) -> tuple[e.Event, ...]:
    """Keep what other pulleys would do in the drive whose layout was taken."""
    if state.layout is None:
        raise CommandRefused("There is no layout that this was worked out from.", 'Type "layout" and name one first.')
    return (e.DriveCompared(**command.stamp, predictions=command.predictions),)


def _crank_rpm(known: DriveKnown, command: c.CompareRate) -> float:
    crank_rpm = known.idle_rpm if command.crank_rpm is None else command.crank_rpm
    if crank_rpm is None:
        raise CommandRefused("The layout does not give engine.idle.", "Give the speed at which it was counted.")
    figures = (crank_rpm, command.rate_hz, command.uncertainty_hz)
    if not all(figure > 0 for figure in figures):
        raise CommandRefused("Rate, spread and speed must be more than zero.", "Type them again.")
    return crank_rpm


def _matched(known: DriveKnown, command: c.CompareRate, crank_rpm: float) -> MatchedRate:
    turns = crank_rpm / 60
    candidates = {name: turns * times for name, times in known.repeats.items()}
    unsure = {name: turns * width for name, width in known.repeats_u.items()}
    match = match_rate(command.rate_hz, command.uncertainty_hz, candidates, unsure)
    return MatchedRate(
        text=words(command.text, "The rate"),
        rate_hz=rounded(command.rate_hz),
        uncertainty_hz=rounded(command.uncertainty_hz),
        crank_rpm=rounded(crank_rpm),
        fits=match.fits,
        nearest=match.nearest,
        apart_hz=None if match.apart_hz is None else rounded(match.apart_hz),
        unknown=match.unknown,
    )


def rounded(value: float) -> float:
    """A figure as it is recorded: six digits, far finer than any drive is known."""
    return float(f"{value:.6g}")
