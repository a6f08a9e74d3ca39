"""Install the lowest declared version of every dependency into an empty environment, and run what needs each of them.

python tests/bench/try_lowest.py
"""

import re
import subprocess
import sys
import tempfile
import tomllib
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
LOWEST = re.compile(r"(?P<name>[A-Za-z0-9_.-]+)>=(?P<version>[0-9.]+)")
COMMANDS = (
    ("trees", "check"),
    ("cases", str(ROOT / "trees" / "cases" / "shutdown-buzz.yaml")),
    ("quantity", "9 in-lb", "--as", "torque"),
    ("drive", "four-cylinder-full", "--json"),
    ("symptom", "chirps like a cricket at idle"),
    ("verify", str(ROOT / "transcripts_demo" / "worn-bearing.jsonl")),
    ("show", str(ROOT / "transcripts_demo" / "worn-bearing.jsonl")),
    ("chat",),
)
# The full screen needs a terminal; that all of it can be loaded is seen without one. The unit library waits behind it.
SCREEN = "import triage.tui.app, triage.chat.editor"
UNITS = "import sys; from triage.units.library import differing; sys.exit(str(differing()) if differing() else 0)"


def lowest(declared: list[str]) -> list[str]:
    """Pin each declared dependency to its lowest version."""
    found = [LOWEST.match(requirement) for requirement in declared]
    assert all(found), f"a dependency has no lowest version: {declared}"
    return [f"{one['name']}=={one['version']}" for one in found if one]


def run() -> int:
    """Say for each command whether it works; give 1 when one does not."""
    declared = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]["dependencies"]
    pinned = lowest(declared)
    print(f"Python {sys.version.split()[0]}: {', '.join(pinned)}", flush=True)
    failed = 0
    with tempfile.TemporaryDirectory() as folder:
        subprocess.run([sys.executable, "-m", "venv", folder], check=True)
        python = Path(folder) / ("Scripts" if sys.platform == "win32" else "bin") / "python"
        subprocess.run([python, "-m", "pip", "install", "-q", str(ROOT), *pinned], check=True)
        tried = [("-m", "triage", *words) for words in COMMANDS]
        for words in (*tried, ("-c", SCREEN), ("-c", UNITS)):
            done = subprocess.run(
                [python, *words], cwd=folder, stdin=subprocess.DEVNULL, capture_output=True, text=True, check=False
            )
            failed += done.returncode != 0
            told = "works" if done.returncode == 0 else f"exit code {done.returncode}: {done.stderr.strip()[-300:]}"
            print(f"{' '.join(words)}: {told}", flush=True)
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(run())
