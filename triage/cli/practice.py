"""`triage practice`: a made-up vehicle with a hidden fault, in the plain chat. No vehicle, no job."""

import argparse
import getpass
import json
import sys
from datetime import UTC, datetime
from pathlib import Path
from typing import TYPE_CHECKING

from triage.cli.writing import add_target, refuse_target, write_file
from triage.errors import EXIT_OK, CommandRefused

if TYPE_CHECKING:
    from triage.chat.lines import Lines
    from triage.knowledge.models import Knowledge
    from triage.practice.vehicle import Vehicle
    from triage.practice.weeks.went import Went
    from triage.present.practising.dialogue import PracticeDialogue
    from triage.store.practised import PracticeRecord

EASIEST, HARDEST = 1, 5
MOST_SEED = 10**9
PROGRESS = "progress"
"""Stands where a complaint stands, and is none."""


def add(commands: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Add the command to the command line."""
    parser = commands.add_parser("practice", help="find the hidden fault of a made-up vehicle, and be told how it went")
    parser.add_argument(
        "symptom",
        metavar="SYMPTOM",
        nargs="?",
        help="the complaint, such as belt-squeal; else what trains most; or progress",
    )
    levels = range(EASIEST, HARDEST + 1)
    parser.add_argument("--level", type=int, choices=levels, default=EASIEST, help="how hard: 1 (first) to 5")
    parser.add_argument("--seed", type=int, metavar="N", help="the same number gives the same vehicle")
    parser.add_argument("--case", type=Path, metavar="FILE", help="a vehicle out of a file of recorded cases")
    parser.add_argument("--who", metavar="NAME", help="whose exercise it is; by default who is logged in")
    parser.add_argument("--json", action="store_true", help="progress as one JSON object")
    add_target(parser, "--debrief", "FILE", "write the debrief as a text file too")
    parser.set_defaults(run=run_practice)


def run_practice(args: argparse.Namespace) -> int:
    """Go through one exercise in the chat.

    Raises:
        TriageError: a job stands, a file has faults, or the record cannot be written.
    """
    from triage.cli.knowing import shipped_knowledge
    from triage.cli.typing_in import lines_here
    from triage.present.practising.said import MARK

    who = args.who or learner_here()
    if args.symptom == PROGRESS:
        return print_progress(who, as_json=args.json)
    refuse_beside_a_job()
    if args.debrief is not None:
        refuse_target(args.debrief, overwrite=args.overwrite)
    knowledge = shipped_knowledge()
    seed = _seed(args.seed)
    if args.symptom is None and args.seed is None and args.case is None:
        vehicle, seed = trained_vehicle(knowledge, args.level, who)
    else:
        vehicle = _vehicle(knowledge, args.symptom or "", args.level, seed, args.case)
    told = _practise(knowledge, vehicle, seed, lines_here(), who)
    if args.debrief is not None and told:
        write_file(args.debrief, "\n".join((MARK, *told, "")), "debrief", overwrite=args.overwrite)
    return EXIT_OK


def practise_in(lines: "Lines", knowledge: "Knowledge") -> int:
    """Ask for complaint and level in a chat, and go through an exercise.

    Raises:
        TriageError: a job stands, the shop file has faults, or the record cannot be written.
    """
    from triage.chat.lines import InputEndedError
    from triage.chat.practice import ask_vehicle

    refuse_beside_a_job()
    try:
        symptom, level = ask_vehicle(knowledge, lines)
    except InputEndedError:
        return EXIT_OK
    _practise(knowledge, *drawn_vehicle(knowledge, symptom, level), lines)
    return EXIT_OK


def _practise(knowledge: "Knowledge", vehicle: "Vehicle", seed: int, lines: "Lines", who: str = "") -> tuple[str, ...]:
    """Go through an exercise and give its debrief; nothing where it was left."""
    from triage.chat.practice import practise

    dialogue, record = begin_practice(knowledge, vehicle, seed, who)
    try:
        practise(dialogue, lines)
    finally:
        record.close()
    sys.stderr.write(f"Kept apart from every job: {record.path}\n")
    return dialogue.debriefed


def refuse_beside_a_job() -> None:
    """Begin no practice while a vehicle stands made safe for somebody.

    Raises:
        CommandRefused: one does.
    """
    from triage.app.standing_jobs import standing_jobs
    from triage.present.cleaning import clean_line
    from triage.store import data_folder

    jobs = standing_jobs(data_folder())
    if jobs:
        named = clean_line(", ".join(jobs))
        raise CommandRefused(
            f"A job stands made safe at a vehicle: {named}. Practice says what is not so there.",
            "Go on with it and pause or close it first: triage resume. Nothing was begun, and the job is as it was.",
        )


def begin_practice(
    knowledge: "Knowledge", vehicle: "Vehicle", seed: int, who: str = ""
) -> "tuple[PracticeDialogue, PracticeRecord]":
    """An exercise at a vehicle, by the shop's own instruments, minutes and prices, and its record.

    Args:
        knowledge: what it is drawn from.
        vehicle: what is hidden.
        seed: from which it was drawn.
        who: the learner; whoever is logged in where nothing is said.

    Raises:
        TriageError: a job stands, the shop file has faults, or the record cannot be written.
    """
    from triage.app.shop.shop_file import accuracies, read_shop
    from triage.cli.knowing import shipped_listener
    from triage.knowledge.shipped import trees_folder
    from triage.practice.exercise import Exercise, Setting
    from triage.practice.sealing import Seal
    from triage.practice.weeks.went import LEARNER
    from triage.practice.wording import load_practice_words
    from triage.present.practising.dialogue import PracticeDialogue
    from triage.store import data_folder, shop_file_path
    from triage.store.practised import PracticeRecord

    refuse_beside_a_job()
    shop = read_shop(shop_file_path(), knowledge)
    words, prices = load_practice_words(trees_folder()), shop.repair.in_use()
    setting = Setting(knowledge, words, accuracies(knowledge, shop), shop.weights, prices)
    listener, record = shipped_listener(knowledge), PracticeRecord.begin(data_folder(), vehicle.symptom)
    record.add(LEARNER, {"who": who or learner_here(), "at": datetime.now(UTC).isoformat(timespec="seconds")})
    return PracticeDialogue(Exercise(setting, vehicle), listener, Seal(seed), record.add), record


def drawn_vehicle(knowledge: "Knowledge", symptom: str, level: int, seed: int | None = None) -> "tuple[Vehicle, int]":
    """A vehicle with its seed, which nobody has chosen unless it is given."""
    from triage.practice.vehicle import drawn

    seed = _seed(seed)
    return drawn(knowledge, symptom, level, seed), seed


def learner_here() -> str:
    """The name of who is logged in; what a shop shares is told apart with --who."""
    try:
        return getpass.getuser()
    except (OSError, KeyError, ImportError):
        return "somebody"


def trained_vehicle(knowledge: "Knowledge", level: int, who: str) -> "tuple[Vehicle, int]":
    """The vehicle that trains most of what this learner found hard, of a few that nobody has chosen."""
    from triage.practice.weeks.training import CANDIDATES, boxes, worth_training

    lying, today = boxes(exercises_of(who)), datetime.now(UTC).date()
    drawn = [drawn_vehicle(knowledge, "", level) for _ in range(CANDIDATES if lying else 1)]
    return max(drawn, key=lambda one: worth_training(knowledge, lying, one[0].made, today))


def exercises_of(who: str = "") -> "list[Went]":
    """The exercises that were debriefed, of one learner or of all, the first one first."""
    from triage.practice.weeks.went import went_of
    from triage.store import data_folder
    from triage.store.practised import practice_records

    told = [went_of(lines) for lines in practice_records(data_folder())]
    mine = [one for one in told if one is not None and who in ("", one.who)]
    return sorted(mine, key=lambda one: one.day)


def print_progress(who: str, *, as_json: bool) -> int:
    """Print how a learner's exercises went, week by week."""
    from triage.cli.knowing import shipped_knowledge
    from triage.present.practising.weeks import progress_json, progress_lines

    went = exercises_of(who)
    if as_json:
        sys.stdout.write(f"{json.dumps(progress_json(who, went), allow_nan=False)}\n")
    else:
        sys.stdout.write("\n".join((*progress_lines(shipped_knowledge(), who, went), "")))
    return EXIT_OK


def _seed(wanted: int | None) -> int:
    from triage.practice.sealing import any_seed

    if wanted is None:
        return any_seed()
    if not 0 <= wanted <= MOST_SEED:
        raise CommandRefused(f"A seed is a number from 0 to {MOST_SEED}.", "Leave it out for any vehicle.")
    return wanted


def _vehicle(knowledge: "Knowledge", symptom: str, level: int, seed: int, case: Path | None) -> "Vehicle":
    from triage.cli.authoring.asked import expect

    if symptom:
        expect(symptom, knowledge.trees, "symptom")
    if case is None:
        return drawn_vehicle(knowledge, symptom, level, seed)[0]
    from triage.app.cases import read_cases
    from triage.practice.from_case import vehicle_of

    return vehicle_of(knowledge, read_cases(case, knowledge), symptom, seed)
