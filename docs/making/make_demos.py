"""Make the two demo sessions in transcripts_demo/ again, through the same words that a person types.

    python docs/making/make_demos.py [FOLDER]

Vehicles, people, readings and prices are invented. The clock is set, so that the same script writes the same traces.
"""

import shutil
import sys
from collections.abc import Iterator, Mapping
from datetime import UTC, datetime
from pathlib import Path

from hands import Lines, lines_for

from triage.app.job import Job, start
from triage.app.opening import Opening
from triage.app.respondent import Respondent
from triage.app.shop.shop_file import Shop, accuracies, read_shop
from triage.knowledge.loading import load_knowledge
from triage.knowledge.shipped import trees_folder
from triage.present.commands import word_for
from triage.present.typing.interpreting import Typing, interpret
from triage.session.commands import Command
from triage.store import TraceWriter

MOST_STEPS = 400
ROOT = Path(__file__).resolve().parents[2]
PRICES = ROOT / "docs" / "shop-example.yaml"


class SetClock:
    """A clock that moves twenty seconds for each command."""

    def __init__(self, begins: datetime) -> None:
        """Set the clock."""
        self._now_ms = int(begins.timestamp() * 1000)

    def __call__(self) -> int:
        """Milliseconds since 1970-01-01 UTC."""
        self._now_ms += 20_000
        return self._now_ms


def say(job: Job, *lines: str) -> None:
    """Type lines for the step on screen and do what comes of them."""
    result = interpret(Typing(job.knowledge, job.state, job.clock(), job.who), lines)
    if not isinstance(result, Command):
        raise SystemExit(f"No command came of {lines} at {job.state.step}: {result}")
    job.do(result)


class AtTheKey(Respondent):
    """Whoever is at the vehicle of a demo."""

    names = "Mira at the key"


def usual(job: Job) -> Lines:
    """What is typed where the story has nothing special to say."""
    return lines_for(job.knowledge, AtTheKey().answer(job.knowledge, job.state, job.state.last_ms), job.state.step)


def play(job: Job, story: Mapping[str, Iterator[Lines]]) -> None:
    """Go through a session: the story's lines where it has some for a step, the usual ones otherwise."""
    for _ in range(MOST_STEPS):
        step = job.state.step
        if step.kind == "closed":
            return
        key = step.check or step.fact or step.kind
        if step.kind in ("confirm", "held"):
            key = step.confirmation if step.kind == "confirm" else "held"
        lines = next(story.get(key, iter(())), None)
        if lines and step.kind == "round" and word_for(lines[0]) is None:
            lines = (step.check, *lines)
        say(job, *(lines or usual(job)))
    raise SystemExit("The session does not end.")


def begin(folder: Path, name: str, opening: Opening, begins: datetime) -> Job:
    """Start a demo session in a trace of its own."""
    knowledge = load_knowledge(trees_folder())
    (folder / f"{name}.jsonl").unlink(missing_ok=True)
    writer = TraceWriter.create(folder, name)
    instruments, prices = accuracies(knowledge, Shop()), read_shop(PRICES, knowledge).repair.in_use()
    return start(knowledge, opening, instruments, "", SetClock(begins), writer, prices)


def worn_bearing(folder: Path) -> None:
    """A decoupler whose bearing is worn: found, renewed, proved and signed off."""
    opening = Opening("shutdown-buzz", "demo-1", "Ana", "growls for a good five seconds when I switch it off")
    job = begin(folder, "worn-bearing", opening, datetime(2026, 3, 2, 8, 0, tzinfo=UTC))
    story: dict[str, Iterator[Lines]] = {
        "pulley": iter([("decoupler",)]),
        "odometer": iter([("95k miles",)]),
        "cylinders": iter([("4",)]),
        "when-heard": iter([("note", "Invented vehicle, made for the demo"), ("after-shutdown",)]),
        "shutdown-listen": iter([("0.4 s",)]),
        "spin-decoupler-ring": iter([("rough",)]),
        "conclusion": iter([("part age", "belt", "140 000 km")]),
    }
    play(job, story)
    job.leave()


def binding_clutch(folder: Path) -> None:
    """A clutch that binds, with a refused confirmation, a reading too close to call, a correction and a hand-over."""
    opening = Opening("shutdown-buzz", "demo-2", "Ana", "short buzz after parking, worse when hot")
    job = begin(folder, "binding-clutch", opening, datetime(2026, 3, 9, 13, 0, tzinfo=UTC))
    story: dict[str, Iterator[Lines]] = {
        "pulley": iter([("one-way-clutch",)]),
        "odometer": iter([("152 000 km",)]),
        "cylinders": iter([("unknown",)]),
        "exhaust-extraction": iter([("n", "the hose is at the other bay")]),
        "held": iter([("again",)]),
        "belt-condition": iter([("worn",)]),
        "belt-fit": iter([("amend", "5", "sound"), ("correct",)]),
        "shutdown-listen": iter([("3 s",), ("0.3 s",)]),
        "clutch-drive-feel": iter([("hand over", "Bo"), ("holds",)]),
        "paused": iter([("Bo",)]),
        "overrun-torque": iter([("13.2 lbf·in",), ("14.4 lbf·in",), ("6 lbf·in",)]),
    }
    play(job, story)
    job.leave()


def main() -> None:
    """Write both demos."""
    folder = Path(sys.argv[1]) if len(sys.argv) > 1 else ROOT / "transcripts_demo"
    shutil.rmtree(folder / "knowledge", ignore_errors=True)
    for make in (worn_bearing, binding_clutch):
        make(folder)


if __name__ == "__main__":
    main()
