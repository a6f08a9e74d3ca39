"""A drive entered line by line: the questions, one after the other, until a layout comes of the answers.

A question comes first and what is shown with it after it, so that a small screen has the question. They are a generator
that is sent every line typed so far, so that a face keeps nothing but lines. A line that is refused raises; the lines
before it still hold. `back` takes the last line back.
"""

from collections.abc import Generator, Sequence
from dataclasses import dataclass

from triage.drive.entry.placing import Placed, hour_angle, placed_by_gaps, placed_by_photo, seen_from
from triage.drive.entry.showing import drawn, found_out, listed
from triage.drive.entry.typed_lines import UNKNOWN, belt_line, engine_line, pulley_line, pulley_meant, turn_line
from triage.drive.entry.typical import with_typical
from triage.drive.layout.placement import refuse_faulty
from triage.errors import DocumentFaulty, QuantityRefused
from triage.record.layout import Layout, Pulley, Tensioner
from triage.units import parse_quantity

BACK, DONE = "back", "done"
BETWEEN = ";"
"""Parts several answers to one question that are typed on one line."""
FEWEST = 2
_NAME_LENGTH = 40

Questions = Generator[str, str, "Entered"]


@dataclass(frozen=True)
class Entered:
    """What was entered.

    Args:
        name: under which it is to be kept.
        layout: in which the belt can run.
    """

    name: str
    layout: Layout


def asked(lines: Sequence[str], taken: Sequence[str] = ()) -> str | Entered:
    """Say what to ask next, or what was entered.

    Args:
        lines: everything typed so far.
        taken: names that cannot be given.

    Raises:
        TriageError: the last line was not understood or cannot be.
    """
    kept: list[str] = []
    for line in lines:
        if line.strip().lower() == BACK:
            kept = kept[:-1]
        else:
            kept.append(line.strip())
    questions = _questions(taken)
    question = next(questions)
    for line in kept:
        try:
            question = questions.send(line)
        except StopIteration as end:
            entered = end.value
            assert isinstance(entered, Entered)  # noqa: S101 - it returns nothing else
            return entered
    return question


def _questions(taken: Sequence[str]) -> Questions:
    pulleys, last = yield from _pulleys()
    belt = belt_line(last) if last else belt_line((yield f"{_BELT}\n{listed(pulleys)}"))
    engine = engine_line((yield _ENGINE))
    layout = Layout(pulleys=pulleys, belt=belt, engine=engine)
    layout = yield from _places(layout)
    if layout.pulleys[0].at is not None:
        layout = yield from _tensioner(layout)
        layout = yield from _filled(layout)
    _refuse(layout)
    name = _name((yield _NAME), taken)
    return Entered(name, layout)


_FIRST = """\
Follow the belt from pulley to pulley, the crank first. Crank pulley: its diameter, and how it was measured?
Such as: 160 mm outside. The measure is outside (over the rim, a tape), effective or pitch (a drawing), or unknown.
"back" takes the last line back."""
_NEXT = """\
Next pulley? Name, "back" if the belt's smooth side runs on it, diameter, measure.
Such as: tensioner back 76 outside. Or: alternator 56 outside decoupler.
When the belt is back at the crank: "done", or the belt's own line, such as belt 6PK1750."""
_BELT = "Belt: ribs and length? Such as: 6 ribs 1750 mm effective, or what is printed on it, 6PK1750. Or unknown."
_ENGINE = "Cylinders and idle speed? Such as: 4, 750 rpm. Or unknown."
_HOW = """\
Where do the pulleys stand? "gaps": rim to rim with a tape. "photo": pixels of a picture taken square on.
Or "done", with ratios, laps and rates alone."""
_TURN = "Which way does the engine turn, seen from the pulley end: cw, acw or unknown?"
_ARM = """\
The arm of {part}: its length from the pulley's centre to the bolt that it turns on, and where that bolt is seen from
the pulley's centre, as an hour on a clock face? Such as: 85 mm 4. Or unknown."""
_TYPICAL = """\
Fill in what was not measured (tension, friction, torques, inertias) with typical ranges, mostly from memory?
"typical": ranges give ranges as results. "unknown": those results stay unknown. A line that begins with "belt" puts
the belt right."""
_NAME = "Under which name is it to be kept? Small letters, digits and hyphens, such as bay-three-van."


