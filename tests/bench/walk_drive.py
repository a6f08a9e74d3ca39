"""Random commands about the drive at hand and about advice, for walk_commands.py: they explain and change no step."""

import random
from functools import cache

from triage.app.drive_known import known_of
from triage.drive.layout.placement import read_layout
from triage.knowledge.models import Knowledge
from triage.knowledge.shipped import trees_folder
from triage.record import events as e
from triage.record.counsel import LikelyCause
from triage.record.layout import Layout
from triage.record.layouts import DriveKnown, Predictions
from triage.session import commands as c
from triage.session.state import State

EXPLAINING = (c.UseLayout, c.CompareRate, c.CompareDrive, c.Advise)
OTHERS = Predictions(fitted="solid", idle_rpm=700.0, from_rpm=2500.0, slowing_rpm_per_s=4000.0, rows=())
ODD_FIGURES = (0.0, -3.0, -0.0)


@cache
def layouts() -> tuple[tuple[str, Layout, DriveKnown], ...]:
    """The shipped layouts with what they come to."""
    files = sorted((trees_folder() / "layouts").glob("*.yaml"))
    return tuple((file.stem, layout, known_of(layout)) for file in files for layout in [read_layout(file)])


def of_the_drive(rng: random.Random, knowledge: Knowledge, base: c.Stamp) -> c.Command:
    """A layout, a rate to compare, or advice, some of it senseless."""
    name, layout, known = rng.choice(layouts())
    causes = rng.sample([*knowledge.causes, "nobody-knows"], 2)
    made = (
        c.UseLayout(**base, layout=layout, name=rng.choice([name, name, ""]), known=known),
        c.CompareRate(
            **base,
            text=rng.choice(["counted", "counted", ""]),
            rate_hz=_mostly(rng, *known.repeats.values(), rng.uniform(0.1, 60.0)),
            uncertainty_hz=_mostly(rng, 0.05, 0.5),
            crank_rpm=rng.choice((None, _mostly(rng, 750.0, 2000.0))),
        ),
        c.CompareDrive(**base, predictions=OTHERS),
        c.Advise(
            **base,
            likely=tuple(
                LikelyCause(cause=cause, probability=rng.random(), before=0.1, reasons=()) for cause in causes
            ),
        ),
    )
    return rng.choice(made)


def _mostly(rng: random.Random, *figures: float) -> float:
    return rng.choice(figures) if rng.random() < 0.9 else rng.choice(ODD_FIGURES)


def explained_only(command: c.Command, happened: tuple[e.Event, ...], before: State, after: State) -> None:
    """Complain where a command that only explains has answered, opened or moved anything.

    Raises:
        AssertionError: it has.
    """
    if not isinstance(command, EXPLAINING):
        return
    name = type(command).__name__
    assert (after.findings, after.after, after.first_readings) == (
        before.findings,
        before.after,
        before.first_readings,
    ), f"{name} answered a check"
    assert (after.maker, after.accuracies) == (before.maker, before.accuracies), f"{name} moved a limit"
    # What the time that passed has ended is none of the command's doing.
    if not any(isinstance(event, e.ThingsEnded | e.RunEnded | e.ClockShifted) for event in happened):
        assert (after.step, after.standing, after.condition) == (before.step, before.standing, before.condition), (
            f"{name} changed the step"
        )
