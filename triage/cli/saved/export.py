"""`triage export`: a saved session as one file that can travel, its knowledge behind it."""

import argparse
import sys

from triage.cli.writing import add_target, refuse_target, write_file
from triage.errors import EXIT_OK, TriageError


def add(commands: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Add the command to the command line."""
    parser = commands.add_parser(
        "export",
        help="write a saved session as one file that can travel",
        description="A session's knowledge lies once beside all sessions. In a file that travels it is the last line.",
    )
    parser.add_argument("session", metavar="SESSION", help="a trace file, or the name of a session that is listed")
    add_target(parser, "--out", "FILE", "the file to write")
    parser.set_defaults(run=run_export, out=None)


def run_export(args: argparse.Namespace) -> int:
    """Write a session with what it needs elsewhere.

    Raises:
        TriageError: no file was named.
        TraceDamaged: the trace does not hold together, or its knowledge is not beside it.
        StoreUnavailable: there is no such session, or the file cannot be written.
    """
    from triage.cli.saved.sessions import find_trace
    from triage.store import travelling

    if args.out is None:
        raise TriageError("No file was named.", "Say where to write it: triage export SESSION --out FILE")
    refuse_target(args.out, overwrite=args.overwrite)
    content, head = travelling(find_trace(args.session))
    write_file(args.out, content, "session", overwrite=args.overwrite)
    sys.stdout.write(f"{head}\n")
    return EXIT_OK
