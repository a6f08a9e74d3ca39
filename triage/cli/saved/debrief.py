"""`triage debrief`: a saved session beside what triage itself would have done, for whoever wants to learn from it."""

import argparse
import json
import sys

from triage.errors import EXIT_OK

WIDTH = 88


def add(commands: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Add the command to the command line."""
    parser = commands.add_parser(
        "debrief",
        help="say where minutes went in a session that is over, beside what triage itself would have done",
        description="Compares each choice of a closed session with the next step by the figures behind worth, from the "
        "very same findings. Nothing is recorded, and nobody knows here what was really the matter.",
    )
    parser.add_argument("trace", metavar="SESSION", help="a trace file, or the name of a listed session")
    parser.add_argument("--json", action="store_true", help="the same as one JSON object")
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Print the debrief of one session.

    Raises:
        TriageError: there is no such session, it does not hold together, or it is not over.
    """
    from triage.app.reading import replay
    from triage.cli.saved.sessions import find_trace
    from triage.practice.of_session import score_session
    from triage.present.cleaning import clean_line
    from triage.present.pages.debrief import debrief_page
    from triage.present.text import wrapped

    replayed = replay(find_trace(args.trace))
    score = score_session(replayed.knowledge, replayed.events)
    if args.json:
        steps = [
            {
                "part": one.part,
                "checks": list(one.checks) if one.part == "check" else [],
                "lost_min": round(one.regret_min, 1),
                "reference": list(one.other.checks) if one.other else [],
            }
            for one in score.steps
        ]
        ends = {"concluded": list(score.concluded), "carried": list(score.carried), "proof": score.proof}
        told = {"job": score.job, "lost_min": round(score.total_min, 1), **ends, "steps": steps}
        sys.stdout.write(json.dumps(told, allow_nan=False) + "\n")
        return EXIT_OK
    lines = debrief_page(replayed.knowledge, score)
    rows = [row for line in lines for row in (wrapped(line, WIDTH) if line else [""])]
    sys.stdout.write("\n".join(map(clean_line, rows)) + "\n")
    return EXIT_OK
