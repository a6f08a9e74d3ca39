"""What a sentence may say: the whole list. None of these confirms, starts, renews a part, tightens or signs off."""

from dataclasses import asdict, dataclass, field
from typing import ClassVar, Literal

About = Literal[
    "why",
    "why-not",
    "where",
    "how",
    "what-if",
    "how-long",
    "how-sure",
    "what-likely",
    "what-found",
    "meaning",
    "next",
]
Control = Literal["back", "pause", "note", "cannot", "close", "hand-over"]


@dataclass(frozen=True)
class Finding:
    """A check had this outcome."""

    kind: ClassVar = "finding"
    check: str
    outcome: str


@dataclass(frozen=True)
class Reading:
    """A check was measured; the typed parts in order, each in the SI unit of its kind."""

    kind: ClassVar = "reading"
    check: str
    values_si: tuple[float, ...]
    text: str
    pieces: tuple[str, ...] = field(default=(), compare=False)
    """The words of each part, as they would be typed by themselves."""


@dataclass(frozen=True)
class Cannot:
    """The check on screen cannot be made; no reason where none was said."""

    kind: ClassVar = "cannot"
    check: str
    reason: str | None


@dataclass(frozen=True)
class ToolMissing:
    """A tool is not at hand."""

    kind: ClassVar = "tool-missing"
    tool: str


@dataclass(frozen=True)
class WordFact:
    """A fact of the vehicle that is a word or a count."""

    kind: ClassVar = "fact"
    fact: Literal["pulley", "cylinders"]
    value: str | int


@dataclass(frozen=True)
class MeasuredFact:
    """A fact of the vehicle that has a unit, in SI."""

    kind: ClassVar = "fact"
    fact: Literal["odometer"]
    value_si: float


@dataclass(frozen=True)
class Asked:
    """A question about the step on screen or the session."""

    kind: ClassVar = "ask"
    about: About


@dataclass(frozen=True)
class Do:
    """One of the words that lead through a session."""

    kind: ClassVar = "do"
    word: Control


@dataclass(frozen=True)
class Symptom:
    """What the customer notices."""

    kind: ClassVar = "symptom"
    symptom: str


@dataclass(frozen=True)
class Reply:
    """A yes, a no or a doubt for which the check on screen has no outcome."""

    kind: Literal["yes", "no", "not-sure"]


@dataclass(frozen=True)
class Nothing:
    """Nothing that was understood."""

    kind: ClassVar = "nothing"


Item = Finding | Reading | Cannot | ToolMissing | WordFact | MeasuredFact | Asked | Do | Symptom | Reply | Nothing


def as_data(item: Item) -> dict[str, object]:
    """An item as plain data, its kind first.

    >>> as_data(Finding("spin-idler", "rough"))
    {'kind': 'finding', 'check': 'spin-idler', 'outcome': 'rough'}
    >>> as_data(Reply("yes"))
    {'kind': 'yes'}
    """
    told = {name: value for name, value in asdict(item).items() if name != "pieces"}
    fields = {name: list(value) if isinstance(value, tuple) else value for name, value in told.items()}
    return {"kind": item.kind, **fields}
