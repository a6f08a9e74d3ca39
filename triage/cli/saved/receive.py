"""`triage receive`: a session from a colleague, taken into the own folder."""

import argparse
import sys
from pathlib import Path

from triage.errors import EXIT_OK
from triage.present.cleaning import clean_line


def add(commands: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Add the command to the command line."""
    parser = commands.add_parser(
        "receive",
        help="take a session that a colleague has sent into your own folder",
        description="A file from `triage export` is copied in; where the session is there already, the lines that are "
        "missing come behind yours. One that is older, or has gone another way, is refused. Nothing is overwritten.",
    )
    parser.add_argument("file", metavar="FILE", type=Path, help="what was sent")
    parser.set_defaults(run=run_receive)


def run_receive(args: argparse.Namespace) -> int:
    """Take a file in and say what became of it.

    Raises:
        TraceDamaged: it does not hold together.
        StoreUnavailable: what is there is longer or has gone another way, or it cannot be read or written.
    """
    from triage.store import data_folder
    from triage.store.receiving import receive

    came = receive(args.file, data_folder())
    name = clean_line(came.path.stem)
    told = {
        "new": f"{name}: {came.lines} lines, new here.",
        "same": f"{name}: it was here already, line for line.",
        "longer": f"{name}: {came.lines} more lines.",
    }
    sys.stdout.write(f"{told[came.kind]}\n")
    sys.stderr.write(f"Read it: triage show {name}. Go on with it: triage resume {name}\n")
    return EXIT_OK
