"""`triage sessions`, `triage show` and `triage verify`: saved sessions listed, read and proved unchanged."""

import argparse
import json
import shutil
import sys
from datetime import UTC, date, datetime
from pathlib import Path
from typing import TYPE_CHECKING

from triage.errors import EXIT_DISAGREES, EXIT_FILE, EXIT_OK, StoreUnavailable, TraceDamaged, TriageError
from triage.present.cleaning import clean, clean_line, shortened
from triage.present.shapes import PROOFS

if TYPE_CHECKING:
    from triage.store import Head, Summary

WIDEST = 40
"""Characters of a job or symptom in the table; more would push the rest of each line off the screen."""
DAMAGED = "Only what stands before it was shown; the file was left as it is. triage verify names every fault."


def add(commands: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Add the three commands to the command line."""
    listing = commands.add_parser("sessions", help="list the saved sessions, the one that was worked on last first")
    listing.add_argument("--since", type=date.fromisoformat, metavar="DATE", help="leave out what is older: 2026-11-01")
    listing.add_argument("--json", action="store_true", help="everything as one JSON object")
    listing.set_defaults(run=run_sessions)
    show = commands.add_parser("show", help="print a saved session as a sheet for a colleague")
    show.add_argument("trace", metavar="TRACE", help="a trace file, or the name of a session that is listed")
    show.add_argument("--all", action="store_true", help="everything that happened, line by line")
    show.add_argument("--json", action="store_true", help="the sheet as one JSON object")
    show.add_argument(
        "--if", dest="supposed", metavar="CHECK=OUTCOME", help="say what another answer would have changed"
    )
    show.add_argument("--columns", type=int, metavar="N", help="how wide; 88 or the window, and 40 at least")
    show.set_defaults(run=run_show)
    verify = commands.add_parser(
        "verify",
        help="tell whether saved sessions are as they were saved",
        description="Names every line that was changed, is missing or was moved. Exit code 1 when there is any.",
        epilog="Only a mark that was written down shows whether the last lines were cut off.",
    )
    verify.add_argument("traces", metavar="TRACE", nargs="+", help="a trace file, or the name of a listed session")
    verify.add_argument("--head", metavar="COUNT-DIGEST", help="the mark from a hand-over, sign-off or report")
    verify.set_defaults(run=run_verify)


def find_trace(name: str) -> Path:
    """Find a trace by its file, or by the name of a session in the folder of sessions.

    Raises:
        StoreUnavailable: there is neither.
    """
    from triage.store import data_folder

    candidates = [Path(name)]
    if Path(name).name == name:
        candidates += [data_folder() / name, data_folder() / f"{name}.jsonl"]
    try:
        return next(path for path in candidates if path.is_file())
    except (StopIteration, ValueError):  # a name with a null character is a ValueError
        raise StoreUnavailable(f"There is no session {name}.", "triage sessions lists what is saved.") from None


def run_sessions(args: argparse.Namespace) -> int:
    """Print a table of the saved sessions.

    Raises:
        StoreUnavailable: the folder cannot be read.
    """
    from triage.store import data_folder, list_traces

    folder = data_folder()
    summaries = [one for one in list_traces(folder) if args.since is None or _day(one.saved_ms) >= args.since]
    if args.json:
        sys.stdout.write(f"{json.dumps({'sessions': [_data(one) for one in summaries]}, allow_nan=False)}\n")
        return EXIT_OK
    if not summaries:
        sys.stdout.write(f"No session is saved in {clean_line(str(folder))}.\n")
        return EXIT_OK
    rows = [("session", "job", "symptom", "last saved", "lines", "now"), *map(_row, summaries)]
    widths = [max(map(len, column)) for column in zip(*rows, strict=True)]
    for row in rows:
        line = "  ".join(cell.ljust(width) for cell, width in zip(row, widths, strict=True))
        sys.stdout.write(f"{line.rstrip()}\n")
    sys.stdout.write(f"\nIn {clean_line(str(folder))}. Go on with one: triage resume SESSION\n")
    return EXIT_OK


def _day(saved_ms: int) -> date:
    return datetime.fromtimestamp(saved_ms / 1000, UTC).date()


def _data(summary: "Summary") -> dict[str, object]:
    """One session as data, by what its first and last line tell."""
    from triage.store.instants import iso_text

    return {
        "session": summary.path.stem,
        "job": summary.job,
        "symptom": summary.symptom,
        "saved": iso_text(summary.saved_ms),
        "lines": summary.count,
        "now": summary.now,
        "proof": summary.proof,
        "fault": summary.fault,
    }


def _row(summary: "Summary") -> tuple[str, ...]:
    from triage.store.instants import iso_text

    # Whole: it is what is typed to open the session.
    name = clean_line(summary.path.stem)
    if summary.fault:
        return name, "", "", "", "", clean_line(f"cannot be opened: {summary.fault}")
    saved = iso_text(summary.saved_ms)[:16].replace("T", " ") + " UTC"
    told = (shortened(text, WIDEST) for text in (summary.job, summary.symptom))
    return name, *told, saved, str(summary.count), _now(summary)


def _now(summary: "Summary") -> str:
    """Whether anything is left to do, and what is proved of the complaint."""
    proof = PROOFS.get(summary.proof, "")
    if summary.now == "paused" and proof:
        return "proof pending"
    return f"{summary.now}, {proof}" if proof else summary.now


def run_show(args: argparse.Namespace) -> int:
    """Print one session as a sheet, or all of it; of a damaged trace, what stands before its first bad line.

    Raises:
        TraceDamaged: not even the beginning of the trace can be relied on.
        StoreUnavailable: there is no such trace, or it cannot be read.
    """
    from triage.app.reading import read_sound_part
    from triage.present.pages.session_page import page_of
    from triage.present.sheet.layout import COLUMNS, sheet_lines
    from triage.present.sheet.sheet import sheet_data, sheet_of

    (knowledge, events, head, notices), damage = read_sound_part(find_trace(args.trace))
    if args.all:
        sys.stdout.write(clean(page_of(knowledge, events, str(head), notices).rstrip("\n")) + "\n")
        return say_damage(damage)
    if args.supposed:
        from triage.app.advising.supposing import suppose
        from triage.present.sheet.supposed import supposed_lines
        from triage.session.evolving import fold

        told = supposed_lines(knowledge, args.supposed, suppose(knowledge, fold(events), args.supposed))
        sys.stdout.write("".join(f"{clean_line(line)}\n" for line in told))
        return say_damage(damage)
    sheet = sheet_of(knowledge, events, str(head))
    if args.json:
        sys.stdout.write(f"{json.dumps(sheet_data(sheet), allow_nan=False)}\n")
        return say_damage(damage)
    columns = args.columns or min(shutil.get_terminal_size((COLUMNS, 24)).columns, COLUMNS)
    lines = (*(f"Notice: {notice}" for notice in notices), *sheet_lines(knowledge, sheet, columns))
    sys.stdout.write("".join(f"{clean_line(line)}\n" for line in lines))
    return say_damage(damage)


def say_damage(damage: str) -> int:
    """Say what was wrong with the first line that is not shown, and return the exit code that belongs to it."""
    if damage:
        sys.stderr.write(f"{clean_line(damage)}\n{DAMAGED}\n")
    return EXIT_FILE if damage else EXIT_OK


def run_verify(args: argparse.Namespace) -> int:
    """Print for each trace whether it is sound, or every line that is not.

    Raises:
        TriageError: a mark for more than one trace, or one that cannot be read.
    """
    from triage.store import Head

    if args.head and len(args.traces) > 1:
        raise TriageError("One mark belongs to one trace.", "Name that trace alone.")
    head = Head.parse(args.head) if args.head else None
    return max(_verify(name, head) for name in args.traces)


def _verify(name: str, head: "Head | None") -> int:
    shown = clean_line(name)
    try:
        faults, mark = _faults(find_trace(name), head)
    except StoreUnavailable as error:
        sys.stderr.write(f"{shown}: {clean_line(str(error))}\n")
        return EXIT_FILE
    if faults:
        sys.stdout.writelines(f"{shown}: {clean_line(fault)}\n" for fault in faults)
        return EXIT_DISAGREES
    sys.stdout.write(f"{shown}: sound, {mark}\n")
    return EXIT_OK


def _faults(path: Path, head: "Head | None") -> tuple[list[str], str]:
    """Name what is wrong with a trace, its lines first, then what they say."""
    from triage.app.reading import replay
    from triage.app.sound import told_objections
    from triage.store import verify_trace

    found = [finding.message for finding in verify_trace(path, head)]
    if found:
        return found, ""
    try:
        replayed = replay(path)
    except TraceDamaged as error:
        return [error.message], ""
    return [objection.reason for objection in told_objections(replayed.events)], str(replayed.head)
