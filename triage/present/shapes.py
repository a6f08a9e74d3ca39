"""What every face shows of a session, as plain values; `triage.present.steps.views` makes them of a session's state."""

from dataclasses import dataclass

NOT_REVIEWED = (
    "This content has not been reviewed by a licensed practitioner. The vehicle maker's procedure comes first."
)
PROOFS = {
    "proved-gone": "proved gone",
    "not-provable": "not proved gone",
    "not-cured": "not cured",
}
ENDS = {
    "nothing-wrong": "Nothing wrong found",
    "not-reproduced": "Not reproduced",
    "not-from-drive": "Not from the accessory drive",
    "undecided": "Undecided: the checks do not carry a conclusion",
}


@dataclass(frozen=True)
class Choice:
    """One numbered answer."""

    id: str
    words: str


@dataclass(frozen=True)
class StepView:
    """One step as every face shows it.

    Args:
        title: what it is.
        lines: what to read before anything else.
        steps: what to do, in order.
        warnings: what can hurt.
        facts: short remarks: tools, minutes, people.
        ask: the question.
        choices: numbered answers.
        vehicle: the vehicle state in words.
        until_ms: when a timed run ends; 0 where none runs.
        timed: whether the stopwatch serves.
        measured: whether plain numbers are a reading; the answers are then named with a # before their number.
        check: the check that its answers belong to; "" where they belong to none.
        units: the units that the reading usually comes in; empty where it has none.
    """

    title: str
    ask: str
    lines: tuple[str, ...] = ()
    steps: tuple[str, ...] = ()
    warnings: tuple[str, ...] = ()
    facts: tuple[str, ...] = ()
    choices: tuple[Choice, ...] = ()
    vehicle: str = ""
    until_ms: int = 0
    timed: bool = False
    measured: bool = False
    units: str = ""
    check: str = ""
