"""`triage chat`, `triage resume`, `triage demo`: a session in the plain terminal, taken up again, or played."""

import argparse
import os
import sys
import time
from pathlib import Path
from typing import TYPE_CHECKING

from triage.errors import EXIT_OK, StoreUnavailable

if TYPE_CHECKING:
    from triage.app.job import Job
    from triage.chat.lines import Lines

READABLE = "abcdefghijklmnopqrstuvwxyz0123456789-"
LONGEST_NAME = 40


def add(commands: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Add the three commands to the command line."""
    chat = commands.add_parser("chat", help="start a session in the plain chat; also what triage alone does")
    chat.set_defaults(run=run_chat)
    resume = commands.add_parser("resume", help="take a saved session up again, the last unfinished one unless named")
    resume.add_argument("trace", metavar="TRACE", nargs="?", help="a trace file, or the name of a listed session")
    resume.set_defaults(run=run_resume)
    demo = commands.add_parser("demo", help="play a saved session step by step")
    demo.add_argument("trace", metavar="TRACE", nargs="?", help="a trace, or the name of a shipped demo")
    demo.set_defaults(run=run_demo)


def now_ms() -> int:
    """Milliseconds since 1970-01-01 UTC."""
    return time.time_ns() // 1_000_000


def run_chat(args: argparse.Namespace) -> int:  # noqa: ARG001 - every command takes its words
    """Start a session.

    Raises:
        TriageError: the knowledge or the shop file has faults, or the trace cannot be written.
    """
    from triage.app.job import start
    from triage.app.shop import accuracies, read_shop
    from triage.chat.lines import InputEndedError
    from triage.chat.opening import ask_opening
    from triage.knowledge.loading import load_knowledge
    from triage.knowledge.shipped import trees_folder
    from triage.store import TraceWriter, data_folder, shop_file_path

    knowledge = load_knowledge(trees_folder())
    shop = read_shop(shop_file_path(), knowledge)
    lines = _lines()
    try:
        opening = ask_opening(knowledge, lines)
    except InputEndedError:
        lines.say("No session was started; nothing was saved.")
        return EXIT_OK
    writer = TraceWriter.create(data_folder(), _name(opening.symptom, opening.job))
    return _talk(start(knowledge, opening, accuracies(knowledge, shop), shop.reviewer, now_ms, writer), lines)


def _name(symptom: str, job: str) -> str:
    slug = "".join(letter if letter in READABLE else "-" for letter in job.lower())[:LONGEST_NAME].strip("-")
    return f"{time.strftime('%Y%m%d-%H%M%S', time.gmtime())}-{symptom}-{slug or 'job'}"


def run_resume(args: argparse.Namespace) -> int:
    """Take a session up again.

    Raises:
        TriageError: there is none, somebody else writes it, or it is damaged.
    """
    from triage.app.job import resume
    from triage.cli.sessions import find_trace

    path = find_trace(args.trace) if args.trace else _last_unfinished()
    job, notices = resume(path, now_ms, "")
    lines = _lines()
    for notice in notices:
        lines.say(notice)
    return _talk(job, lines)


def _last_unfinished() -> Path:
    from triage.store import data_folder, list_traces

    for summary in list_traces(data_folder()):
        last = summary.last
        if last and not (last.kind == "step-offered" and '"closed"' in str(last.data).replace("'", '"')):
            return summary.path
    raise StoreUnavailable("There is no unfinished session.", "Start one with: triage chat")


def _talk(job: "Job", lines: "Lines") -> int:
    from triage.chat.talk import Talk

    try:
        Talk(job, lines, time.monotonic).run()
    finally:
        job.leave()
    return EXIT_OK


def _lines() -> "Lines":
    if sys.stdin.isatty() and sys.stdout.isatty() and os.environ.get("TERM", "dumb") != "dumb":
        from triage.chat.editor import EditorLines

        return EditorLines()
    from triage.chat.lines import PlainLines

    return PlainLines()


def run_demo(args: argparse.Namespace) -> int:
    """Play a saved session.

    Raises:
        TriageError: there is none, or it is damaged.
    """
    from triage.app.job import replay
    from triage.cli.sessions import find_trace
    from triage.knowledge.shipped import demos_folder
    from triage.present.cleaning import clean
    from triage.present.playing import scenes

    demos = sorted(demos_folder().glob("*.jsonl"))
    named = [demo for demo in demos if args.trace in (None, demo.stem)]
    path = named[0] if named else find_trace(args.trace)
    knowledge, events, _, _ = replay(path)
    waits = sys.stdin.isatty() and sys.stdout.isatty()
    for scene in scenes(knowledge, events):
        sys.stdout.write(clean("\n".join(scene)) + "\n")
        sys.stdout.flush()
        if waits and input("[Enter goes on, q stops] ").strip().lower() == "q":
            break
    return EXIT_OK
