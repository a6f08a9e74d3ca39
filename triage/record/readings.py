"""A reading as its event records it: what was typed, how sure the instruments are, how it was judged."""

from typing import Literal

from pydantic import SerializerFunctionWrapHandler, model_serializer

from triage.documents import Model


class AccuracyUsed(Model):
    """The permissible deviation of one instrument as this session uses it."""

    relative: float
    absolute: float
    source: str


class TypedPart(Model):
    """One part of a reading as typed, or as it was taken from what `source` names; `bare` where no unit was typed."""

    part: str
    value: float
    spread: float
    text: str
    source: str = ""
    bare: bool = False

    @model_serializer(mode="wrap")
    def _later(self, dumped: SerializerFunctionWrapHandler) -> dict[str, object]:
        """Leave out what came later where it says nothing, so that older lines are written again as they stand."""
        data: dict[str, object] = dumped(self)
        return data if self.bare else {name: value for name, value in data.items() if name != "bare"}


def said_of(parts: tuple[TypedPart, ...]) -> str:
    """What was typed for a reading, in one line."""
    return ", ".join(part.text for part in parts)


class MeasuredOnce(Model):
    """What one reading came to by itself, where others were weighed with it."""

    value: float
    uncertainty: float


Doubt = Literal["cannot-be", "beyond-instrument", "beyond-stop"]
"""Why a reading was asked back: hardly any vehicle has it, its instrument does not read it, the steps say to stop."""


class Verdict(Model):
    """How a reading was judged: probabilities of its zones, in the order of the check's zones."""

    value: float
    uncertainty: float
    probabilities: tuple[float, ...]
    margin: float
    limit: float
    limit_source: str
    settled: bool
