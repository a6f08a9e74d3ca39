"""`triage drive run`: what a drive does in time, and what the wrong pulley would have done."""

import argparse
import json
import math
import sys
from pathlib import Path
from typing import TYPE_CHECKING

from triage.cli.bay.typed import typed_text
from triage.cli.reserved import reserve
from triage.cli.writing import add_target, refuse_target, write_file
from triage.errors import EXIT_OK, QuantityRefused, TriageError
from triage.present.cleaning import clean

if TYPE_CHECKING:
    from collections.abc import Callable

    from triage.drive.layout.assembly import Drive
    from triage.drive.motion.events import Wish
    from triage.drive.motion.machine import Variant
    from triage.drive.motion.parameters import Parameters
    from triage.drive.motion.simulating import Answer, Progress
    from triage.record.layout import Layout, Simulation

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
_CRANK = "crank_"
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
    own.add_argument("layout", metavar="LAYOUT", help="a layout file, or the name of one that came with the program")
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
    add_target(own, "--plot", "FILE.svg", "write the run as a picture file too")
    own.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Carry a drive through an event and print what it did.

    Raises:
        DocumentFaulty: the layout has faults.
        TriageError: the layout does not say enough, or what is asked cannot be.
        StoreUnavailable: the picture cannot be written.
    """
    from triage.drive.layout.assembly import assemble
    from triage.drive.layout.placement import read_layout
    from triage.drive.layout.shipped import layout_file
    from triage.drive.motion.parameters import parameters_of
    from triage.drive.motion.simulating import Question, simulate

    if args.plot is not None:
        refuse_target(args.plot, overwrite=args.overwrite)
    layout = read_layout(layout_file(args.layout))
    layout = layout.model_copy(update={"simulation": _simulation(args, layout.simulation)})
    drive, parameters = assemble(layout), parameters_of(layout)
    variants, left = _variants(args, drive, parameters)
    ripple = {} if args.ripple is None else {"ripple_rad": _si(args.ripple, "angle")}
    question = Question(args.event, variants, _wish(args), **ripple)
    answer = _watched(lambda progress: simulate(drive, parameters, question, progress))
    _print(args, layout, drive, answer, left)
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


def _print(args: argparse.Namespace, layout: "Layout", drive: "Drive", answer: "Answer", left: tuple[str, ...]) -> None:
    from triage.drive.motion.parameters import usual_ones
    from triage.drive.motion.simulating import findings, fitted
    from triage.drive.pages.motion_page import account_of_run

    name = Path(args.layout).name.removesuffix(".yaml")
    notes = [*left, *drive.assumed, *filter(None, [usual_ones(layout)])]
    page = account_of_run(answer, name, findings(answer), notes, fitted(drive))
    if args.plot is not None:
        _write_plot(args.plot, answer, name, page, overwrite=args.overwrite)
    if args.json:
        sys.stdout.write(json.dumps(_fields(args, answer, name, notes), ensure_ascii=False, allow_nan=False) + "\n")
    else:
        sys.stdout.write(clean(page + "\n" + _charts(answer)))


def _fields(args: argparse.Namespace, answer: "Answer", name: str, notes: list[str]) -> dict[str, object]:
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
    return {"layout": name, "event": answer.event.kind, "variants": variants, "assumed": notes, "kernel": "numpy"}


def _charts(answer: "Answer") -> str:
    from triage.drive.pages.motion_chart import chart
    from triage.drive.pages.motion_page import said
    from triage.drive.pages.motion_series import panels

    names = [said(variant) for variant in answer.machine.variants]
    times, drawn = panels(answer)
    return "\n".join(chart(times, panel, names) for panel in drawn)


def _write_plot(path: Path, answer: "Answer", name: str, page: str, *, overwrite: bool) -> None:
    from triage.drive.pages.motion_chart import drawing
    from triage.drive.pages.motion_page import said
    from triage.drive.pages.motion_series import panels

    names = [said(variant) for variant in answer.machine.variants]
    times, drawn = panels(answer)
    title = f"{answer.event.kind} of {name}: {', '.join(panel.title for panel in drawn)}, over time"
    write_file(path, drawing(times, drawn, names, title, clean(page)), "picture", overwrite=overwrite)


def _variants(
    args: argparse.Namespace, drive: "Drive", parameters: "Parameters"
) -> "tuple[tuple[Variant, ...], tuple[str, ...]]":
    from triage.drive.motion.machine import FAULTS, Variant
    from triage.drive.motion.simulating import compared, fitted

    if args.compare and (args.pulley or args.fault):
        raise TriageError("--compare tries all pulleys and faults.", "Leave --pulley and --fault out, or --compare.")
    if args.compare:
        return compared(drive, parameters)
    fault = (args.fault or "").strip().replace(" ", "-").replace("_", "-")
    if fault and fault not in FAULTS:
        raise TriageError(
            f"There is no fault “{fault[:40]}”.", "; ".join(f"{one}: {told}" for one, told in FAULTS.items()) + "."
        )
    return (Variant(args.pulley or fitted(drive), fault),), ()


def _simulation(args: argparse.Namespace, written: "Simulation | None") -> "Simulation":
    """What the layout says under `simulation`, with what was typed as options in its place."""
    from pydantic import ValidationError

    from triage.record.layout import FreeCrank, Simulation

    typed = {key: getattr(args, key) for key in _PARAMETERS if getattr(args, key) is not None}
    if "creep" in typed:
        if typed["creep"] not in ("true", "false"):
            raise QuantityRefused("--creep takes true or false.", "Leave it out where the belt creeps.")
        typed["creep"] = typed["creep"] == "true"
    base = (written or Simulation()).model_dump(exclude_none=True)
    crank = {key.removeprefix(_CRANK): typed.pop(key) for key in list(typed) if key.startswith(_CRANK)}
    parts = {**base.pop("crank", {}), **crank}
    try:
        return Simulation(**{**base, **typed}, crank=FreeCrank(**parts) if parts else None)
    except ValidationError as error:
        first = error.errors()[0]
        option = "-".join(str(one) for one in first["loc"]).replace("_", "-")
        message = str(first["msg"]).removeprefix("Value error, ")
        raise QuantityRefused(f"--{option}: {message}", "See triage drive run --help.") from error


def _wish(args: argparse.Namespace) -> "Wish":
    from triage.drive.motion.events import Wish

    return Wish(
        rpm=_speed(args.rpm),
        to=_speed(args.to),
        rate=_speed(_per_second(args.rate)),
        seconds=None if args.seconds is None else _more_than_nothing(args.seconds, "time"),
        step_nm=None if args.step is None else _si(args.step, "torque"),
    )


def _per_second(text: str | None) -> str | None:
    """A rate without what says that it is one: "2000 r/min per s" is 2000 r/min, each second."""
    if text is None:
        return None
    for end in ("each second", "per second", "per s", "/s"):
        if text.strip().endswith(f"min{end}") or text.strip().endswith(f"min {end}"):
            return text.strip().removesuffix(end)
    return text


def _speed(text: str | None) -> float | None:
    return None if text is None else _more_than_nothing(text, "speed") * math.tau


def _more_than_nothing(text: str, kind: str) -> float:
    value = _si(text, kind)
    if not value > 0:
        raise QuantityRefused(f"“{text}” must be more than zero.", "Leave the option out for the usual figure.")
    return value


def _si(text: str, kind: str) -> float:
    from triage.units import parse_quantity

    return parse_quantity(text, kind).value
