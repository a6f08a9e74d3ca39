"""`triage cases` and `triage rank`: recorded cases walked without a person, or ranked without walking a tree."""

import argparse
import json
import sys
from typing import TYPE_CHECKING

from triage.cli.authoring.asked import add_cases, as_table, cases_of
from triage.cli.writing import add_target, refuse_target, write_file
from triage.errors import EXIT_DISAGREES, EXIT_OK
from triage.present.cleaning import clean_line

if TYPE_CHECKING:
    from collections.abc import Sequence

    from triage.app.cases import Walked
    from triage.record.counsel import LikelyCause

_AGREES = {True: "agrees", False: "DISAGREES", None: "not judged"}
_HEADINGS = ("case", "agrees", "concluded", "checks", "minutes")
_SHOWN = 3
FROM = "from"
"""Stands where a file stands: the second word is a session."""
_CONTRADICTION = "the findings contradict each other"


def add(commands: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Add both commands to the command line."""
    cases = commands.add_parser(
        "cases",
        help="walk recorded cases and say what each comes to",
        description="Walks recorded cases without a person. Exit code 1 when one comes to something else than it says.",
    )
    add_cases(cases, "everything as one JSON object")
    cases.add_argument(
        "--route",
        choices=("tree", "grown"),
        default="tree",
        help="along the tree, or along a grown route; tree by default",
    )
    cases.add_argument(
        "--name", metavar="ID", default="from-session", help="with `cases from SESSION`: the id of the case"
    )
    add_target(cases, "--out", "FILE.yaml", "with `cases from SESSION`: write the case there")
    cases.set_defaults(run=run_cases)
    rank = commands.add_parser(
        "rank",
        help="say which causes the findings of recorded cases make likely",
        description="Ranks the causes by how likely they made the complaint, after the findings that each case lists. "
        "No tree is walked: a check that is not listed counts for nothing.",
    )
    add_cases(
        rank, "every cause with its probability of having made the complaint and of being there, as one JSON object"
    )
    rank.set_defaults(run=run_rank)


def run_cases(args: argparse.Namespace) -> int:
    """Print what each case comes to.

    Raises:
        DocumentFaulty: a file of cases has faults.
    """
    if args.files[0].name == FROM and len(args.files) == 2 and not args.files[0].exists():
        return _print_case(args)
    from triage.app.advising.own_route import Planner
    from triage.app.cases import walk_case

    knowledge, instruments, cases = cases_of(args)
    planner = Planner() if args.route == "grown" else None
    walked = [walk_case(knowledge, case, instruments, planner)[0] for case in cases]
    agreed = sum(one.agrees is True for one in walked)
    if args.json:
        _print_json({"cases": [_told(one) for one in walked], "agreed": agreed, "total": len(walked)})
    else:
        sys.stdout.write(f"{as_table([_HEADINGS, *map(_row, walked)])}\n{agreed} of {len(walked)} agree.\n")
    return EXIT_DISAGREES if any(one.agrees is False for one in walked) else EXIT_OK


def _print_case(args: argparse.Namespace) -> int:
    """Write a saved session as a case that walks to the same findings and conclusion, or none and say what differs.

    Raises:
        TriageError: there is no such session, it is damaged, or the file cannot be written.
    """
    from triage.app.case_from import case_of, case_text
    from triage.app.case_walked import differences
    from triage.app.reading import read_sound_part
    from triage.app.shop.shop_file import Shop, accuracies
    from triage.cli.authoring.unlike import NOT_WRITTEN, said
    from triage.cli.knowing import shipped_knowledge
    from triage.cli.saved.sessions import find_trace
    from triage.session.evolving import fold

    if args.out is not None:
        refuse_target(args.out, overwrite=args.overwrite)
    (knowledge, events, _, _), _ = read_sound_part(find_trace(str(args.files[1])))
    state, today = fold(events), shipped_knowledge()
    case = case_of(knowledge, state, args.name)
    unlike = differences(today, case, state, accuracies(today, Shop()))
    if unlike:
        lines = (NOT_WRITTEN, *(said(today, one) for one in unlike))
        sys.stderr.writelines(f"{clean_line(line)}\n" for line in lines)
        return EXIT_DISAGREES
    text = case_text(knowledge, state, args.name)
    if args.out is None:
        sys.stdout.write(text)
    else:
        write_file(args.out, text, "case", overwrite=args.overwrite)
    return EXIT_OK


def run_rank(args: argparse.Namespace) -> int:
    """Print which causes are likely in each case.

    Raises:
        DocumentFaulty: a file of cases has faults.
    """
    from triage.app.cases import rank_case
    from triage.present.steps.shares import share

    knowledge, instruments, cases = cases_of(args)
    ranked = [(case.id, rank_case(knowledge, case, instruments)) for case in cases]
    if args.json:
        told = [{"id": name, "likely": _likely(one.likely), "unlisted": one.unlisted} for name, one in ranked]
        _print_json({"cases": told})
        return EXIT_OK
    for name, ranking in ranked:
        top = (f"{knowledge.causes[one.cause].name} {share(one.probability)}" for one in ranking.likely[:_SHOWN])
        sys.stdout.write(f"{clean_line(name)}: {', '.join(top) or _CONTRADICTION}\n")
    return EXIT_OK


def _print_json(told: dict[str, object]) -> None:
    # Escaped to plain letters, so that an id out of a file does nothing to a terminal.
    sys.stdout.write(json.dumps(told, allow_nan=False) + "\n")


def _told(one: "Walked") -> dict[str, object]:
    return {
        "id": one.id,
        "concluded": one.concluded,
        "likely": _likely(one.likely),
        "checks": one.checks,
        "minutes": one.minutes,
        "agrees": one.agrees,
        "confirmations": one.counts.confirmations,
        "confirmations_job": one.counts.confirmations_job,
        "engine_starts": one.counts.engine_starts,
        "minutes_with_changes": one.counts.minutes_with_changes,
    }


def _likely(likely: "Sequence[LikelyCause]") -> list[dict[str, object]]:
    return [one.model_dump(include={"cause", "probability", "present"}) for one in likely]


def _row(one: "Walked") -> tuple[str, ...]:
    concluded = ", ".join(one.concluded) or "nothing"
    return clean_line(one.id), _AGREES[one.agrees], concluded, str(len(one.checks)), f"{one.minutes:g}"
