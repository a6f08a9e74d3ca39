"""Makes triage/units/factors.py out of the unit library: `python docs/making/make_units.py`.

Again when a unit comes into the catalogue. A test holds every row against the library.
"""

from pathlib import Path

from triage.units.catalogue import KINDS
from triage.units.library import factor_of

TABLE = Path(__file__).resolve().parents[2] / "triage" / "units" / "factors.py"
LINE_LENGTH = 120
_HEAD = '''\
"""What one of each unit of the catalogue is in SI: what to multiply by and what to add, as exact fractions.

Made from the unit library by docs/making/make_units.py and held against it by a test: change the catalogue, not this
table. Exact by definition but for angles, where π has as many digits as the library gives it. Source: NIST SP 811.
"""

from collections.abc import Mapping
from types import MappingProxyType

FACTORS: Mapping[tuple[str, str], tuple[str, str]] = MappingProxyType(
    {
'''


def table() -> str:
    """Write the module, laid out as the formatter leaves it."""
    rows = {(unit.expression, kind.expression) for kind in KINDS.values() for unit in kind.units}
    return _HEAD + "".join(map(_row, sorted(rows))) + "    }\n)\n"


def _row(row: tuple[str, str]) -> str:
    names, figures = (", ".join(f'"{part}"' for part in parts) for parts in (row, map(str, factor_of(*row))))
    line = f"        ({names}): ({figures}),\n"
    if len(line) <= LINE_LENGTH + 1:
        return line
    return (
        f"        ({names}): (\n"
        + "".join(f"            {figure},\n" for figure in figures.split(", "))
        + "        ),\n"
    )


if __name__ == "__main__":
    TABLE.write_text(table(), encoding="utf-8")
