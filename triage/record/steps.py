"""What a session asks for now, as its events record it."""

from typing import Literal

from triage.documents import Model


class Step(Model):
    """What the session asks for now. Which fields count depends on `kind`."""

    kind: Literal[
        "gate",
        "fact",
        "confirm",
        "why",
        "held",
        "set-up",
        "blocked",
        "run-ready",
        "run",
        "run-over",
        "switch-off",
        "result",
        "check",
        "round",
        "conclusion",
        "which",
        "part",
        "torque",
        "prove",
        "paused",
        "closed",
    ]
    check: str = ""
    fact: str = ""
    state: str = ""
    confirmation: str = ""
    """What was refused; in older traces also what is asked."""
    lines: tuple[str, ...] = ()
    """The lines of a card, each to be pressed by itself; all lines of a round, each with its own number."""
    remedy: str = ""
    part: str = ""
    torque: str = ""
    attempt: int = 1
    proving: bool = False
    proof: Literal["", "proved-gone", "not-provable", "not-cured"] = ""
    """What is proved of the complaint, where the session asks for its end, is left or is over."""
    until_ms: int = 0
    round: str = ""
    """The round that is made; `check` is the first of its open lines in the order of doing."""
    open: tuple[str, ...] = ()
    """The open lines of the round; where a check is held, what has to be seen first."""
