"""From typed lines to a command: the same words mean the same in every face.

Given the lines typed for the step on screen, `interpret` returns a command, a further question, a page to read, the
wish for a stopwatch or to leave. It keeps nothing: a face holds the lines until a command comes of them.
"""

from collections.abc import Callable
from dataclasses import dataclass

from triage.errors import CommandRefused
from triage.knowledge.models import Check, Knowledge
from triage.present.commands import word_for
from triage.present.pages.any_moment import PAGES
from triage.present.read_first import NO
from triage.present.steps.left_open import MAKE
from triage.present.steps.views import step_view
from triage.present.typing.changing import alone_said, engine_off, something_changed
from triage.present.typing.choosing import chosen
from triage.present.typing.correcting import Stamp, correction, in_words, maker_figure, thrown_away
from triage.present.typing.driving import layout_taken, rate_compared
from triage.present.typing.reading import outcomes_or_reading
from triage.present.typing.renewals import renewal_told
from triage.present.typing.results import Ask, Copy, Leave, Result, Watch
from triage.present.typing.rounds import alarm_raised, check_asked, closed_together, left_apart, line_answered
from triage.present.typing.running import drive_run
from triage.present.typing.saving import LEAVE_QUESTION, place_typed, unsaved_words
from triage.present.typing.showing import shown
from triage.present.typing.telling import finding_told
from triage.present.typing.tooling import tool_worked
from triage.present.typing.torques import torque_told
from triage.present.typing.vehicle import fact_corrected, fact_typed
from triage.record.events import Event
from triage.session import commands as c
from triage.session.interlocks import is_pressed
from triage.session.own_route import one_more
from triage.session.state import State
from triage.session.stepping import to_take_off
from triage.units import parse_quantity

DIALOGUES: dict[str, Callable[[Knowledge, State, Stamp, tuple[str, ...]], Result]] = {
    "amend": correction,
    "throw away": thrown_away,
    "figure": maker_figure,
    "vehicle": fact_corrected,
    "part age": renewal_told,
    "layout": layout_taken,
    "rate": rate_compared,
    "drive run": drive_run,
    "tool": tool_worked,
    "changed": something_changed,
    "alone": alone_said,
    "off": engine_off,
    "rest": closed_together,
    "apart": left_apart,
    "alarm": alarm_raised,
    "check": check_asked,
    "told": finding_told,
}
"""Words that ask more than one line, or ask by what was said before."""


@dataclass(frozen=True)
class Typing:
    """Where and by whom lines were typed.

    Args:
        knowledge: what the session uses.
        state: where it stands.
        at_ms: now.
        who: who types.
        trouble: why nothing can be saved now; empty where everything is saved.
        unsaved: what has happened and is not saved.
    """

    knowledge: Knowledge
    state: State
    at_ms: int
    who: str
    trouble: str = ""
    unsaved: tuple[Event, ...] = ()


YES = ("y", "yes")


def interpret(typing: Typing, lines: tuple[str, ...]) -> Result:
    """What the lines typed so far for this step come to.

    Raises:
        TriageError: a line was not understood; nothing has happened, and the last line can be typed again.
    """
    first, rest = lines[0].strip(), lines[1:]
    word = word_for(first)
    if word:
        return _worded(typing, word.name, word.asks, rest)
    if not first:
        raise CommandRefused("Nothing was typed.", 'Answer the question, or type "help".')
    return _answered(typing, lines)


def _worded(typing: Typing, name: str, asks: str, rest: tuple[str, ...]) -> Result:
    knowledge, state = typing.knowledge, typing.state
    if name == "leave":
        return _leave(typing, rest)
    if name == "watch":
        if not (step_view(knowledge, state).timed or state.run == "running"):
            raise CommandRefused("This step is not timed.", "Answer the question.")
        return Watch()
    if name in PAGES:
        return shown(knowledge, state, name, typing.at_ms)
    if name == "pause":
        return c.Pause(at_ms=typing.at_ms, who=typing.who)
    if name == "back":
        return c.Undo(at_ms=typing.at_ms, who=typing.who)
    if name in DIALOGUES:
        return DIALOGUES[name](knowledge, state, (typing.at_ms, typing.who), rest)
    if not rest:
        return Ask(asks)
    return _with_text(typing, name, *rest)


