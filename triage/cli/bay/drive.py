"""`triage drive`: what a vehicle's accessory drive does, worked out from a layout file."""

import argparse
import json
import sys
from dataclasses import asdict
from typing import TYPE_CHECKING

from triage.cli.bay import drive_run
from triage.cli.bay.typed import typed_text
from triage.cli.writing import add_target, refuse_target, write_file
from triage.errors import EXIT_OK, QuantityRefused, TriageError
from triage.present.cleaning import clean

NEW = "new"
"""A word in the place of a layout: a drive is entered line by line."""
WHICH = "a layout file, or the name of one of the shop's own or that came with the program; new: enter one"

if TYPE_CHECKING:
    from pathlib import Path

    from triage.drive.layout.assembly import Drive
    from triage.drive.mechanics.rates import RateMatch


def add(commands: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Add the command to the command line."""
    parser = commands.add_parser(
        "drive",
        help="say what an accessory drive does: spans, speeds, grip, natural frequencies",
        description="Works out what a layout file allows. Unknown figures are named with what is missing. "
        "triage drive run LAYOUT works out what the drive does in time.",
        epilog="The figures explain. The vehicle maker's procedure decides.",
    )
    parser.add_argument(
        "layout",
        metavar="LAYOUT",
        help=WHICH,
    )
    readings = (
        ("--rpm", "N", "engine speed; the layout's idle where none is given"),
        ("--slowing", "N", "r/min that the crank loses each second, for the margins"),
        ("--speeding", "N", "r/min that the crank gains each second, for the margins; not asked where left out"),
        ("--repeat", "RATE", 'a counted repeat to compare, such as "3.3 ± 0.1 Hz"'),
    )
    for option, metavar, told in readings:
        parser.add_argument(option, metavar=metavar, type=typed_text, help=told)
    parser.add_argument("--json", action="store_true", help="all figures in SI, unknown ones as null with the reason")
    add_target(parser, "--picture", "FILE.svg", "write the drive as a picture file too")
    parser.set_defaults(run=run)
    drive_run.add_to(parser)


def run(args: argparse.Namespace) -> int:
    """Print what is known of a drive, and write its picture where one is asked for.

    Raises:
        DocumentFaulty: the layout has faults.
        QuantityRefused: a speed or rate cannot be.
        StoreUnavailable: the picture cannot be written.
    """
    if args.layout == NEW:
        from triage.cli.bay.entering import run as enter

        return enter()
    from triage.app.shop.own_layouts import layout_file
    from triage.drive.figures.all_figures import USUAL_SLOWING_REV_S2, figures_of
    from triage.drive.layout.assembly import assemble
    from triage.drive.layout.placement import read_layout
    from triage.drive.layout.plausible import MOST_CRANK_REV_S, crank_rate
    from triage.drive.pages.figures_page import account, account_of_match

    if args.picture is not None:
        refuse_target(args.picture, overwrite=args.overwrite)
    drive = assemble(read_layout(layout_file(args.layout)))
    crank_rev_s = crank_rate(args.rpm, "A speed", MOST_CRANK_REV_S) if args.rpm else drive.idle_rev_s
    slowing = _change(args.slowing) if args.slowing else USUAL_SLOWING_REV_S2
    figures = figures_of(drive, crank_rev_s, slowing, _change(args.speeding) if args.speeding else None)
    match = _match(drive, crank_rev_s, args.repeat) if args.repeat else None
    if args.picture is not None:
        _write_picture(args.picture, drive, overwrite=args.overwrite)
    if args.json:
        fields = figures.published() | ({"repeat": asdict(match)} if match else {})
        sys.stdout.write(json.dumps(fields, ensure_ascii=False, allow_nan=False, indent=2) + "\n")
    else:
        sys.stdout.write(clean(account(drive, figures)))
        sys.stdout.write(clean(f"\n{account_of_match(match)}") if match else "")
    return EXIT_OK


def _change(text: str) -> float:
    from triage.drive.layout.plausible import MOST_CHANGE_REV_S2, crank_rate

    return crank_rate(text, "A change in a second", MOST_CHANGE_REV_S2)


def _match(drive: "Drive", crank_rev_s: float | None, text: str) -> "RateMatch":
    from triage.drive.figures.running import repeat_rates
    from triage.drive.figures.unsure import unsure_rates
    from triage.drive.mechanics.rates import match_rate
    from triage.units import parse_quantity, standard_uncertainty

    if crank_rev_s is None:
        raise QuantityRefused("A repeat says nothing without the engine's speed.", "Give --rpm.")
    counted = parse_quantity(text, "frequency")
    if not counted.spread:
        raise QuantityRefused(f"“{text}” does not say how sure it is.", "Add the spread, such as 3.3 ± 0.1 Hz.")
    uncertainty_hz = standard_uncertainty(counted.spread)
    return match_rate(counted.value, uncertainty_hz, repeat_rates(drive, crank_rev_s), unsure_rates(drive, crank_rev_s))


def _write_picture(path: "Path", drive: "Drive", *, overwrite: bool) -> None:
    from triage.drive.pages.picture import picture

    if drive.route is None:
        raise TriageError("There is no picture to draw: not every pulley has a position.", "Add at to each pulley.")
    names = [member.part for member in drive.members]
    write_file(path, picture(drive.route, names, f"Belt over {', '.join(names)}"), "picture", overwrite=overwrite)
