"""What one of each unit of the catalogue is in SI: what to multiply by and what to add, as exact fractions.

Made from the unit library by docs/making/make_units.py and held against it by a test: change the catalogue, not this
table. Exact by definition but for angles, where π has as many digits as the library gives it. Source: NIST SP 811.
"""

from collections.abc import Mapping
from types import MappingProxyType

FACTORS: Mapping[tuple[str, str], tuple[str, str]] = MappingProxyType(
    {
        ("1/minute", "hertz"): ("1/60", "0"),
        ("ampere", "ampere"): ("1", "0"),
        ("arcminute", "radian"): (
            "31415926535897932384626433832795028841971693993751/108000000000000000000000000000000000000000000000000000",
            "0",
        ),
        ("centimeter", "meter"): ("1/100", "0"),
        ("decanewton", "newton"): ("10", "0"),
        ("decanewton*meter", "newton*meter"): ("10", "0"),
        ("degree", "radian"): (
            "31415926535897932384626433832795028841971693993751/1800000000000000000000000000000000000000000000000000",
            "0",
        ),
        ("degree_Celsius", "kelvin"): ("1", "5463/20"),
        ("degree_Fahrenheit", "kelvin"): ("5/9", "45967/180"),
        ("dimensionless", "dimensionless"): ("1", "0"),
        ("foot", "meter"): ("381/1250", "0"),
        ("gram*centimeter**2", "kilogram*meter**2"): ("1/10000000", "0"),
        ("gram/meter", "kilogram/meter"): ("1/1000", "0"),
        ("hertz", "hertz"): ("1", "0"),
        ("hour", "second"): ("3600", "0"),
        ("inch", "meter"): ("127/5000", "0"),
        ("kelvin", "kelvin"): ("1", "0"),
        ("kilogram*centimeter**2", "kilogram*meter**2"): ("1/10000", "0"),
        ("kilogram*meter**2", "kilogram*meter**2"): ("1", "0"),
        ("kilogram*millimeter**2", "kilogram*meter**2"): ("1/1000000", "0"),
        ("kilogram/meter", "kilogram/meter"): ("1", "0"),
        ("kilogram_force", "newton"): ("196133/20000", "0"),
        ("kilogram_force*centimeter", "newton*meter"): ("196133/2000000", "0"),
        ("kilogram_force*meter", "newton*meter"): ("196133/20000", "0"),
        ("kilohertz", "hertz"): ("1000", "0"),
        ("kilometer", "meter"): ("1000", "0"),
        ("kilonewton", "newton"): ("1000", "0"),
        ("kilonewton*meter", "newton*meter"): ("1000", "0"),
        ("kilovolt", "volt"): ("1000", "0"),
        ("meter", "meter"): ("1", "0"),
        ("micrometer", "meter"): ("1/1000000", "0"),
        ("mile", "meter"): ("201168/125", "0"),
        ("milliampere", "ampere"): ("1/1000", "0"),
        ("millimeter", "meter"): ("1/1000", "0"),
        ("millinewton*meter", "newton*meter"): ("1/1000", "0"),
        ("milliradian", "radian"): ("1/1000", "0"),
        ("millisecond", "second"): ("1/1000", "0"),
        ("millivolt", "volt"): ("1/1000", "0"),
        ("minute", "second"): ("60", "0"),
        ("newton", "newton"): ("1", "0"),
        ("newton*centimeter", "newton*meter"): ("1/100", "0"),
        ("newton*meter", "newton*meter"): ("1", "0"),
        ("newton*meter*second", "newton*meter*second"): ("1", "0"),
        ("newton*meter*second**2", "newton*meter*second**2"): ("1", "0"),
        ("newton*meter/degree", "newton*meter/radian"): (
            "1800000000000000000000000000000000000000000000000000/31415926535897932384626433832795028841971693993751",
            "0",
        ),
        ("newton*meter/radian", "newton*meter/radian"): ("1", "0"),
        ("newton*millimeter", "newton*meter"): ("1/1000", "0"),
        ("ounce_force", "newton"): ("8896443230521/32000000000000", "0"),
        ("ounce_force*inch", "newton*meter"): ("1129848290276167/160000000000000000", "0"),
        ("percent", "dimensionless"): ("1/100", "0"),
        ("pound_force", "newton"): ("8896443230521/2000000000000", "0"),
        ("pound_force*foot", "newton*meter"): ("3389544870828501/2500000000000000", "0"),
        ("pound_force*inch", "newton*meter"): ("1129848290276167/10000000000000000", "0"),
        ("pound_force*inch/degree", "newton*meter/radian"): (
            "203372692249710060000000000000000000000000000000000/31415926535897932384626433832795028841971693993751",
            "0",
        ),
        ("radian", "radian"): ("1", "0"),
        ("radian/second", "turn/second"): (
            "5000000000000000000000000000000000000000000000000/31415926535897932384626433832795028841971693993751",
            "0",
        ),
        ("second", "second"): ("1", "0"),
        ("thou", "meter"): ("127/5000000", "0"),
        ("turn", "radian"): (
            "31415926535897932384626433832795028841971693993751/5000000000000000000000000000000000000000000000000",
            "0",
        ),
        ("turn/minute", "turn/second"): ("1/60", "0"),
        ("turn/second", "turn/second"): ("1", "0"),
        ("volt", "volt"): ("1", "0"),
    }
)
