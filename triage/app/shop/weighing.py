"""The parts of the shop file that say what wrong ends cost and how long checks take, all in time.

losses:
  part_for_nothing: "2 h"
  fault_left_in: "5 h"
  causes:
    belt-damaged: {fault_left_in: "12 h"}
minutes:
  change_over: {belt_off: "12 min", battery_isolate: "8 min"}
  checks: {bearing-listen: "10 min"}
"""

from collections.abc import Iterator
from dataclasses import fields
from functools import partial

from pydantic import Field

from triage.app.shop.entries import strangers, unreadable
from triage.documents import Document, Model
from triage.errors import Fault, QuantityRefused
from triage.knowledge.models import Id, Knowledge, Text
from triage.reasoning.advice.changeover import ChangeOver
from triage.record.weights import Weights
from triage.units import parse_quantity

TURNS = tuple(field.name for field in fields(ChangeOver))
SECONDS_IN_MINUTE = 60.0
LEAST_LOSS_MIN = 1.0
"""Less than this, nothing would be lost by a wrong end, and no check would ever pay."""
SOURCE = "shop file"


class Loss(Model):
    """What wrong ends cost, as times of the bay."""

    part_for_nothing: Text | None = None
    fault_left_in: Text | None = None


class LossList(Loss):
    """The same for every cause, and for causes by themselves."""

    causes: dict[Id, Loss] = Field(default_factory=dict)


class MinuteList(Model):
    """How long turns of the vehicle and checks take in this shop."""

    change_over: dict[str, Text] = Field(default_factory=dict)
    checks: dict[Id, Text] = Field(default_factory=dict)


def weights_of(losses: LossList, minutes: MinuteList) -> Weights:
    """A shop's figures as a session uses and records them; what it does not say keeps its default.

    Raises:
        TriageError: a time cannot be read.
    """
    each = losses.causes.items()
    everywhere = {"for_nothing_min": losses.part_for_nothing, "left_in_min": losses.fault_left_in}
    figures: dict[str, object] = {
        **{name: _minutes(text, LEAST_LOSS_MIN) for name, text in everywhere.items() if text},
        "for_nothing_by_cause": {
            cause: _minutes(one.part_for_nothing, LEAST_LOSS_MIN) for cause, one in each if one.part_for_nothing
        },
        "left_in_by_cause": {
            cause: _minutes(one.fault_left_in, LEAST_LOSS_MIN) for cause, one in each if one.fault_left_in
        },
        "change_over_min": {turn: _minutes(text) for turn, text in minutes.change_over.items()},
        "checks_min": {check: _minutes(text) for check, text in minutes.checks.items()},
    }
    own = any(figures.values())
    return Weights.model_validate({**figures, "source": SOURCE} if own else {})


def faults_of(losses: LossList, minutes: MinuteList, document: Document, knowledge: Knowledge) -> Iterator[Fault]:
    """Name what these parts have wrong: unknown causes, turns and checks, and times that cannot be read."""
    yield from strangers(document, ("losses", "causes"), losses.causes, list(knowledge.causes), "cause")
    yield from strangers(document, ("minutes", "change_over"), minutes.change_over, TURNS, "turn of the vehicle")
    yield from strangers(document, ("minutes", "checks"), minutes.checks, list(knowledge.checks), "check")
    for path, loss in [((), losses), *((("causes", cause), one) for cause, one in losses.causes.items())]:
        for name in ("part_for_nothing", "fault_left_in"):
            if text := getattr(loss, name):
                yield from unreadable(document, ("losses", *path, name), partial(_minutes, text, LEAST_LOSS_MIN))
    for section in ("change_over", "checks"):
        for name, text in getattr(minutes, section).items():
            yield from unreadable(document, ("minutes", section, name), partial(_minutes, text))


def _minutes(text: str, least_min: float = 0.0) -> float:
    minutes = parse_quantity(text, "time").value / SECONDS_IN_MINUTE
    if minutes < least_min:
        raise QuantityRefused(f"“{text}” is too little.", "Write a time like 2 h or 15 min.")
    return minutes
