"""A few screens of the small test world as text: a difference is looked at, and kept with KEEP_SCREENS=1."""

import os
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from tests.bench.walk_worlds import small
from triage.app.job import Job
from triage.app.respondent import Asked, Respondent
from triage.knowledge.models import Check, Knowledge
from triage.record.steps import Step
from triage.session import commands as c
from triage.tui.session.session_screen import SessionScreen

KEPT = Path(__file__).parent / "screens"
SIZES = ((80, 24), (60, 20))
STEPS: dict[str, Callable[[Step], bool]] = {
    "gate": lambda step: step.kind == "gate",
    "fact": lambda step: step.kind == "fact",
    "question": lambda step: step.kind == "check",
    "interlock": lambda step: step.kind == "confirm",
    "look": lambda step: step.kind == "check" and step.state == "stopped",
    "reading": lambda step: step.kind == "check" and step.check == "overrun-torque",
    "conclusion": lambda step: step.kind == "conclusion",
    "round": lambda step: step.kind == "round" and step.state == "belt-off",
    "round beside the engine": lambda step: step.kind == "round" and step.state == "running",
}


class Buzzing(Respondent):
    """Somebody whose clutch binds."""

    def found(self, asked: Asked, check: Check) -> c.Command:
        told = {"listen": "buzz", "overrun-torque": "stiff"}.get(check.id, check.normal(asked.state.pulley))
        return c.Answer(**asked.given, check=check.id, outcomes=(told,))


def lived(knowledge: Knowledge, until: Callable[[Step], bool], symptom: str = "buzz") -> Job:
    """A session of the small world that stands at a step; nothing of it is saved, and nobody advises."""
    job = Job(knowledge, None, lambda: 1_772_438_400_000, "Ana")
    job.do(c.Start(at_ms=job.clock(), who="Ana", knowledge=knowledge, symptom=symptom, job="J-1", words="It buzzes"))
    for _ in range(200):
        if until(job.state.step):
            return job
        command = Buzzing().answer(knowledge, job.state, job.clock())
        assert command is not None
        job.do(command)
    raise AssertionError("the step is never reached")


@pytest.mark.parametrize("size", SIZES, ids=lambda size: "x".join(map(str, size)))
async def test_the_screens_of_the_small_world_are_as_they_were(bench: Any, size: tuple[int, int]) -> None:
    told = []
    async with bench.app().run_test(size=size) as pilot:
        await bench.started(pilot)
        for name, until in STEPS.items():
            await pilot.app.push_screen(
                SessionScreen(lived(small(), until, "buzz-round" if "round" in name else "buzz"))
            )
            await bench.settle(pilot)
            rows = "\n".join(row.rstrip() for row in bench.painted(pilot.app).splitlines())
            told.append(f"===== {name}\n{rows}\n")
            pilot.app.pop_screen()
    kept = KEPT / f"{size[0]}x{size[1]}.txt"
    if "KEEP_SCREENS" in os.environ:
        kept.parent.mkdir(exist_ok=True)
        kept.write_text("".join(told), encoding="utf-8", newline="\n")
    assert "".join(told) == kept.read_text(encoding="utf-8")
