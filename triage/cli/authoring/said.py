"""`triage said`: how a typed sentence is understood, one for people, or many for scripts."""

import argparse
import json
import sys
from typing import TYPE_CHECKING, Literal

from triage.cli.authoring.asked import expect
from triage.cli.bay.typed import typed_text
from triage.errors import EXIT_OK, TriageError

if TYPE_CHECKING:
    from collections.abc import Iterator

    from triage.knowledge.models import Knowledge
    from triage.listening.listener import Listener, Understood

AT = ("session", "start")
LINE = 'One JSON object a line: {"text": "idler is rough", "check": "spin-idler" or null, "at": "session" or "start"}.'


def add(commands: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Add the command to the command line."""
    parser = commands.add_parser(
        "said",
        help="say how a typed sentence is understood",
        description="Says what is taken from a sentence. Nothing counts before it was said back and accepted, and no "
        "sentence confirms, starts, records a part or a torque, or signs off.",
    )
    parser.add_argument("text", metavar="TEXT", nargs="?", type=typed_text, help='such as "the idler is rough"')
    parser.add_argument("--check", metavar="ID", help="the check on screen, such as spin-idler")
    parser.add_argument("--at", choices=AT, help="in a session, or while the complaint is told")
    parser.add_argument("--json", action="store_true", help="items and said_back as one line of JSON")
    parser.add_argument("--stdin", action="store_true", help=f"read sentences from standard input. {LINE}")
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Print what is taken from one sentence, or from each line of standard input.

    Raises:
        TriageError: there is no such check, a line is not the object that is read, or the knowledge has faults.
    """
    if args.stdin == (args.text is not None):
        raise TriageError("Give a sentence, or --stdin to read many, not both.", "triage said --help shows both.")
    if args.stdin and (args.check or args.at):
        raise TriageError("With --stdin each line says its own check and place.", LINE)
    from triage.cli.knowing import shipped_knowledge, shipped_listener

    knowledge = shipped_knowledge()
    listener = shipped_listener(knowledge)
    if args.stdin:
        for understood in _lines(knowledge, listener):
            _print(understood, as_json=args.json)
        return EXIT_OK
    if args.check:
        expect(args.check, knowledge.checks, "check")
    at: Literal["session", "start"] = args.at or ("session" if args.check else "start")
    _print(listener.understand(args.text, args.check, at), as_json=args.json)
    return EXIT_OK


def _print(understood: "Understood", *, as_json: bool) -> None:
    from triage.listening.items import as_data
    from triage.present.cleaning import clean_line

    if as_json:
        fields = {"items": [as_data(item) for item in understood.items], "said_back": understood.said_back}
        line = json.dumps(fields, ensure_ascii=False, allow_nan=False)
    else:
        line = clean_line(understood.said_back)
    sys.stdout.write(f"{line}\n")
    sys.stdout.flush()  # whoever writes a line waits for its answer


def _lines(knowledge: "Knowledge", listener: "Listener") -> "Iterator[Understood]":
    for number, line in enumerate(sys.stdin.buffer, start=1):
        if line.strip():
            text, check, at = _asked(line, number)
            if check is not None:
                expect(check, knowledge.checks, "check")
            yield listener.understand(text, check, at)


def _asked(line: bytes, number: int) -> tuple[str, str | None, Literal["session", "start"]]:
    """What one line asks."""
    try:
        data = json.loads(line)
    except (ValueError, RecursionError) as error:
        raise TriageError(f"Line {number} is not JSON.", LINE) from error
    fields = data if isinstance(data, dict) else {}
    text, check, at = fields.get("text"), fields.get("check"), fields.get("at", "session")
    if not isinstance(text, str) or not (check is None or isinstance(check, str)) or at not in AT:
        raise TriageError(f"Line {number} does not say what is to be understood.", LINE)
    return text, check, "start" if at == "start" else "session"
