"""`triage overview`: how learners come on, and which jobs want something; local files only."""

import argparse
import json
import sys
from datetime import UTC, date, datetime
from typing import TYPE_CHECKING

from triage.cli.writing import add_target, refuse_target, write_file
from triage.errors import EXIT_OK

if TYPE_CHECKING:
    from triage.practice.weeks.overview import JobSeen


def add(commands: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Add the command to the command line."""
    parser = commands.add_parser(
        "overview",
        help="show the foreman learners by week, and jobs that want something",
        description="Reads the saved sessions and the records of practice of this folder, and nothing else. Learners "
        "see the same of themselves with `triage practice progress`.",
    )
    parser.add_argument("--since", type=date.fromisoformat, metavar="DATE", help="leave out what is older: 2026-11-01")
    parser.add_argument("--masked", action="store_true", help="number the learners in the place of their names")
    parser.add_argument("--json", action="store_true", help="everything as one JSON object")
    add_target(parser, "--page", "FILE.html", "write it as a page too")
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Print the overview.

    Raises:
        StoreUnavailable: the folder cannot be read, or the page cannot be written.
    """
    from triage.cli.knowing import shipped_knowledge
    from triage.cli.practice import exercises_of
    from triage.practice.weeks.overview import overview_of
    from triage.present.practising.weeks import overview_json, overview_lines, overview_page

    if args.page is not None:
        refuse_target(args.page, overwrite=args.overwrite)
    seen = overview_of(exercises_of(), _jobs(), args.since, masked=args.masked)
    lines = overview_lines(shipped_knowledge(), seen)
    if args.json:
        sys.stdout.write(f"{json.dumps(overview_json(seen), allow_nan=False)}\n")
    else:
        sys.stdout.write("\n".join((*lines, "")))
    if args.page is not None:
        write_file(args.page, overview_page(lines), "page", overwrite=args.overwrite)
    return EXIT_OK


def _jobs() -> "list[JobSeen]":
    """Every saved session that can be opened."""
    from triage.practice.weeks.overview import JobSeen
    from triage.store import data_folder, list_traces

    return [
        JobSeen(one.path.stem, one.job, one.symptom, _day(one.saved_ms), one.now, one.proof)
        for one in list_traces(data_folder())
        if not one.fault
    ]


def _day(at_ms: int) -> date:
    return datetime.fromtimestamp(at_ms / 1000, UTC).date()
