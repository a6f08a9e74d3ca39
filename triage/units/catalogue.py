"""The kinds of quantity a session asks for and the units each is written in.

This is the trade's vocabulary as data. A unit belongs to a kind only where people measure that kind with it, so that a
spelling can never slip into another dimension: "lb" is a force and no torque, "C" a temperature and no charge.

Spellings stand in the normal form of `triage.units.naming`: words are joined by one "·", "per" is "/", no spaces.
Source: NIST SP 811 for units and symbols; the spellings are common practice, no source.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from itertools import product
from types import MappingProxyType


@dataclass(frozen=True)
class Unit:
    """One unit of one kind.

    Args:
        label: how screens write it.
        expression: the same unit in the words of the unit library.
        names: spellings that mean it in capitals and small letters alike.
        symbols: spellings in which the case matters (mV is no MV).
        grouped: figures in this unit often run into thousands, so that "1.500" may mean fifteen hundred.
    """

    label: str
    expression: str
    names: tuple[str, ...] = ()
    symbols: tuple[str, ...] = ()
    grouped: bool = False


@dataclass(frozen=True)
class Kind:
    """One kind of quantity.

    Args:
        id: the word used in files and on the command line.
        noun: the kind in a sentence, with its article.
        si: label of the SI unit that crosses package borders.
        expression: the SI unit in the words of the unit library.
        units: the usual unit, taken for a bare number, first.
        signed: whether a value below zero makes sense.
        also: labels of other units that are as usual at a bench, so that a bare number may mean them.
    """

    id: str
    noun: str
    si: str
    expression: str
    units: tuple[Unit, ...]
    signed: bool = False
    also: tuple[str, ...] = ()

    @property
    def usual(self) -> str:
        """Label of the unit that a bare number takes."""
        return self.units[0].label

    @property
    def grouped(self) -> bool:
        """Whether usual values are so large that one comma before three digits groups thousands."""
        return self.units[0].grouped


_POUNDS = ("lbf", "lb", "lbs", "pound", "pounds", "pound·force", "pounds·force")
_OUNCES = ("ozf", "oz", "ounce", "ounces")
_KILOGRAMS = ("kgf", "kg", "kp")
_INCHES = ("in", "ins", "inch", "inches")
_FEET = ("ft", "foot", "feet")
_METRES = ("m", "meter", "metre", "meters", "metres")
_REVOLUTIONS = ("r", "rev", "revs", "revolution", "revolutions", "turn", "turns", "u")
_MINUTES = ("min", "mins", "minute", "minutes")
_SECONDS = ("s", "sec", "secs", "second", "seconds")


def _times(forces: Iterable[str], arms: Iterable[str]) -> tuple[str, ...]:
    """Spell a force times an arm, joined or run together."""
    pairs = tuple(product(forces, arms))
    return tuple(f"{force}·{arm}" for force, arm in pairs) + tuple(f"{force}{arm}" for force, arm in pairs)


def _either_way(forces: tuple[str, ...], arms: tuple[str, ...]) -> tuple[str, ...]:
    """Spell a torque whose parts are said in either order; never for N, because mN is a millinewton."""
    return _times(forces, arms) + _times(arms, forces)


def _per(counts: Iterable[str], spans: Iterable[str]) -> tuple[str, ...]:
    return tuple(f"{count}/{span}" for count, span in product(counts, spans))


_TORQUE = (
    Unit("N·m", "newton*meter", (*_times(("n",), ("m",)), *_times(("newton", "newtons"), _METRES))),
    Unit("lbf·in", "pound_force*inch", _either_way(_POUNDS, _INCHES)),
    Unit("lbf·ft", "pound_force*foot", _either_way(_POUNDS, _FEET)),
    Unit("N·cm", "newton*centimeter", _times(("n",), ("cm",))),
    Unit("kgf·m", "kilogram_force*meter", _either_way(_KILOGRAMS, ("m",))),
    Unit("kgf·cm", "kilogram_force*centimeter", _either_way(_KILOGRAMS, ("cm",))),
    Unit("ozf·in", "ounce_force*inch", _either_way(_OUNCES, _INCHES)),
    Unit("N·mm", "newton*millimeter", _times(("n",), ("mm",))),
    Unit("mN·m", "millinewton*meter", symbols=_times(("mN",), ("m",))),
    Unit("daN·m", "decanewton*meter", _times(("dan",), ("m",))),
    Unit("kN·m", "kilonewton*meter", _times(("kn",), ("m",))),
)

_RPM = ("rpm", "rpms", "r·p·m", "revs", *_per(("", *_REVOLUTIONS), _MINUTES))
_PER_SECOND = _per(("",), _SECONDS)

# One repetition a second is one turn a second: never through the radian, which would make 60 r/min 6.28 Hz.
_SPEED = (
    Unit("r/min", "turn/minute", _RPM, grouped=True),
    Unit("rev/s", "turn/second", ("rps", *_PER_SECOND, *_per(_REVOLUTIONS, _SECONDS))),
    Unit("Hz", "turn/second", ("hz", "hertz")),
    Unit("rad/s", "radian/second", _per(("rad", "radian", "radians"), _SECONDS)),
)

_FREQUENCY = (
    Unit("Hz", "hertz", ("hz", "hertz", "cps", *_PER_SECOND, *_per(("cycle", "cycles"), _SECONDS))),
    Unit("kHz", "kilohertz", ("khz", "kilohertz")),
    Unit("r/min", "1/minute", (*_RPM, "cpm", *_per(("cycle", "cycles"), _MINUTES))),
)

_TIME = (
    Unit("s", "second", _SECONDS),
    Unit("ms", "millisecond", ("msec", "msecs", "millisecond", "milliseconds"), ("ms",)),
    Unit("min", "minute", _MINUTES),
    Unit("h", "hour", ("h", "hr", "hrs", "hour", "hours")),
)

_METRE = Unit("m", "meter", _METRES[1:], ("m",))
_KILOMETRE = Unit("km", "kilometer", ("km", "kms", "kilometer", "kilometre", "kilometers", "kilometres"), grouped=True)
_MILE = Unit("mi", "mile", ("mi", "mile", "miles"), grouped=True)
_LENGTH = (
    Unit("mm", "millimeter", ("millimeter", "millimetre", "millimeters", "millimetres"), ("mm", "MM")),
    Unit("cm", "centimeter", ("cm", "centimeter", "centimetre", "centimeters", "centimetres")),
    _METRE,
    Unit("µm", "micrometer", ("um", "micron", "microns"), ("µm",)),
    Unit("in", "inch", (*_INCHES, '"', "''")),
    Unit("ft", "foot", (*_FEET, "'")),
    Unit("thou", "thou", ("thou", "thous", "thousandth", "thousandths")),
    _KILOMETRE,
    _MILE,
)
_DISTANCE = (_KILOMETRE, _MILE, _METRE)

_VOLTAGE = (
    Unit("V", "volt", ("v", "volt", "volts")),
    Unit("mV", "millivolt", ("millivolt", "millivolts"), ("mV", "mv")),
    Unit("V DC", "volt", ("vdc", "v·dc", "volt·dc", "volts·dc", "dcv", "v·d·c")),
    Unit("V AC", "volt", ("vac", "v·ac", "volt·ac", "volts·ac", "acv", "v·a·c")),
    Unit("mV DC", "millivolt", symbols=("mVDC", "mVdc", "mV·DC", "mv·dc", "mV·dc")),
    Unit("mV AC", "millivolt", symbols=("mVAC", "mVac", "mV·AC", "mv·ac", "mV·ac")),
    Unit("kV", "kilovolt", ("kv", "kilovolt", "kilovolts")),
)


_CURRENT = (
    Unit("A", "ampere", ("a", "amp", "amps", "ampere", "amperes")),
    Unit("mA", "milliampere", ("milliamp", "milliamps", "milliampere", "milliamperes"), ("mA", "ma")),
)


def _degrees(letter: str, *words: str) -> tuple[str, ...]:
    """Spell a temperature scale: with and without degrees, letter or word."""
    marks = ("°", "deg", "deg·", "degs·", "degree·", "degrees·")
    return (letter, *words, *(f"{mark}{name}" for mark, name in product(marks, (letter, *words))))


_TEMPERATURE = (
    Unit("°C", "degree_Celsius", _degrees("c", "celsius", "centigrade")),
    Unit("°F", "degree_Fahrenheit", _degrees("f", "fahrenheit")),
    Unit("K", "kelvin", ("kelvin", "kelvins", "°k", "deg·k", "degrees·kelvin"), ("K",)),
)

_ANGLE = (
    Unit("°", "degree", ("°", "deg", "degs", "degree", "degrees")),
    Unit("′", "arcminute", ("'", "arcmin", "arcminute", "arcminutes")),
    Unit("rad", "radian", ("rad", "rads", "radian", "radians")),
    Unit("mrad", "milliradian", ("milliradian", "milliradians"), ("mrad",)),
    Unit("turn", "turn", ("turn", "turns", "rev", "revs", "revolution", "revolutions")),
)

_FORCE = (
    Unit("N", "newton", ("n", "newton", "newtons")),
    Unit("kN", "kilonewton", ("kn", "kilonewton", "kilonewtons")),
    Unit("daN", "decanewton", ("dan",)),
    Unit("lbf", "pound_force", _POUNDS),
    Unit("kgf", "kilogram_force", _KILOGRAMS),
    Unit("ozf", "ounce_force", _OUNCES),
)

_MASS_PER_LENGTH = (Unit("kg/m", "kilogram/meter", ("kg/m",)), Unit("g/m", "gram/meter", ("g/m",)))

_INERTIA = (
    Unit("kg·m²", "kilogram*meter**2", ("kg·m²", "kgm²")),
    Unit("kg·cm²", "kilogram*centimeter**2", ("kg·cm²", "kgcm²")),
    Unit("kg·mm²", "kilogram*millimeter**2", ("kg·mm²", "kgmm²")),
    Unit("g·cm²", "gram*centimeter**2", ("g·cm²", "gcm²")),
)

_PER_DEGREE = ("deg", "degree", "°")
_TORSIONAL_STIFFNESS = (
    Unit("N·m/rad", "newton*meter/radian", _per(("n·m", "nm"), ("rad", "radian"))),
    Unit("N·m/°", "newton*meter/degree", _per(("n·m", "nm"), _PER_DEGREE)),
    Unit("lbf·in/°", "pound_force*inch/degree", _per(_either_way(("lbf", "lb"), ("in",)), _PER_DEGREE)),
)

_ROTATIONAL_DAMPING = (Unit("N·m·s", "newton*meter*second", ("n·m·s", "nms", "n·m·s/rad", "nms/rad")),)
_WINDAGE = (Unit("N·m·s²", "newton*meter*second**2", ("n·m·s²", "nms²", "n·m·s²/rad²", "nms²/rad²")),)

_ALL = (
    Kind("torque", "a torque", "N·m", "newton*meter", _TORQUE, also=("lbf·in", "lbf·ft")),
    Kind("speed", "a speed of rotation", "rev/s", "turn/second", _SPEED),
    Kind("time", "a time", "s", "second", _TIME),
    Kind("length", "a length", "m", "meter", _LENGTH, also=("in",)),
    Kind("position", "a position", "m", "meter", _LENGTH, signed=True, also=("in",)),
    Kind("distance", "a distance driven", "m", "meter", _DISTANCE),
    Kind("voltage", "a voltage", "V", "volt", _VOLTAGE, signed=True, also=("mV",)),
    Kind("current", "a current", "A", "ampere", _CURRENT, signed=True),
    Kind("temperature", "a temperature", "K", "kelvin", _TEMPERATURE, signed=True),
    Kind("angle", "an angle", "rad", "radian", _ANGLE, signed=True),
    Kind("frequency", "a frequency", "Hz", "hertz", _FREQUENCY),
    Kind("force", "a force", "N", "newton", _FORCE, also=("lbf",)),
    Kind("mass-per-length", "a mass per length", "kg/m", "kilogram/meter", _MASS_PER_LENGTH),
    Kind("inertia", "a moment of inertia", "kg·m²", "kilogram*meter**2", _INERTIA),
    Kind("torsional-stiffness", "a torsional stiffness", "N·m/rad", "newton*meter/radian", _TORSIONAL_STIFFNESS),
    Kind("rotational-damping", "a damping of rotation", "N·m·s", "newton*meter*second", _ROTATIONAL_DAMPING),
    Kind("windage", "a windage", "N·m·s²", "newton*meter*second**2", _WINDAGE),
    Kind("number", "a plain number", "", "dimensionless", (Unit("", "dimensionless"), Unit("%", "percent", ("%",)))),
)

KINDS: Mapping[str, Kind] = MappingProxyType({kind.id: kind for kind in _ALL})
"""Every kind of quantity by its id."""
