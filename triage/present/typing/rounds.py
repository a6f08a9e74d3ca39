"""A line of a round picked and answered, several closed together, and a check asked for."""

from triage.errors import CommandRefused
from triage.knowledge.models import Check, Knowledge
from triage.present.read_first import line_named
from triage.present.shapes import Choice
from triage.present.typing.choosing import chosen
from triage.present.typing.correcting import Stamp, in_words, numbered
from triage.present.typing.reading import outcomes_or_reading
from triage.present.typing.results import Ask, Result, Watch
from triage.session import commands as c
from triage.session.choosing import may_be_asked
from triage.session.rounds import closing, tracking_due
from triage.session.state import State

YES = ("y", "yes")
MOST_LISTED = 9


def picked(knowledge: Knowledge, state: State, line: str) -> Check:
    """The open line of the round on screen that was picked.

    Raises:
        CommandRefused: it is none, it was answered, or the belt has to be seen to run true first.
    """
    check = knowledge.checks.get(line_named(state.step, line))
    if check is None:
        raise CommandRefused("Which line?", f"Type its number, from 1 to {len(state.step.lines)}.")
    if check.id not in state.step.open:
        raise CommandRefused("That line is answered.", '"amend" puts it right.')
    if tracking_due(knowledge, state, check):
        raise CommandRefused("Not yet: nobody has seen the belt run true in this run.", "Answer that line first.")
    return check


def line_answered(knowledge: Knowledge, state: State, stamp: Stamp, lines: tuple[str, ...]) -> Result:
    """The answer to a line that was picked: what it came to, or that it cannot be done."""
    check, given = picked(knowledge, state, lines[0]), lines[1:]
    at_ms, who = stamp
    if not given:
        return Ask("")
    said = given[0].strip().lower()
    if said == "watch" and check.reading and check.reading.timed:
        return Watch()
    if said == "cannot":
        reason = given[1:2]
        return c.CannotDo(at_ms=at_ms, who=who, check=check.id, reason=in_words(reason[0])) if reason else Ask(CANNOT)
    answer = outcomes_or_reading(knowledge, state, check, given)
    if isinstance(answer, Ask):
        return answer
    outcomes, parts = answer
    if parts:
        return c.Read(at_ms=at_ms, who=who, check=check.id, parts=parts)
    return c.Answer(at_ms=at_ms, who=who, check=check.id, outcomes=outcomes)


CANNOT = "Why can it not be done?"


def closed_together(knowledge: Knowledge, state: State, stamp: Stamp, rest: tuple[str, ...]) -> Result:
    """What "nothing else found" would record, to be read first; what was not reached is struck out by its number."""
    lines = closing(knowledge, state.step.open) if state.step.kind == "round" else ()
    if not lines:
        raise CommandRefused("No line here can be closed so.", "Answer each by its own line.")
    struck: set[str] = set()
    for line in rest:
        if line.strip().lower() in YES:
            kept = tuple(one for one in lines if one not in struck)
            return c.CloseRound(at_ms=stamp[0], who=stamp[1], checks=kept)
        struck.add(chosen(tuple(Choice(one, one) for one in lines), line))
    return Ask(_listed(knowledge, state, lines, struck))


def _listed(knowledge: Knowledge, state: State, lines: tuple[str, ...], struck: set[str]) -> str:
    rows = []
    for number, one in enumerate(lines, 1):
        check = knowledge.checks[one]
        normal = check.outcome(check.normal(state.pulley))
        words = "stays open" if one in struck else normal.words if normal else ""
        rows.append(f"  {number}  {check.name}: {words}")
    own = sum(one not in lines for one in state.step.open)
    more = f" {own} more are answered by their own line." if own else ""
    ask = f'This is recorded, "yes". A number: not reached, stays open.{more}'
    return "\n".join((ask, *rows))


def left_apart(_knowledge: Knowledge, state: State, stamp: Stamp, _rest: tuple[str, ...]) -> Result:
    """Leave the round; where a check was asked for, go back to what the tree asks."""
    if state.step.kind != "round" and state.asked:
        return c.AskFor(at_ms=stamp[0], who=stamp[1], check="")
    return c.LeaveRound(at_ms=stamp[0], who=stamp[1])


def alarm_raised(_knowledge: Knowledge, _state: State, stamp: Stamp, _rest: tuple[str, ...]) -> Result:
    """Something beside the running engine: it is switched off at once."""
    return c.RaiseAlarm(at_ms=stamp[0], who=stamp[1])


def check_asked(knowledge: Knowledge, state: State, stamp: Stamp, rest: tuple[str, ...]) -> Result:
    """A check by its number in the list, or by words that stand in its name or question."""
    found = searched(knowledge, may_be_asked(knowledge, state), rest, "Which check? Its number, or a word to search.")
    return found if isinstance(found, Ask) else c.AskFor(at_ms=stamp[0], who=stamp[1], check=found[0])


def searched(
    knowledge: Knowledge, checks: tuple[str, ...], lines: tuple[str, ...], ask: str
) -> tuple[str, tuple[str, ...]] | Ask:
    """One of several checks, by its number in the list or after words that stand in its name or question.

    Returns:
        The check and the lines behind its number; while it is not chosen yet, the list.

    Raises:
        CommandRefused: there is none to choose from, or none has these words.
    """
    shown = choices = tuple(Choice(one, knowledge.checks[one].name) for one in checks)
    if not choices:
        raise CommandRefused("No other check may be made now.", "Go on with the step on screen.")
    for used, line in enumerate(lines, 1):
        said = line.strip().lower()
        if said.isascii() and said.isdecimal():
            return chosen(shown[:MOST_LISTED], line), lines[used:]
        shown = tuple(one for one in choices if _matches(knowledge.checks[one.id], said))
        if not shown:
            raise CommandRefused(f"No check that may be made now has the words “{said[:40]}”.", "Try another word.")
    more = f" {len(shown) - MOST_LISTED} more: type a word to search." if shown[MOST_LISTED:] else ""
    return Ask(numbered(f"{ask}{more}", shown[:MOST_LISTED]))


def _matches(check: Check, said: str) -> bool:
    text = f"{check.name} {check.question}".lower()
    return all(word in text for word in said.split())
