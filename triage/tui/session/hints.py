"""What the line takes at a step: which steps a digit answers by itself, what to press, what a number would say.

One key answers what can be taken back, and what only leads to a further question. What cannot be taken back, what sends
hands in, and what lets an engine run takes a number and Enter: two different keys, that no sleeve presses by chance.
"""

from triage.knowledge.gates import lets_run
from triage.knowledge.models import Knowledge
from triage.present.commands import word_for
from triage.present.shapes import StepView
from triage.record.steps import Step
from triage.session.state import State
from triage.tui.one_key import MOST

ANSWERED = ("check", "round", "result")
"""Kinds of steps where the answers of a check may be on screen."""
PROPOSED = "Enter: yes · b: no · anything else is taken anew"
LEADS_ON = ("held", "blocked")
"""Kinds of steps where every answer asks again or asks for a reason."""


def one_key_answers(knowledge: Knowledge, state: State, view: StepView) -> int:
    """How many answers to the step one digit may give by itself; 0 where Enter is needed."""
    check = knowledge.checks.get(view.check) if state.step.kind in ANSWERED else None
    if view.measured or len(view.choices) > MOST:
        return 0
    if state.step.kind == "round" and check is None:
        return len(view.choices)
    if check:
        return 0 if check.several or lets_run(check) else len(view.choices)
    return len(view.choices) if state.step.kind in LEADS_ON else 0


def hint(knowledge: Knowledge, state: State, view: StepView, question: str) -> str:
    """What to press at the step."""
    count, check = len(view.choices), knowledge.checks.get(view.check)
    numbers = f"1 to {count}" if count > 2 else "1 or 2" if count == 2 else "1"
    if state.step.kind == "confirm" and not question:
        return 'The number of a line, then Enter · "no" and its number'
    if question:
        return "Type it, Enter · Enter alone goes back"
    if state.step.kind == "round" and check is None:
        return f"{numbers} picks a line{'' if count <= MOST else ', then Enter'}"
    if state.closed:
        return "Enter: back to the start"
    if one_key_answers(knowledge, state, view):
        return f"{numbers} answers at once"
    if view.measured:
        reading = f"Reading in {view.units}" if view.units else "Reading"
        return f"{reading}, or #1 to #{count}, then Enter"
    if check and check.several:
        return "One or more, such as 1 3, then Enter"
    return f"{numbers}, then Enter" if count else "Type it, then Enter"


def named_answer(view: StepView, line: str) -> str:
    """The words of the answer that a line names by number; empty where it names none."""
    said = line.strip()
    number = said.removeprefix("#").strip()
    named = number.isascii() and number.isdecimal() and (said != number or not view.measured)
    return view.choices[int(number[:4]) - 1].words if named and 1 <= int(number[:4]) <= len(view.choices) else ""


def echo(view: StepView, question: str, line: str) -> str:
    """What was typed, with the question that it answers and the words that a number stands for."""
    if word_for(line) or question:
        return f"> {line}"
    named = named_answer(view, line)
    about = view.title if named or view.measured else f"{view.title}: {view.ask}"
    return f"{about} > {line} {named}".rstrip()


def time_left(step: Step, reading_ms: int) -> str:
    """What is left of a timed run, rounded up; empty where none runs."""
    if not step.until_ms:
        return ""
    left_s = max(0, -(-(step.until_ms - reading_ms) // 1000))
    return f"TIME LEFT  {left_s // 60}:{left_s % 60:02d}"


def preview(view: StepView, question: str, line: str) -> str:
    """What Enter would send; empty for an empty line."""
    if not line.strip():
        return ""
    named = "" if question else named_answer(view, line)
    return f"Enter: {named}" if named else "Enter sends the line"
