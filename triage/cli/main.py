"""The `triage` command: its subcommands, and the one place where every error ends in a sentence and an exit code."""

import argparse
import os
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import Any, NoReturn

from triage import __version__
from triage.cli import chat, overview, practice
from triage.cli.authoring import cases, said, symptom, trees
from triage.cli.bay import drive, quantity, tool
from triage.cli.memory import ask_for_memory
from triage.cli.reserved import reserved_words
from triage.cli.saved import costs, debrief, export, receive, sessions
from triage.errors import (
    EXIT_DEFECT,
    EXIT_FILE,
    EXIT_INTERRUPTED,
    EXIT_MEMORY,
    EXIT_REFUSED,
    DocumentFaulty,
    TriageError,
)
from triage.knowledge.shipped import pages_folder
from triage.present.cleaning import clean, clean_line

TRACEBACK_VARIABLE = "TRIAGE_TRACEBACK"
_PLAIN = ("screen",)
"""What `triage` alone means."""

_EPILOG = """exit codes:
  0    done
  1    done, and the answer is no: a case disagrees, a tree has faults, a trace does not verify
  2    the command line or a typed quantity could not be accepted
  3    a file could not be read or written, is locked, damaged or of another format version
  70   a defect of the program; answers acknowledged before it are on disk
  71   too little memory; answers acknowledged before it are on disk
  130  stopped with Ctrl-C, or nobody reads the output any more

What can hurt someone, and a shop file to begin with: safety.md and shop-example.yaml in
  {pages}

The vehicle maker's procedure comes first, then local codes and licensed practice."""


class _Parser(argparse.ArgumentParser):
    """A parser whose complaints are cleaned and say where help is; a reserved first word has a parser of its own."""

    def parse_known_args(self, args: Any = None, namespace: Any = None) -> Any:  # noqa: ANN401
        """Read words, the way of their first one where it is reserved."""
        words = sys.argv[1:] if args is None else list(args)
        own = reserved_words(self).get(words[0]) if words else None
        return own.parse_known_args(words[1:], namespace) if own else super().parse_known_args(words, namespace)

    def error(self, message: str) -> NoReturn:
        """Refuse the command line."""
        self.exit(EXIT_REFUSED, f"{clean(message)}\nSee {self.prog} --help.\n")


def parser() -> argparse.ArgumentParser:
    """Build the whole command line."""
    top = _Parser(
        prog="triage",
        description="Finds the faulty part of an accessory belt drive, step by step and safely. "
        "Without a command: opens the full screen, or the plain chat where that cannot be.",
        epilog=_EPILOG.format(pages=pages_folder()),
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    top.add_argument("--version", action="version", version=f"triage {__version__}")
    commands = top.add_subparsers(title="commands", metavar="COMMAND", required=True)
    for module in (
        chat,
        practice,
        overview,
        symptom,
        said,
        sessions,
        export,
        receive,
        costs,
        debrief,
        cases,
        trees,
        quantity,
        drive,
        tool,
    ):
        module.add(commands)
    return top


def run(words: Sequence[str] | None = None) -> int:
    """Carry out one command line; whatever goes wrong ends here.

    Args:
        words: what was typed behind `triage`; the program's own arguments when left out.

    Returns:
        The exit code.
    """
    if not _streams_open():
        return EXIT_INTERRUPTED
    _let_every_character_out()
    try:
        code = _carry_out(sys.argv[1:] if words is None else words)
        sys.stdout.flush()
    except DocumentFaulty as error:
        _say(*error.message.split("\n"), error.hint)
        return error.exit_code
    except TriageError as error:
        _say(error.message, error.hint)
        return error.exit_code
    except (KeyboardInterrupt, BrokenPipeError):
        _leave_output()
        return EXIT_INTERRUPTED
    except OSError as error:
        _leave_output()
        _say(f"The system refused to read or write: {error.strerror or error}.", "Look at the disk and try again.")
        return EXIT_FILE
    except MemoryError:
        _say(
            "triage ran out of memory; answers acknowledged before it are on disk, and triage sessions lists them.",
            "Close other programs, or raise the limit if one was set, and start again.",
        )
        return EXIT_MEMORY
    except Exception as defect:  # noqa: BLE001,RUF100 - the one boundary
        return _own_up(defect)
    return code


def _carry_out(words: Sequence[str]) -> int:
    try:
        args = parser().parse_args(words or _PLAIN)
    except SystemExit as told:  # help and version were printed, or the words refused
        return told.code if isinstance(told.code, int) else EXIT_REFUSED
    ask_for_memory()
    code: int = args.run(args)
    return code


def _streams_open() -> bool:
    """Stand the null device in for every stream that was closed, so that no file is opened in its place.

    Returns:
        whether anybody can read the output.
    """
    readable = sys.stdout is not None
    for name, mode in (("stdin", "r"), ("stdout", "w"), ("stderr", "w")):
        if getattr(sys, name) is None:
            setattr(sys, name, Path(os.devnull).open(mode, encoding="utf-8"))  # noqa: SIM115 - it stays for good
    return readable


def _let_every_character_out() -> None:
    """A terminal that cannot show a character shows a question mark; that is no reason to stop."""
    for stream in (sys.stdout, sys.stderr):
        reconfigure = getattr(stream, "reconfigure", None)
        if reconfigure:
            reconfigure(errors="replace")


def _say(*lines: str) -> None:
    for line in lines:
        if line:
            sys.stderr.write(f"{clean_line(line)}\n")


def _own_up(defect: Exception) -> int:
    if os.environ.get(TRACEBACK_VARIABLE) == "1":
        import traceback

        sys.stderr.write(clean("".join(traceback.format_exception(defect))))
    _say(
        f"This is a defect of the program ({type(defect).__name__}), not of what you did; "
        "answers acknowledged before it are on disk, and triage sessions lists them.",
        "Please report it where you got triage, with the version and what you typed last.",
    )
    return EXIT_DEFECT


def _leave_output() -> None:
    """Give up what could not be written, or the interpreter tries it once more and complains at its end."""
    try:
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
    except (OSError, ValueError):
        return