def _pulleys() -> Generator[str, str, tuple[tuple[Pulley, ...], str]]:
    """The list of pulleys, and the belt's line where that ended it."""
    pulleys: tuple[Pulley, ...] = ()
    question = _FIRST
    while True:
        line = yield question
        for one in line.split(BETWEEN):
            said = one.strip()
            if said.lower() == DONE or said.lower().startswith("belt"):
                if len(pulleys) < FEWEST:
                    raise QuantityRefused("A belt needs at least two pulleys.", "Type the next one.")
                return pulleys, "" if said.lower() == DONE else said
            pulleys = (*pulleys, pulley_line(said, pulleys))
        question = f"{_NEXT}\n{listed(pulleys)}"


def _places(layout: Layout) -> Generator[str, str, Layout]:
    how = (yield _HOW).lower()
    if how == DONE or how in UNKNOWN:
        return layout
    if how not in ("gaps", "photo"):
        raise QuantityRefused(f"“{how}” is no way to say where pulleys stand.", "Type gaps, photo or done.")
    turns = turn_line((yield _TURN))
    layout = layout.model_copy(update={"engine": layout.engine.model_copy(update={"turns": turns})})
    placed: Placed = yield from (placed_by_gaps(layout) if how == "gaps" else placed_by_photo(layout))
    return placed.layout


def _tensioner(layout: Layout) -> Generator[str, str, Layout]:
    part = next((pulley.part for pulley in layout.pulleys[1:] if pulley.part.startswith("tensioner")), None)
    if part is None:
        return layout
    line = yield f"{_ARM.format(part=part)}\n{found_out(layout)}\n{drawn(layout)}"
    if line.lower() in UNKNOWN:
        return layout.model_copy(update={"tensioner": Tensioner(pulley=part)})
    words = line.split()
    if len(words) < FEWEST:
        raise QuantityRefused("A length and an hour are needed.", "Such as: 85 mm 4. Or unknown.")
    pivot = _pivot(layout, part, " ".join(words[:-1]), words[-1])
    return layout.model_copy(update={"tensioner": Tensioner(pulley=part, pivot=pivot)})


def _filled(layout: Layout) -> Generator[str, str, Layout]:
    """Ranges for what was not measured, where they are wanted; the belt may still be put right."""
    while True:
        line = yield f"{_TYPICAL}\n{found_out(layout)}\n{drawn(layout)}"
        if line.lower().startswith("belt"):
            layout = layout.model_copy(update={"belt": belt_line(line)})
            continue
        filled = with_typical(layout) if _is_typical(line) else layout
        _refuse(filled)
        return filled


def _refuse(layout: Layout) -> None:
    try:
        refuse_faulty(layout)
    except DocumentFaulty as faulty:
        first = faulty.faults[0]
        hint = 'Type "belt" and its right length, or "back" to the line that is wrong.'
        raise QuantityRefused(first.message, f"{first.hint} {hint}") from faulty


def _pivot(layout: Layout, part: str, length: str, hour: str) -> tuple[str, str]:
    pulley = layout.pulleys[pulley_meant(part, [one.part for one in layout.pulleys])]
    arm = parse_quantity(length, "length")
    return seen_from(pulley, arm, hour_angle(hour))


def _is_typical(line: str) -> bool:
    said = line.strip().lower()
    if said in UNKNOWN:
        return False
    if said != "typical":
        raise QuantityRefused(f"“{line}” is neither.", "Type typical or unknown.")
    return True


def _name(line: str, taken: Sequence[str]) -> str:
    name = "-".join(line.lower().split())
    if not name or len(name) > _NAME_LENGTH or not all(one.isascii() and (one.isalnum() or one == "-") for one in name):
        raise QuantityRefused(f"“{line}” is no name for a layout.", "Small letters, digits and hyphens, up to 40.")
    if name in taken:
        raise QuantityRefused(f"There is a layout {name} already.", "Give another name; nothing was lost.")
    return name
