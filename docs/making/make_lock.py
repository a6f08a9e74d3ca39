"""Make the lock file anew: the newest of every package that an installation takes, with the hashes of all its files.

python docs/making/make_lock.py
"""

import subprocess
import sys
import tempfile
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
LOCK = ROOT / "requirements.lock"
LOWEST_PYTHON = "3.11"
HEAD = f"""\
# What an installation takes, on every system and Python from {LOWEST_PYTHON}, each file with its hash.
# Made by docs/making/make_lock.py; docs/decisions/lock-file.md says why and for whom.
"""
OPTIONS = ("--universal", "--generate-hashes", "--no-header", "--no-config", "--python-version", LOWEST_PYTHON)


def run() -> None:
    """Resolve in an environment that is thrown away, and write the file."""
    with tempfile.TemporaryDirectory() as folder:
        _told(sys.executable, "-m", "venv", folder)
        programs = Path(folder) / ("Scripts" if sys.platform == "win32" else "bin")
        _told(programs / "pip", "install", "-q", "uv")
        locked = _told(programs / "uv", "pip", "compile", "-q", "pyproject.toml", *OPTIONS)
    LOCK.write_text(HEAD + locked, encoding="utf-8", newline="\n")


def _told(*command: str | Path) -> str:
    done = subprocess.run(command, cwd=ROOT, check=True, stdout=subprocess.PIPE, text=True)  # noqa: S603 - it stands above
    return done.stdout


if __name__ == "__main__":
    run()
