"""`triage costs`: which repair of a session pays, as a table for the customer."""

import argparse
import json
import sys

from triage.errors import EXIT_OK
from triage.present.cleaning import clean_line

WIDTH = 78


def add(commands: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Add the command to the command line."""
    parser = commands.add_parser(
        "costs",
        help="print what putting it right costs, as a table for the customer",
        description="Prints the costs that were recorded with the conclusion of a session. Before a conclusion they "
        "are worked out from the findings so far, at the prices that the session was started with.",
    )
    parser.add_argument("trace", metavar="SESSION", help="a trace file, or the name of a listed session")
    parser.add_argument("--json", action="store_true", help="the same as one JSON object")
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Print the costs of one session.

    Raises:
        TraceDamaged: the trace does not hold together.
        StoreUnavailable: there is no such trace, or it cannot be read.
    """
    from triage.app.asking import reading_of
    from triage.app.reading import replay
    from triage.cli.saved.sessions import find_trace
    from triage.present.pages.costs import costs_page
    from triage.present.text import wrapped
    from triage.session.evolving import fold

    knowledge, events, _, _ = replay(find_trace(args.trace))
    state = reading_of(knowledge, fold(events), "costs", events[-1].at_ms).state
    if args.json:
        costs = state.costs.model_dump(mode="json") if state.costs else None
        told = {"recorded": state.concluded is not None, "costs": costs}
        # Escaped to plain letters, so that words out of a file do nothing to a terminal.
        sys.stdout.write(json.dumps(told, allow_nan=False) + "\n")
        return EXIT_OK
    title = f"Job {state.job}: {knowledge.trees[state.symptom].name}"
    page = [title, *costs_page(knowledge, state)]
    lines = [row for line in page for row in (wrapped(line, WIDTH) if line.strip() == line else [clean_line(line)])]
    sys.stdout.write("\n".join(lines) + "\n")
    return EXIT_OK
