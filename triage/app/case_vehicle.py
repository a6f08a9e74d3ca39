"""The vehicle of a recorded case: its facts as a file writes them, and as a session is told them."""

from collections.abc import Iterator
from typing import Final, Literal

from triage.documents import Model
from triage.errors import QuantityRefused, QuantityUnclear
from triage.knowledge.models import Pulley
from triage.knowledge.nearest import nearest
from triage.knowledge.vehicle import WORDS
from triage.units import parse_quantity

YES_OR_NO: Final = ("yes", "no")
"""Words that a case may hold without quotes: `managed_charging: no`."""
NO_LOAD: Final = ("crank", "tensioner", "idler")
"""Parts of a layout that a list of what the belt drives may name, and that tell nothing."""


class Vehicle(Model):
    """The vehicle of a case; `drives` holds parts by the names of layouts."""

    cylinders: int | None = None
    specified_pulley: Pulley = "unknown"
    odometer: str | int | float | None = None
    tightening: Literal["arm", "strut", "screw", "stretch", "no-stretch", "unknown"] = "no-stretch"
    drives: tuple[str, ...] | Literal["unknown"] = "unknown"
    belts: int | Literal["unknown"] = "unknown"
    managed_charging: Literal["yes", "no", "unknown"] | bool = "unknown"
    system_voltage: Literal["12", "24", "other", "unknown"] | int = "unknown"


def complaints_about(vehicle: Vehicle) -> Iterator[tuple[str, str, str]]:
    """Which fact of a vehicle cannot be taken, why, and what to do."""
    parts = () if vehicle.drives == "unknown" else vehicle.drives
    for part in parts:
        if not _kind_of(part):
            yield "drives", f'A belt drives no "{part}" here.', nearest(part, WORDS["drives"])
    if isinstance(vehicle.system_voltage, int) and vehicle.system_voltage not in (12, 24):
        yield "system_voltage", f"{vehicle.system_voltage} V is no usual system.", "12, 24 or other."
    try:
        fact_of(vehicle, "odometer")
    except (QuantityRefused, QuantityUnclear) as error:
        yield "odometer", error.message, error.hint


def fact_of(vehicle: Vehicle, fact: str) -> str | float | None:
    """A fact as a session is told it; None where the case does not know it.

    Raises:
        QuantityRefused: the odometer is no distance.
        QuantityUnclear: it could be more than one.
    """
    match fact:
        case "pulley":
            return None if vehicle.specified_pulley == "unknown" else vehicle.specified_pulley
        case "cylinders":
            return None if vehicle.cylinders is None else float(vehicle.cylinders)
        case "odometer":
            return None if vehicle.odometer is None else parse_quantity(str(vehicle.odometer), "distance").value
        case "belts":
            return None if vehicle.belts == "unknown" else float(vehicle.belts)
        case "drives":
            kinds = [] if vehicle.drives == "unknown" else [_kind_of(part) for part in vehicle.drives]
            return " ".join(dict.fromkeys(kind for kind in kinds if kind in WORDS["drives"])) or None
        case "managed_charging":
            managed = vehicle.managed_charging
            told: object = managed if isinstance(managed, str) else YES_OR_NO[not managed]
        case _:
            told = getattr(vehicle, fact)
    return None if told == "unknown" else str(told)


def _kind_of(part: str) -> str:
    """What a part of a layout is; a drive with two idlers numbers them."""
    kinds = (*WORDS["drives"], *NO_LOAD)
    return next(
        (kind for kind in kinds if part == kind or part.startswith(f"{kind}-") or part.endswith(f"-{kind}")), ""
    )
