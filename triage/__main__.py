"""`python -m triage` is `triage`."""

import sys

from triage.cli.main import run

if __name__ == "__main__":
    sys.exit(run())
