"""What must have been read before it is answered: no face takes a person's word for what was not there to be read."""

from typing import TYPE_CHECKING

from triage.knowledge.gates import lets_run
from triage.present.commands import word_for

if TYPE_CHECKING:
    from triage.knowledge.models import Knowledge
    from triage.record.steps import Step

READ_FIRST = (
    *("gate", "confirm", "set-up", "run-ready", "run", "run-over", "switch-off"),
    *("part", "torque", "prove"),
)
"""Kinds of steps that are a person's word on the vehicle, on the engine or on the work done."""
ENDS_A_RUN = ("run", "run-over", "switch-off")
"""Kinds of steps whose one answer is that the engine is off."""
ALONE = ("run-over", "switch-off")
"""Kinds of steps beside which nothing is to be read."""
NO = ("n", "no", "not-so")
MOMENT_S = 0.4
"""From memory: sooner than this nobody has read a step and pressed a key for it."""
NOT_READ = "That was typed before this step was on the screen, and was dropped. Look, then answer."
MORE_TO_READ = "Read on first: PgDn to the end of this step. Then answer."
_PUTS_RIGHT, _CLOSES = "amend", "rest"


def is_no(line: str) -> bool:
    """Whether a line says no, alone or with the number of what is not so."""
    said = line.lower().split()
    return bool(said) and said[0] in NO


def must_be_read(knowledge: "Knowledge", step: "Step", line: str, typed: tuple[str, ...]) -> bool:
    """Whether a line is a person's word, for which all that it answers must have been read.

    Args:
        knowledge: what the session uses.
        step: the step on screen.
        line: what was typed.
        typed: the lines before it that belong to it; empty where the step itself is answered.
    """
    if not line.strip():
        return False
    if typed:
        return is_word(knowledge, step, typed)
    return is_word(knowledge, step, ()) and not word_for(line)


def is_word(knowledge: "Knowledge", step: "Step", typed: tuple[str, ...]) -> bool:
    """Whether what is asked now takes a person's word: a step of that kind, or the new answer to an earlier one."""
    if typed:
        first = word_for(typed[0])
        if first is None:
            return _is_gate(knowledge, line_named(step, typed[0]))
        return first.name == _CLOSES or (first.name == _PUTS_RIGHT and len(typed) > 1)
    return step.kind in READ_FIRST or _lets_run(knowledge, step)


def _lets_run(knowledge: "Knowledge", step: "Step") -> bool:
    """Whether the step is a look that keeps the engine from running, or lets it run."""
    return step.kind in ("check", "result") and _is_gate(knowledge, step.check)


def _is_gate(knowledge: "Knowledge", check_id: str) -> bool:
    check = knowledge.checks.get(check_id)
    return check is not None and lets_run(check)


def line_named(step: "Step", line: str) -> str:
    """The line of a round that is picked by its number or its id; "" where none is."""
    if step.kind != "round":
        return ""
    whole = line.strip().lower()
    said = whole.partition(" ")[0]
    if said.isascii() and said.isdecimal() and 1 <= int(said[:4]) <= len(step.lines):
        return step.lines[int(said[:4]) - 1]
    return whole if whole in step.lines else ""  # an id may be the first word of a sentence


def ends_something(step: "Step", line: str) -> bool:
    """Whether an answer only ends what is under way: a no, or the engine that is off."""
    return step.kind in ENDS_A_RUN or (step.kind == "confirm" and is_no(line))
