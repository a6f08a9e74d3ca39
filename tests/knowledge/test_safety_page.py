"""The hazard log names tests; a gate whose test has gone would be believed without one."""

import re
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
PAGE = (ROOT / "docs" / "safety.md").read_text(encoding="utf-8")
NAMED = sorted(set(re.findall(r"`(tests/[\w/]+\.py)`", PAGE)))


def test_every_test_that_the_hazard_log_names_is_there() -> None:
    assert NAMED
    assert [name for name in NAMED if not (ROOT / name).is_file()] == []


def test_every_gate_of_the_hazard_log_names_a_test() -> None:
    gates = PAGE.partition("## Gates")[2].partition("## Hazards")[0]
    rows = [line for line in gates.splitlines() if line.startswith("|")][2:]
    assert rows
    assert [row.split("|")[1].strip() for row in rows if "`tests/" not in row] == []
