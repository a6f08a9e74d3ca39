"""What a person typed about a run, as a question: the same options mean the same wherever they are typed."""

import math
from collections.abc import Mapping
from dataclasses import dataclass

from pydantic import ValidationError

from triage.drive.layout.assembly import Drive, assemble
from triage.drive.layout.ranges import ranges_of
from triage.drive.motion.events import EVENT_KINDS, Wish
from triage.drive.motion.machine import FAULTS, Variant
from triage.drive.motion.parameters import CRANK_KEYS, KEYS, Parameters, parameters_of, usual_ones
from triage.drive.motion.simulating import USUAL_RIPPLE_RAD, Question, compared, fitted, refuse_hindered
from triage.errors import QuantityRefused, TriageError
from triage.knowledge.models import PULLEY_TYPES
from triage.record.layout import FreeCrank, Layout, Simulation
from triage.units import parse_quantity

CRANK = "crank_"
WISHES = ("rpm", "to", "rate", "seconds", "ripple", "step")
"""Figures of an event that may be typed."""
PARAMETERS = (*KEYS, *(f"{CRANK}{key}" for key in CRANK_KEYS), "creep")
"""Figures of the drive that may be typed, in the place of the layout's."""


@dataclass(frozen=True)
class Asked:
    """A run that is asked for.

    Args:
        name: of the layout.
        layout: with what was typed in the place of its own.
        drive: put together.
        parameters: likewise.
        question: what happens to which variants.
        left: what was left out of a comparison, a sentence each.
    """

    name: str
    layout: Layout
    drive: Drive
    parameters: Parameters
    question: Question
    left: tuple[str, ...]

    @property
    def notes(self) -> tuple[str, ...]:
        """What was left out or taken for granted."""
        ranges = ranges_of(self.layout)
        middle = f"Ranges are taken at their middle: {', '.join(ranges)}." if ranges else ""
        return (*self.left, *self.drive.assumed, *filter(None, (middle, usual_ones(self.layout))))


def asked(layout: Layout, name: str, typed: Mapping[str, str]) -> Asked:
    """Put a question together.

    Args:
        layout: of the drive.
        name: of the layout.
        typed: texts by the names of options: event, pulley, fault, compare (any text), `WISHES`, `PARAMETERS`.

    Raises:
        TriageError: something cannot be, or the layout does not say enough.
    """
    kind = next((one for one in EVENT_KINDS if one == typed.get("event")), None)
    if kind is None:
        raise TriageError("I need to know what happens.", f"One of {', '.join(EVENT_KINDS)}.")
    layout = layout.model_copy(update={"simulation": _simulation(typed, layout.simulation)})
    drive, parameters = assemble(layout), parameters_of(layout)
    variants, left = _variants(typed, drive, parameters)
    refuse_hindered(drive, variants)
    ripple = _si(typed["ripple"], "angle") if "ripple" in typed else USUAL_RIPPLE_RAD
    return Asked(name, layout, drive, parameters, Question(kind, variants, _wish(typed), ripple), left)


def _variants(
    typed: Mapping[str, str], drive: Drive, parameters: Parameters
) -> tuple[tuple[Variant, ...], tuple[str, ...]]:
    pulley, fault = typed.get("pulley"), typed.get("fault", "").strip().replace(" ", "-").replace("_", "-")
    if "compare" in typed:
        if pulley or fault:
            raise TriageError("compare tries all pulleys and faults.", "Leave pulley and fault out, or compare.")
        return compared(drive, parameters)
    if fault and fault not in FAULTS:
        raise TriageError(
            f"There is no fault “{fault[:40]}”.", "; ".join(f"{one}: {told}" for one, told in FAULTS.items()) + "."
        )
    chosen = next((one for one in PULLEY_TYPES if one == pulley), None)
    if pulley and chosen is None:
        raise TriageError(f"There is no pulley type “{pulley[:40]}”.", f"One of {', '.join(PULLEY_TYPES)}.")
    return (Variant(chosen or fitted(drive), fault),), ()


def _simulation(typed: Mapping[str, str], written: Simulation | None) -> Simulation:
    """What the layout says under `simulation`, with what was typed in its place."""
    given: dict[str, object] = {key: typed[key] for key in PARAMETERS if key in typed}
    if "creep" in given:
        if given["creep"] not in ("true", "false"):
            raise QuantityRefused("creep takes true or false.", "Leave it out where the belt creeps.")
        given["creep"] = given["creep"] == "true"
    base = (written or Simulation()).model_dump(exclude_none=True)
    crank = {key.removeprefix(CRANK): given.pop(key) for key in list(given) if key.startswith(CRANK)}
    parts = {**base.pop("crank", {}), **crank}
    try:
        return Simulation.model_validate({**base, **given, **({"crank": FreeCrank(**parts)} if parts else {})})
    except ValidationError as error:
        first = error.errors()[0]
        option = " ".join(str(one) for one in first["loc"]).replace("_", " ")
        message = str(first["msg"]).removeprefix("Value error, ")
        raise QuantityRefused(f"{option}: {message}", "Type it with its unit, or leave it out.") from error


def _wish(typed: Mapping[str, str]) -> Wish:
    return Wish(
        rpm=_speed(typed.get("rpm")),
        to=_speed(typed.get("to")),
        rate=_speed(_per_second(typed.get("rate"))),
        seconds=_more_than_nothing(typed["seconds"], "time") if "seconds" in typed else None,
        step_nm=_si(typed["step"], "torque") if "step" in typed else None,
    )


def _per_second(text: str | None) -> str | None:
    """A rate without what says that it is one: "2000 r/min per s" is 2000 r/min, each second."""
    if text is None:
        return None
    for end in ("each second", "per second", "per s", "/s"):
        if text.strip().endswith(f"min{end}") or text.strip().endswith(f"min {end}"):
            return text.strip().removesuffix(end)
    return text


def _speed(text: str | None) -> float | None:
    return None if text is None else _more_than_nothing(text, "speed") * math.tau


def _more_than_nothing(text: str, kind: str) -> float:
    value = _si(text, kind)
    if not value > 0:
        raise QuantityRefused(f"“{text}” must be more than zero.", "Leave it out for the usual figure.")
    return value


def _si(text: str, kind: str) -> float:
    return parse_quantity(text, kind).value
