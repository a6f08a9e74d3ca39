"""What must have been read before it is answered: no face takes a person's word that was typed ahead of its step."""

from triage.present.commands import word_for

READ_FIRST = ("confirm", "set-up", "run-ready", "run", "run-over", "switch-off")
"""Kinds of steps that are a person's word on how the vehicle is: nothing typed before the step was seen is taken."""
MOMENT_S = 0.4
"""From memory: sooner than this nobody has read a step and pressed a key for it."""
NOT_READ = "That was typed before this step was on the screen, and was dropped. Look, then answer."


def must_be_read(kind: str, line: str, question: str) -> bool:
    """Whether a line is a person's word on how the vehicle is.

    Args:
        kind: kind of the step on screen.
        line: what was typed.
        question: the question that was asked on top of the step; empty where the step itself is answered.
    """
    return kind in READ_FIRST and bool(line.strip()) and not word_for(line) and not question
