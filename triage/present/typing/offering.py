"""What the layout in use gives for a part of a reading: offered with its name, taken only when a person says so."""

from dataclasses import dataclass

from triage.knowledge.models import Part
from triage.present.cleaning import clean_line
from triage.record.payloads import UsedLayout
from triage.record.readings import TypedPart
from triage.units import parse_quantity, say_back, say_quantity

YES = ("y", "yes")


@dataclass(frozen=True)
class Offered:
    """One figure of a layout.

    Args:
        name: of what it is, such as a pulley.
        value: SI.
        spread: half-width that came with it, same unit.
        text: the figure in words.
    """

    name: str
    value: float
    spread: float
    text: str


def offers_for(part: Part, used: UsedLayout | None) -> tuple[Offered, ...]:
    """The figures that a layout has for a part; none without a layout, or where it does not give them."""
    if used is None or part.from_layout is None:
        return ()
    known, belt = used.known, used.layout.belt
    if part.from_layout == "longest-span":
        span = known.longest
        return (_length(f"{span.start} to {span.end}", span.length_m, span.spread_m),) if span else ()
    if part.from_layout in ("crank-diameter", "driven-diameter"):
        crank = next(iter(known.pitch_m))
        wanted = [name for name in known.pitch_m if (name == crank) == (part.from_layout == "crank-diameter")]
        return tuple(_length(name, known.pitch_m[name], known.pitch_spread_m.get(name, 0.0)) for name in wanted)
    if part.from_layout == "ribs":
        return (Offered("belt", float(belt.ribs), 0.0, f"{belt.ribs}"),) if belt.ribs else ()
    if belt.mass_per_metre is None:
        return ()
    mass = parse_quantity(belt.mass_per_metre, part.kind)
    return (Offered("belt", mass.value, mass.spread, say_back(mass)),)


def question(part: Part, used: UsedLayout | None) -> str:
    """The question for a part, with what the layout in use offers."""
    offers = offers_for(part, used)
    if not offers or used is None:
        return clean_line(part.ask)
    listed = ", ".join(f"{one.text} ({one.name})" for one in offers)
    take = '"y" takes it' if len(offers) == 1 else "the pulley's name takes it"
    return clean_line(f"{part.ask}. The layout {used.name} has {listed}: {take}, or type your own.")


def taken(part: Part, used: UsedLayout | None, line: str) -> TypedPart | None:
    """The figure of the layout that a line takes; None where it is to be read as typed."""
    said = line.strip().lower()
    offers = offers_for(part, used)
    named = offers if len(offers) == 1 and said in YES else [one for one in offers if one.name == said]
    if not named or used is None:
        return None
    one, source = named[0], f"layout {used.name}"
    return TypedPart(
        part=part.id, value=one.value, spread=one.spread, text=f"{one.text} ({source}, {one.name})", source=source
    )


def _length(name: str, length_m: float, spread_m: float = 0.0) -> Offered:
    width = f" ± {say_quantity(spread_m, 'length', 'mm', digits=2)}" if spread_m else ""
    return Offered(name, length_m, spread_m, say_quantity(length_m, "length", "mm", digits=4) + width)