def _leave(typing: Typing, rest: tuple[str, ...]) -> Result:
    """Leave at once; where something is not saved, say so and offer a copy first."""
    if not typing.trouble:
        return Leave()
    if not rest:
        return Ask(f"{LEAVE_QUESTION}\n{unsaved_words(typing.knowledge, typing.trouble, typing.unsaved)}")
    again = word_for(rest[0])
    return Leave() if again and again.name == "leave" else Copy(place_typed(rest[0]), leaves=True)


def _close(typing: Typing, reason: str, rest: tuple[str, ...]) -> Result:
    """What is taken off before a vehicle leaves is asked line by line, whatever it leaves for."""
    off = to_take_off(typing.knowledge, typing.state)
    for line, said in zip(off, rest, strict=False):
        if said.strip().lower() not in YES:
            ask = typing.knowledge.confirmations[line].ask
            raise CommandRefused(f"Not closed, and nothing was lost: {ask}", 'Take them off, then "y".')
    if len(rest) < len(off):
        return Ask(f'{typing.knowledge.confirmations[off[len(rest)]].ask} So? "y".')
    return c.Close(at_ms=typing.at_ms, who=typing.who, how="without-repair", reason=reason, off=off)


def _with_text(typing: Typing, name: str, text: str, *more: str) -> Result:
    at_ms, who, step = typing.at_ms, typing.who, typing.state.step
    if name == "cannot" and step.kind == "round":
        raise CommandRefused("Which line cannot be done?", 'Pick it by its number, then "cannot".')
    if name == "cannot":
        return c.CannotDo(at_ms=at_ms, who=who, check=step.check, reason=in_words(text))
    if name in ("copy", "export"):
        return Copy(place_typed(text), travels=name == "export")
    if name == "note":
        return c.Note(at_ms=at_ms, who=who, text=text)
    if name == "hand over":
        return c.HandOver(at_ms=at_ms, who=who, to=text)
    return _close(typing, in_words(text), more)


def _answered(typing: Typing, lines: tuple[str, ...]) -> Result:
    kind = typing.state.step.kind
    if kind in ("check", "result"):
        return _check(typing, typing.knowledge.checks[typing.state.step.check], lines)
    if kind == "round":
        return _round(typing, lines)
    if kind == "confirm":
        return _confirm(typing, lines)
    if kind == "why":
        return c.SayWhy(at_ms=typing.at_ms, who=typing.who, reason=lines[0])
    if kind == "fact":
        fact = typing.state.step.fact
        return c.TellFact(at_ms=typing.at_ms, who=typing.who, fact=fact, value=fact_typed(fact, lines[0]))
    if kind == "torque":
        return torque_told(typing.knowledge, typing.state, (typing.at_ms, typing.who), lines)
    if kind == "paused":
        return c.Resume(at_ms=typing.at_ms, who=lines[0].strip())
    view = step_view(typing.knowledge, typing.state)
    if not view.choices:
        raise CommandRefused("This session is closed.", 'Type "leave" to stop.')
    return _chosen(typing, chosen(view.choices, lines[0]), lines[1:])


def _round(typing: Typing, lines: tuple[str, ...]) -> Result:
    """A line picked, then answered; a word in between is said of the session, as at any step."""
    word = word_for(lines[1]) if lines[1:] else None
    if word and word.name not in ("cannot", "watch"):
        return _worded(typing, word.name, word.asks, lines[2:])
    return line_answered(typing.knowledge, typing.state, (typing.at_ms, typing.who), lines)


def _check(typing: Typing, check: Check, lines: tuple[str, ...]) -> Result:
    given = outcomes_or_reading(typing.knowledge, typing.state, check, lines)
    if isinstance(given, Ask):
        return given
    outcomes, parts = given
    if parts:
        return c.Read(at_ms=typing.at_ms, who=typing.who, check=check.id, parts=parts)
    return c.Answer(at_ms=typing.at_ms, who=typing.who, check=check.id, outcomes=outcomes)


