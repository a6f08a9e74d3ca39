"""Lines about pulleys, belt and engine as a person types them in one go, read into parts of a layout."""

import re
from collections.abc import Mapping, Sequence
from types import MappingProxyType
from typing import Final

from triage.documents import rebuild
from triage.errors import QuantityRefused
from triage.knowledge.models import PULLEY_TYPES
from triage.record.layout import Belt, Engine, Pulley
from triage.units import parse_quantity

UNKNOWN: Final = ("unknown", "not known", "?")
SIDES: Final[Mapping[str, str]] = MappingProxyType(
    {"back": "back", "smooth": "back", "flat": "back", "ribs": "ribs", "ribbed": "ribs", "grooved": "ribs"}
)
MEASURED: Final[Mapping[str, str | None]] = MappingProxyType(
    {"outside": "outside", "tape": "outside", "effective": "effective", "pitch": "pitch", "unknown": None}
)
TURNS: Final[Mapping[str, str | None]] = MappingProxyType(
    {
        "clockwise": "clockwise",
        "cw": "clockwise",
        "anticlockwise": "anticlockwise",
        "counter-clockwise": "anticlockwise",
        "acw": "anticlockwise",
        "ccw": "anticlockwise",
        **dict.fromkeys(UNKNOWN),
    }
)
_PRINTED: Final = re.compile(r"(\d{1,2})\s*pk\s*(\d{3,4})", re.IGNORECASE)
_RIBS: Final = re.compile(r"(\d{1,2})\s*ribs?\b", re.IGNORECASE)


def pulley_line(line: str, before: Sequence[Pulley]) -> Pulley:
    """Read a pulley: name, side where it is not grooved, diameter and how that was measured.

    Args:
        line: such as `tensioner back 76 mm outside`; the first needs no name, it is the crank.
        before: pulleys that were typed already.

    Returns:
        the pulley, without a place.

    Raises:
        QuantityRefused: something is missing or cannot be.
    """
    words = line.replace(",", ", ").split()
    side = next((SIDES[word.lower()] for word in words if word.lower() in SIDES), "ribs")
    measured = next((word.lower() for word in words if word.lower() in MEASURED), "")
    kind = next((word.lower() for word in words if word.lower() in PULLEY_TYPES), None)
    rest = [word for word in words if word.lower() not in (*SIDES, *MEASURED, *PULLEY_TYPES)]
    first = next((at for at, word in enumerate(rest) if word[0].isdecimal()), len(rest))
    name = "-".join(word.lower() for word in rest[:first]) or ("" if before else "crank")
    if not name or first == len(rest):
        raise QuantityRefused("A pulley needs a name and a diameter.", "Such as: tensioner back 76 mm outside.")
    if name in [pulley.part for pulley in before]:
        raise QuantityRefused(f"{name} stands in the list already.", "Give each its own name, such as idler-2.")
    diameter = with_unit(" ".join(rest[first:]), "length")
    if not measured:
        raise QuantityRefused(
            f"How was the {diameter} of {name} measured?",
            "Add outside (over the rim, a tape), effective or pitch (a drawing), or unknown.",
        )
    if side == "back" and measured == "effective":
        raise QuantityRefused("A pulley on the belt's back has no effective diameter.", "Measure it over the rim.")
    fields = {"part": name, "diameter": diameter, "diameter_is": MEASURED[measured], "side": side, "pulley": kind}
    return rebuild(Pulley, fields, name="typed")


def belt_line(line: str) -> Belt:
    """Read a belt: ribs and length, or what is printed on it.

    Args:
        line: such as `6 ribs 1750 mm effective`, or `6PK1750`.

    Returns:
        the belt, as far as it was said.

    Raises:
        QuantityRefused: it cannot be read.
    """
    text = line.strip().removeprefix("belt").strip()
    if not text or text.lower() in UNKNOWN:
        return Belt()
    printed = _PRINTED.fullmatch(text)
    if printed:
        return rebuild(
            Belt, {"ribs": int(printed[1]), "length": f"{printed[2]} mm", "length_is": "effective"}, name="typed"
        )
    ribs = _RIBS.search(text)
    rest = (text[: ribs.start()] + text[ribs.end() :] if ribs else text).split()
    measure = next((word.lower() for word in rest if word.lower() in ("effective", "pitch")), None)
    length = " ".join(word for word in rest if word.lower() not in ("effective", "pitch")).strip(" ,")
    fields: dict[str, object] = {"ribs": int(ribs[1])} if ribs else {}
    if length:
        length = with_unit(length, "length")
        if measure is None:
            raise QuantityRefused(
                f"Is {length} the effective length, as printed on a belt, or along the cord?",
                "Add effective or pitch.",
            )
        fields |= {"length": length, "length_is": measure}
    return rebuild(Belt, fields, name="typed")


def engine_line(line: str) -> Engine:
    """Read an engine: cylinders, then idle.

    Args:
        line: such as `4, 750 rpm`, or `4` alone.

    Returns:
        the engine, as far as it was said.

    Raises:
        QuantityRefused: it cannot be read.
    """
    text = line.strip()
    if not text or text.lower() in UNKNOWN:
        return Engine()
    cylinders, _, idle = text.replace(",", " ").replace("cylinders", " ").strip().partition(" ")
    if not cylinders.isdecimal():
        raise QuantityRefused(f"“{cylinders}” is no number of cylinders.", "Such as: 4, 750 rpm. Or unknown.")
    fields: dict[str, object] = {"cylinders": int(cylinders)}
    if idle.strip() and idle.strip().lower() not in UNKNOWN:
        fields["idle"] = with_unit(idle.strip(), "speed")
    return rebuild(Engine, fields, name="typed")


def turn_line(line: str) -> str | None:
    """Read which way the engine turns, seen from the pulley end; none where that is not known.

    Raises:
        QuantityRefused: it is neither way.
    """
    said = line.strip().lower()
    if said not in TURNS:
        raise QuantityRefused(f"“{line.strip()}” is no way to turn.", "Type cw, acw or unknown.")
    return TURNS[said]


def with_unit(text: str, kind: str) -> str:
    """Write a quantity with the unit that is taken for it where none was typed.

    Raises:
        QuantityRefused: it is no such quantity.
    """
    quantity = parse_quantity(text, kind)
    return f"{text} {quantity.unit}" if quantity.assumed else text


def pulley_meant(word: str, parts: Sequence[str]) -> int:
    """Find the pulley that a number or a name means.

    Args:
        word: such as `3` or `alternator`.
        parts: n names in the order of the list.

    Returns:
        its position [1].

    Raises:
        QuantityRefused: there is none.

    Source: common-practice
    """
    if word.isdecimal() and 1 <= int(word) <= len(parts):
        return int(word) - 1
    if word.lower() in parts:
        return parts.index(word.lower())
    listed = ", ".join(f"{number} {part}" for number, part in enumerate(parts, 1))
    raise QuantityRefused(f"There is no pulley “{word}”.", f"By number or name: {listed}.")
