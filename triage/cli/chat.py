"""`triage screen`, `triage chat`, `triage resume`, `triage demo`: a session in a face, taken up again, or played."""

import argparse
import os
import sys
import time
from pathlib import Path
from typing import TYPE_CHECKING

from triage.cli.beginning import begin, expect_date, now_ms
from triage.cli.typing_in import lines_here
from triage.errors import EXIT_OK, StoreUnavailable

if TYPE_CHECKING:
    from triage.app.job import Job
    from triage.chat.lines import Lines


def add(commands: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Add the four commands to the command line."""
    screen = commands.add_parser("screen", help="open the full screen; also what triage alone does")
    screen.set_defaults(run=run_face)
    chat = commands.add_parser("chat", help="start a session in the plain chat, which a screen reader can follow")
    chat.set_defaults(run=run_chat)
    resume = commands.add_parser("resume", help="take a saved session up again, the last unfinished one unless named")
    resume.add_argument("trace", metavar="TRACE", nargs="?", help="a trace file, or the name of a listed session")
    resume.set_defaults(run=run_resume)
    demo = commands.add_parser("demo", help="play a saved session step by step")
    demo.add_argument("trace", metavar="TRACE", nargs="?", help="a trace, or the name of a shipped demo")
    demo.set_defaults(run=run_demo)


def run_face(args: argparse.Namespace) -> int:
    """Open the full screen, or start the plain chat where that cannot be.

    Raises:
        TriageError: the knowledge or the shop file has faults.
    """
    from triage.tui.guard import why_plain

    reason = why_plain(sys.stdin, sys.stdout, sys.stderr, os.environ)
    if not reason:
        from triage.cli.face import run_full_screen

        return run_full_screen()
    if sys.stdin.isatty():
        sys.stderr.write(f"{reason} The plain chat starts instead of the full screen.\n")
    return run_chat(args)


def run_chat(args: argparse.Namespace) -> int:  # noqa: ARG001 - every command takes its words
    """Start a session.

    Raises:
        TriageError: the knowledge or the shop file has faults, or the trace cannot be written.
    """
    from triage.app.shop.shop_file import read_shop
    from triage.chat.lines import InputEndedError
    from triage.chat.opening import PRACTICE, PracticeAskedError, ask_opening
    from triage.cli.knowing import shipped_knowledge, shipped_matcher
    from triage.cli.practice import practise_in
    from triage.store import shop_file_path

    knowledge = shipped_knowledge()
    read_shop(shop_file_path(), knowledge)  # its faults are told before anything is asked
    lines = lines_here()
    lines.say(f'Type "{PRACTICE}" for a made-up vehicle instead of a session.')
    try:
        opening = ask_opening(knowledge, shipped_matcher(knowledge), lines)
    except InputEndedError:
        lines.say("No session was started; nothing was saved.")
        return EXIT_OK
    except PracticeAskedError:
        return practise_in(lines, knowledge)
    return _talk(begin(knowledge, opening), lines)


def run_resume(args: argparse.Namespace) -> int:
    """Take a session up again.

    Raises:
        TriageError: there is none, somebody else writes it, or it is damaged.
    """
    from triage.app.clocks import steady_clock
    from triage.app.resuming import resume
    from triage.cli.knowing import shipped_interlocks
    from triage.cli.saved.sessions import find_trace

    path = find_trace(args.trace) if args.trace else _last_unfinished()
    expect_date()
    job, notices = resume(path, now_ms, "", steady_clock(), shipped_interlocks())
    lines = lines_here()
    for notice in notices:
        lines.say(notice)
    return _talk(job, lines)


def _last_unfinished() -> Path:
    from triage.store import data_folder, list_traces

    for summary in list_traces(data_folder()):
        if summary.now != "closed" and not summary.fault:
            return summary.path
    raise StoreUnavailable("There is no unfinished session.", "Start one with: triage chat")


def _talk(job: "Job", lines: "Lines") -> int:
    from triage.chat.talk import Talk

    try:
        Talk(job, lines, time.monotonic).run()
    finally:
        job.leave()
    return EXIT_OK


def run_demo(args: argparse.Namespace) -> int:
    """Play a saved session; of a damaged trace, what stands before its first bad line.

    Raises:
        TriageError: there is none, or not even its beginning can be relied on.
    """
    from triage.app.reading import read_sound_part
    from triage.cli.saved.sessions import find_trace, say_damage
    from triage.knowledge.shipped import demos_folder
    from triage.present.cleaning import clean
    from triage.present.pages.playing import scenes

    demos = sorted(demos_folder().glob("*.jsonl"))
    named = [demo for demo in demos if args.trace in (None, demo.stem)]
    path = named[0] if named else find_trace(args.trace)
    (knowledge, events, _, notices), damage = read_sound_part(path)
    sys.stderr.writelines(f"{clean(notice)}\n" for notice in notices)
    waits = sys.stdin.isatty() and sys.stdout.isatty()
    for scene in scenes(knowledge, events):
        sys.stdout.write(clean("\n".join(scene)) + "\n")
        sys.stdout.flush()
        if waits and not _goes_on():
            break
    return say_damage(damage)


def _goes_on() -> bool:
    try:
        return input("[Enter goes on, q stops] ").strip().lower() != "q"
    except EOFError:  # Ctrl-D stops too
        sys.stdout.write("\n")
        return False