def _confirm(typing: Typing, lines: tuple[str, ...]) -> Result:
    """A line of the card pressed by its number, with what it asks to be typed; or a no, which counts at once."""
    at_ms, who, step = typing.at_ms, typing.who, typing.state.step
    said, *number = lines[0].strip().lower().split(maxsplit=1)
    if said in NO:
        no = number[0] if number else "1" if not step.lines[1:] else ""
        return c.RefuseConfirmation(at_ms=at_ms, who=who, confirmation=_line(typing, no) if no else "")
    line = _line(typing, lines[0].strip())
    known = typing.knowledge.confirmations.get(line)
    proof = known.proof if known else ""
    if proof == "dead":
        return _dead(typing, line, lines[1:])
    if not proof or (proof == "name" and typing.state.alone) or is_pressed(typing.knowledge, typing.state, line):
        return c.Confirm(at_ms=at_ms, who=who, confirmation=line)
    if not lines[1:]:
        return Ask("Which word was called back?" if proof == "word" else "Who is at the key? A name.")
    said_back = _name(lines[1]) if proof == "name" else lines[1].strip()
    return c.Confirm(at_ms=at_ms, who=who, confirmation=line, name=said_back)


def _line(typing: Typing, text: str) -> str:
    view = step_view(typing.knowledge, typing.state)
    try:
        return chosen(view.choices, text)
    except CommandRefused as error:
        raise CommandRefused("Which line?", 'Type its number, or "no" and its number.') from error


def _dead(typing: Typing, line: str, lines: tuple[str, ...]) -> Result:
    """Two readings by one meter at the same two points."""
    asks = ("What did the meter read there before the lead came off?", "What does it read at the same two points now?")
    volts = tuple(parse_quantity(text, "voltage").value for text in lines)
    if len(volts) < len(asks):
        return Ask(asks[len(volts)])
    return c.Confirm(at_ms=typing.at_ms, who=typing.who, confirmation=line, volts=volts[: len(asks)])


def _name(line: str) -> str:
    # Whoever answers one "1" after another must not make a person of it.
    name = line.strip()
    if name.lower() in ("y", "yes", "so") or not any(letter.isalpha() for letter in name):
        raise CommandRefused("That is no name.", 'Type the name of a person, or "no".')
    return name


def _chosen(typing: Typing, choice: str, rest: tuple[str, ...]) -> Result:
    at_ms, who, step = typing.at_ms, typing.who, typing.state.step
    simple: dict[str, c.Command] = {
        "again": c.TryAgain(at_ms=at_ms, who=who),
        "done": c.FinishSetUp(at_ms=at_ms, who=who, check=step.check),
        "start": c.StartRun(at_ms=at_ms, who=who),
        "still": c.EndRun(at_ms=at_ms, who=who),
        "repair": c.BeginRemedy(at_ms=at_ms, who=who),
        "sign-off": c.Close(at_ms=at_ms, who=who, how="signed-off"),
        "pause": c.Pause(at_ms=at_ms, who=who),
        "pending": c.LeaveProofOpen(at_ms=at_ms, who=who),
        "not-cured": c.NotCured(at_ms=at_ms, who=who),
        "another": c.NotCured(at_ms=at_ms, who=who, another=True),
    }
    if choice in simple:
        return simple[choice]
    if choice.startswith(MAKE):
        return c.TakeBack(at_ms=at_ms, who=who, check=choice.removeprefix(MAKE))
    one = one_more(typing.state) if choice == "one-more" else None
    if one:
        saves_min = one.over_ending_min
        return c.TakeOwnRoute(at_ms=at_ms, who=who, check=one.check, minutes=one.minutes, saves_min=saves_min)
    if step.kind == "gate":
        return c.AnswerGate(at_ms=at_ms, who=who, answer=choice)
    if step.kind == "which":
        return c.NamePlace(at_ms=at_ms, who=who, remedy=step.remedy, place=choice)
    if step.kind == "part":
        return c.RecordPart(at_ms=at_ms, who=who, part=step.part, done=choice)
    if not rest:
        return Ask({"put-right": "What was done?", "cannot": "Why can it not be done?"}.get(choice, "Why?"))
    if choice == "put-right":
        return c.PutRight(at_ms=at_ms, who=who, check=step.check, done=in_words(rest[0]))
    return _with_text(typing, choice, *rest)
