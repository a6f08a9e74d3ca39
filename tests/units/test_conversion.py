"""The unit library stays out of the way until it is needed."""

import subprocess
import sys


def test_importing_units_loads_no_unit_library() -> None:
    _run("import sys, triage.units; sys.exit('pint' in sys.modules)")


def test_readings_in_si_units_load_no_unit_library() -> None:
    _run(
        "import sys; from triage.units import parse_quantity, say_back;"
        "say_back(parse_quantity('7 s', 'time')); say_back(parse_quantity('9', 'torque'));"
        "sys.exit('pint' in sys.modules)"
    )


def test_the_first_conversion_loads_the_unit_library() -> None:
    _run(
        "import sys; from triage.units import parse_quantity;"
        "parse_quantity('9 in-lb', 'torque'); sys.exit('pint' not in sys.modules)"
    )


def _run(program: str) -> None:
    subprocess.run([sys.executable, "-c", program], check=True, timeout=60)
