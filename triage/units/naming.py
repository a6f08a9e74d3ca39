"""From the unit as typed to the unit it means, within the kind that was asked for."""

import re
from collections.abc import Mapping
from functools import lru_cache
from types import MappingProxyType

from triage.errors import QuantityRefused, QuantityUnclear
from triage.units.catalogue import KINDS, Kind, Unit

_THOUSAND = re.compile(r"(?:[kK]|thousand)(?:·|$|(?=[A-Za-z/]))")
_DEGREES = ("°", "deg", "degs", "degree", "degrees")
_MILS = ("mil", "mils")

_ASKED: Mapping[str, Mapping[str, str]] = {
    "temperature": {
        **dict.fromkeys(_DEGREES, "Degrees Celsius or Fahrenheit?"),
        "k": "Kelvin, or thousands of degrees?",
    },
    "length": dict.fromkeys(_MILS, "Thousandths of an inch (thou) or millimetres (mm)?"),
    "position": dict.fromkeys(_MILS, "Thousandths of an inch (thou) or millimetres (mm)?"),
    "distance": {
        **dict.fromkeys(_MILS, "Miles or kilometres?"),
        "thou": "Thousands of kilometres or of miles?",
        "m": "Metres or miles?",
    },
}
"""Spellings with two readings, by kind, and the question to ask back."""

_WRONG: Mapping[str, Mapping[str, str]] = {
    "torque": {
        **dict.fromkeys(
            ("lb", "lbs", "lbf", "pound", "pounds", "kg", "kgf", "n", "kn", "oz", "ozf"),
            "is a force or a weight alone; a torque has an arm as well.",
        ),
        "j": "is work, not a torque.",
    },
    "time": {"m": "is metres; minutes are written min."},
    "voltage": {"mv": "with a capital M is a million volts."},
}
"""Spellings often typed for the wrong thing, by kind, and what is wrong with them."""


_UNITS_NAMED = 5
"""A sentence names no more units than this; the commonest stand first in the catalogue."""


def kind_named(kind: str) -> Kind:
    """Return the kind with this id.

    Raises:
        QuantityRefused: there is none.
    """
    if kind not in KINDS:
        raise QuantityRefused("That is not a kind of quantity.", f"One of: {', '.join(KINDS)}.")
    return KINDS[kind]


def find_unit(text: str, kind: Kind) -> tuple[Unit | None, int]:
    """Return the unit that a plain text means in this kind, None for no unit, and what to multiply by.

    The multiplier is 1000 for "k" or "thousand" before the unit, where usual values are that large.

    Raises:
        QuantityRefused: no unit of this kind is spelled so.
        QuantityUnclear: the spelling has two readings.
    """
    spelled = normal_form(text)
    if not spelled:
        return None, 1
    unit = _look_up(spelled, kind)
    if unit is not None:
        return unit, 1
    thousand = _THOUSAND.match(spelled) if kind.grouped else None
    if thousand is None:
        raise _not_understood(spelled, text.strip(), kind)
    rest = spelled[thousand.end() :]
    unit = _look_up(rest, kind)
    if rest and (unit is None or rest in _ASKED.get(kind.id, {})):
        raise _not_understood(rest, text.strip(), kind)
    return unit, 1000


def unit_named(label: str, kind: Kind) -> Unit:
    """Return the unit with this label or spelling.

    Raises:
        QuantityRefused: the kind has no such unit.
    """
    for unit in kind.units:
        if unit.label == label:
            return unit
    found, thousand = find_unit(label, kind)
    if found is None or thousand != 1:
        raise QuantityRefused(f"“{label}” is not a unit of {kind.noun}.", _what_would_be_right(kind))
    return found


def normal_form(text: str) -> str:
    """Return a typed unit with its words joined by one "·", "per" as "/", and no spaces.

    >>> normal_form(" ft. lbs.")
    'ft·lbs'
    >>> normal_form("rev per min")
    'rev/min'
    """
    # A hyphen only ties a unit to its number, as in 9-in; with a blank it may be a minus or the half of a range.
    spelled = re.sub(r"^(?:-(?=[^ -])|[ .]+)", "", text)
    spelled = re.sub(r"[ .]+$", "", spelled)
    spelled = re.sub(r" ?(?:/|\bper\b) ?", "/", spelled)
    spelled = re.sub(r"° (?=[A-Za-z])", "°", spelled)
    return re.sub(r"\.? ?[·×*-] ?|\. ?| ", "·", spelled)


@lru_cache
def _spellings(kind: Kind) -> tuple[Mapping[str, Unit], Mapping[str, Unit]]:
    """Return the units of a kind by symbol and by name in small letters."""
    symbols = {symbol: unit for unit in kind.units for symbol in unit.symbols}
    names = {name.casefold(): unit for unit in kind.units for name in unit.names}
    return MappingProxyType(symbols), MappingProxyType(names)


def _look_up(spelled: str, kind: Kind) -> Unit | None:
    symbols, names = _spellings(kind)
    return symbols.get(spelled) or names.get(spelled.casefold())


def _not_understood(spelled: str, typed: str, kind: Kind) -> QuantityRefused | QuantityUnclear:
    """Make the error for a spelling that is no unit of this kind."""
    folded = spelled.casefold()
    question = _ASKED.get(kind.id, {}).get(folded)
    if question is not None:
        return QuantityUnclear(f"“{typed}” can be read two ways. {question}", "Type it again with the unit in full.")
    what = _WRONG.get(kind.id, {}).get(folded)
    if what is None:
        other = next((other for other in KINDS.values() if _look_up(spelled, other) is not None), None)
        what = f"is a unit of {other.noun}, not of {kind.noun}." if other else f"is not a unit of {kind.noun}."
    return QuantityRefused(f"“{typed}” {what}", _what_would_be_right(kind))


def _what_would_be_right(kind: Kind) -> str:
    labels = [unit.label or "no unit" for unit in kind.units[:_UNITS_NAMED]]
    return f"{kind.noun.capitalize()} is written with {', '.join(labels[:-1])} or {labels[-1]}."
