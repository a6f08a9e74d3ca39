"""Quantities as people write them, and the only importer of the unit library.

Text becomes an SI quantity and goes back into words only here; everywhere else plain floats in SI carry their unit in
their name.
"""

from triage.units.catalogue import KINDS, Kind, Unit
from triage.units.quantities import Quantity, parse_quantity
from triage.units.saying import say_back, say_quantity, say_typed
from triage.units.uncertainty import standard_uncertainty

__all__ = [
    "KINDS",
    "Kind",
    "Quantity",
    "Unit",
    "parse_quantity",
    "say_back",
    "say_quantity",
    "say_typed",
    "standard_uncertainty",
]
