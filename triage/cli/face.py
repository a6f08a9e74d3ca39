"""The full-screen face, put together: what it is given to read knowledge, sessions and files with."""

import gc
import sys
from pathlib import Path
from typing import TYPE_CHECKING

from triage.cli.knowing import shipped_interlocks, shipped_knowledge, shipped_matcher
from triage.errors import EXIT_OK, TriageError
from triage.tui.desk import Desk, Saved

if TYPE_CHECKING:
    from collections.abc import Callable

    from triage.app.job import Job
    from triage.app.opening import Opening
    from triage.app.reading import Replayed
    from triage.knowledge.models import Knowledge
    from triage.present.practising.dialogue import PracticeDialogue


def run_full_screen() -> int:
    """Open the full-screen face and stay until it is left.

    Raises:
        TriageError: the knowledge or the shop file has faults.
        Exception: a defect, for the one error boundary.
    """
    # Nearly all that is made while loading stays; looking for garbage in it takes a tenth of the start.
    gc.disable()
    try:
        from triage.tui.app import TriageApp
        from triage.tui.terminal import prepare

        prepare()
        app = TriageApp(desk())
        app.run()
    finally:
        gc.enable()
    if app.failure:
        raise app.failure
    if app.return_value:
        sys.stdout.write(f"{app.return_value}\n")
    return app.return_code or EXIT_OK


def desk() -> Desk:
    """Every way out of the face, on this machine."""
    return Desk(
        load=shipped_knowledge,
        begin=_begin,
        resume=_resume,
        saved=_saved,
        demos=_demos,
        replay=_replay,
        shop=_shop,
        matcher=shipped_matcher,
        load_rest=_load_rest,
        practise=_practise,
        prove_units=_prove_units,
    )


def _load_rest() -> None:
    from triage.tui import later

    later.load()
    gc.enable()
    gc.freeze()


def _prove_units() -> None:
    """Hold the table of units against the unit library of this machine.

    Raises:
        TriageError: they differ, so that no reading can be relied on.
    """
    from triage.units.library import differing

    try:
        rows = differing()
    except Exception:
        return
    if rows:
        raise TriageError(
            f"The unit library of this machine has another factor for {rows[0][0]} than triage's own table.",
            "No reading is taken until triage is installed anew. Every answer that was saved is there.",
        )


def _begin(knowledge: "Knowledge", opening: "Opening") -> "Job":
    from triage.cli.beginning import begin

    return begin(knowledge, opening)


def _practise(knowledge: "Knowledge", symptom: str, level: int) -> "tuple[PracticeDialogue, Callable[[], None]]":
    from triage.cli.practice import begin_practice, drawn_vehicle

    vehicle, seed = drawn_vehicle(knowledge, symptom, level)
    dialogue, record = begin_practice(knowledge, vehicle, seed)
    return dialogue, record.close


def _resume(path: Path) -> "tuple[Job, tuple[str, ...]]":
    from triage.app.clocks import steady_clock
    from triage.app.resuming import resume
    from triage.cli.beginning import expect_date, now_ms

    expect_date()
    return resume(path, now_ms, "", steady_clock(), shipped_interlocks())


def _saved() -> tuple[Saved, ...]:
    from triage.cli.saved.sessions import WIDEST
    from triage.present.cleaning import shortened
    from triage.store import data_folder, list_traces
    from triage.store.instants import iso_text

    saved = []
    for one in list_traces(data_folder()):
        if not one.fault:
            at = iso_text(one.saved_ms)[:16].replace("T", " ")
            job, symptom = shortened(one.job, WIDEST), shortened(one.symptom, WIDEST)
            saved.append(Saved(one.path, f"{job} · {symptom} · {at} UTC · {one.now}", one.now != "closed"))
    return tuple(saved)


def _demos() -> tuple[Path, ...]:
    from triage.knowledge.shipped import demos_folder

    return tuple(sorted(demos_folder().glob("*.jsonl")))


def _replay(path: Path) -> "Replayed":
    from triage.app.reading import read_sound_part

    return read_sound_part(path).replayed


def _shop() -> tuple[str, ...]:
    from triage.knowledge.shipped import pages_folder
    from triage.store import shop_file_path

    path = shop_file_path()
    example = (
        *('reviewer: "…"', "instruments:", '  torque-wrench: {relative: "3 %"}', '  ruler: {absolute: "0.5 mm"}'),
        *("repair:", "  currency: EUR", "  hour_rate: 96", "  prices: {belt: 46}"),
    )
    whole = f"A whole one, with invented figures, to begin with: {pages_folder() / 'shop-example.yaml'}"
    none = "There is none; the defaults of the tools hold. One is written like this:"
    said = _lines_of(path) or [none, "", *example, "", whole]
    return (f"File: {path}", "It is read when a session starts, and what was used is recorded in the trace.", "", *said)


def _lines_of(path: Path) -> list[str]:
    """Read a file for a screen; where it cannot be read, say why instead."""
    from triage.documents import content_of, is_there
    from triage.errors import DocumentFaulty

    try:
        return content_of(path, path.name).decode(errors="replace").splitlines() if is_there(path) else []
    except DocumentFaulty as error:
        return error.message.splitlines()
