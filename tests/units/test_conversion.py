"""The unit library stays out of the way until it is needed, and stands behind what the table lacks."""

import subprocess
import sys
from fractions import Fraction

from triage.units import KINDS, Kind, Unit
from triage.units.conversion import from_si, to_si
from triage.units.factors import FACTORS


def test_importing_units_loads_no_unit_library() -> None:
    _run("import sys, triage.units; sys.exit('pint' in sys.modules)")


def test_a_reading_in_any_unit_of_the_catalogue_loads_no_unit_library() -> None:
    _run(
        "import sys; from triage.units import KINDS, parse_quantity, say_back, say_quantity\n"
        "for kind in KINDS.values():\n"
        "    value = {'distance': 50_000.0, 'temperature': 300.0}.get(kind.id, 0.05)\n"
        "    for unit in kind.units:\n"
        "        said = say_quantity(value, kind.id, unit.label, digits=9)\n"
        "        say_back(parse_quantity(said, kind.id))\n"
        "sys.exit('pint' in sys.modules)"
    )


def test_a_unit_that_the_table_lacks_is_converted_by_the_unit_library() -> None:
    yard = Unit("yd", "yard")
    length = Kind("length", "a length", "m", "meter", (yard,))
    assert (yard.expression, length.expression) not in FACTORS
    assert to_si(Fraction(5), yard, length) == 5 * Fraction(9144, 10_000)
    assert from_si(to_si(Fraction(5), yard, length), yard, length) == 5


def test_out_and_back_is_the_same_figure_in_every_unit() -> None:
    for kind in KINDS.values():
        for unit in kind.units:
            assert from_si(to_si(Fraction(7, 3), unit, kind), unit, kind) == Fraction(7, 3)


def _run(program: str) -> None:
    subprocess.run([sys.executable, "-c", program], check=True, timeout=60)
