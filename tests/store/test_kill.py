import subprocess
import sys
from pathlib import Path

SCRIPT = Path(__file__).parents[1] / "bench" / "kill_store.py"


def test_a_program_killed_at_random_moments_loses_nothing_that_it_acknowledged() -> None:
    command = [sys.executable, str(SCRIPT), "--kills", "6"]
    result = subprocess.run(command, capture_output=True, text=True, check=False, timeout=120)
    assert (result.returncode, result.stderr) == (0, "")
    assert "6 kills" in result.stdout
