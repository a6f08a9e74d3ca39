"""`triage drive run`: what a drive does in time, and what the wrong pulley would have done."""

import argparse
import json
import sys
from pathlib import Path
from typing import TYPE_CHECKING

from triage.cli.bay.typed import typed_text
from triage.cli.reserved import reserve
from triage.cli.writing import add_target, refuse_target, write_file
from triage.errors import EXIT_OK
from triage.present.cleaning import clean

if TYPE_CHECKING:
    from collections.abc import Callable

    from triage.drive.motion.asking import Asked
    from triage.drive.motion.simulating import Answer, Progress

_EVENTS = "idle", "sweep", "slow-down", "load-step", "switch-off"
_PULLEYS = "solid", "isolator", "one-way-clutch", "decoupler"
_QUANTITIES = (
    ("--rpm", "engine speed at the start, in r/min; idle, 600 for a sweep, four times idle for a slow-down"),
    ("--to", "engine speed at the end of a sweep (1200 r/min) or slow-down (idle)"),
    ("--rate", "r/min that the engine gains or loses each second; 2000 for a slow-down, 100 for a sweep"),
    ("--seconds", "length of the run, in s"),
    ("--ripple", "how far firing shakes the crank at idle, zero to peak, in degrees; 1"),
    ("--step", "torque of the alternator after a load step, in N·m; the layout's"),
)
_PARAMETERS = {
    "arm_friction": "dry friction of the tensioner's arm, in N·m; 4",
    "span_damping": "time by which a span's rate of stretch counts like stretch, in s; 0.0002",
    "rotor_drag": "drag of the rotor's bearings, in N·m; 0.06",
    "windage": "torque of the rotor's fan over speed squared, in N·m·s²; 5e-7",
    "lock_stiffness": "of a clutch that holds, in N·m/rad; 3000",
    "spring_damping": "beside a pulley's spring, in N·m·s; 0.02",
    "clutch_drag": "of a one-way clutch that overruns, in N·m; 0.05",
    "crank_inertia": "of the crank with all that turns with it, in kg·m²; 0.16",
    "crank_friction": "of an engine that nothing drives, in N·m; 18",
    "crank_compression": "largest torque of compressing, in N·m; 60",
    "creep": "whether the belt creeps: true or false; true",
    "ripple_order": "firings per turn; half the cylinders",
}
_SHOWN_SHARE = 0.01
"""Progress is shown in steps of this."""


def add_to(parser: argparse.ArgumentParser) -> None:
    """Add `run` behind `triage drive`."""
    own = reserve(
        parser,
        "run",
        "Carries a drive through an event in time: tensions, arm, rotor and slip. Figures without a unit are in "
        "the one named here; all that is named here with a figure has it from memory.",
    )
    own.add_argument(
        "layout",
        metavar="LAYOUT",
        help="a layout file, or the name of one of the shop's or of the program's own",
    )
    own.add_argument("--event", choices=_EVENTS, required=True, help="what happens")
    own.add_argument("--pulley", choices=_PULLEYS, help="of the alternator; the layout's where none is given")
    own.add_argument(
        "--fault",
        metavar="FAULT",
        type=typed_text,
        help="what is wrong, such as seized; one that is not known names them all",
    )
    own.add_argument("--compare", action="store_true", help="the four pulleys and the usual faults side by side")
    for option, told in _QUANTITIES:
        own.add_argument(option, metavar="N", type=typed_text, help=told)
    for key, told in _PARAMETERS.items():
        own.add_argument(f"--{key.replace('_', '-')}", metavar="N", type=typed_text, help=told)
    own.add_argument("--json", action="store_true", help="all figures under their names")
    own.add_argument("--series", action="store_true", help="with --json: how everything went over time too")
    own.add_argument(
        "--kernel",
        choices=("numpy", "numba"),
        help="what works it out: numba, much faster, where it is installed; numpy gives the same bytes everywhere",
    )
    add_target(own, "--plot", "FILE.svg", "write the run as a picture file too")
    own.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Carry a drive through an event and print what it did.

    Raises:
        DocumentFaulty: the layout has faults.
        TriageError: the layout does not say enough, or what is asked cannot be.
        StoreUnavailable: the picture cannot be written.
    """
    from triage.app.shop.own_layouts import layout_file
    from triage.drive.layout.placement import read_layout
    from triage.drive.motion.asking import PARAMETERS, WISHES, asked
    from triage.drive.motion.simulating import simulate

    if args.plot is not None:
        refuse_target(args.plot, overwrite=args.overwrite)
    given = {key: getattr(args, key) for key in ("event", "pulley", "fault", *WISHES, *PARAMETERS)}
    typed = {key: text for key, text in given.items() if text is not None} | ({"compare": ""} if args.compare else {})
    name = Path(args.layout).name.removesuffix(".yaml")
    wanted = asked(read_layout(layout_file(args.layout)), name, typed)
    answer = _watched(
        lambda progress: simulate(wanted.drive, wanted.parameters, wanted.question, progress, args.kernel)
    )
    _print(args, wanted, answer)
    return EXIT_OK


def _watched(work: "Callable[[Progress], Answer]") -> "Answer":
    """Do some work with its progress on a terminal's standard error; Ctrl-C stops it."""
    shown = sys.stderr.isatty()
    done = [0.0]

    def progress(share: float) -> None:
        if shown and share - done[0] >= _SHOWN_SHARE:
            done[0] = share
            sys.stderr.write(f"\r{share:4.0%} of the run; Ctrl-C stops it ")
            sys.stderr.flush()

    try:
        return work(progress)
    except KeyboardInterrupt:
        sys.stderr.write("\nStopped. Nothing was written.\n")
        raise
    finally:
        if shown:
            sys.stderr.write("\r" + " " * 40 + "\r")


def _print(args: argparse.Namespace, wanted: "Asked", answer: "Answer") -> None:
    from triage.drive.motion.doubts import doubts
    from triage.drive.pages.motion_drawn import charts, picture
    from triage.drive.pages.motion_page import page_of

    doubtful = doubts(answer)
    page = page_of(wanted, answer, doubtful=doubtful)
    if args.plot is not None:
        write_file(args.plot, picture(answer, wanted.name, clean(page)), "picture", overwrite=args.overwrite)
    if args.json:
        sys.stdout.write(
            json.dumps(_fields(args, answer, wanted, doubtful), ensure_ascii=False, allow_nan=False) + "\n"
        )
    else:
        sys.stdout.write(clean(page + "\n" + charts(answer)))


def _fields(
    args: argparse.Namespace, answer: "Answer", wanted: "Asked", doubtful: tuple[str, ...] | None
) -> dict[str, object]:
    from triage.drive.motion.figures import named
    from triage.drive.pages.motion_series import series_of

    variants = [
        {
            **named(variant),
            **figures.published(),
            **({"series": series_of(answer.machine, answer.series, column)} if args.series else {}),
        }
        for column, (variant, figures) in enumerate(zip(answer.machine.variants, answer.figures, strict=True))
    ]
    return {
        "layout": wanted.name,
        "event": answer.event.kind,
        "variants": variants,
        "assumed": list(wanted.notes),
        "doubtful": None if doubtful is None else list(doubtful),
        "kernel": answer.kernel,
    }
