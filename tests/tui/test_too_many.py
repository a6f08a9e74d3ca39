"""Where so much was found that it cannot be weighed within a moment, the session goes on and says so."""

from typing import Any

import pytest

from triage.errors import TooManyAtOnceError
from triage.record.steps import Step

HANG = "40 abnormal results hang together"


@pytest.fixture(autouse=True)
def too_many(monkeypatch: pytest.MonkeyPatch) -> None:
    """Nothing can be weighed."""

    def refuse(*_: object) -> None:
        raise TooManyAtOnceError(f"{HANG}.", "They are kept.")

    monkeypatch.setattr("triage.reasoning.inference.making.joint", refuse)


def is_check(step: Step) -> bool:
    return step.kind == "check" and step.state == "stopped"


async def test_the_full_screen_keeps_the_answer_and_says_what_is_missing(bench: Any) -> None:
    job = bench.lived_to(is_check, "shutdown-buzz")
    async with bench.app().run_test(size=(120, 40)) as pilot:
        await bench.started(pilot)
        await bench.enter(pilot, job)
        before = len(bench.job.state.findings)
        await bench.type(pilot, "1")
        while bench.job.state.step.kind == "fact":
            await bench.type(pilot, "unknown")
        assert len(bench.job.state.findings) == before + 1
        assert HANG in str(pilot.app.screen.query_one("#side-text").content)
        for word in ("likely", "worth", "tell"):
            await bench.type(pilot, word)
            assert "together. They are kept." in said(bench, pilot.app), word


def said(bench: Any, app: Any) -> str:
    """What stands left of the column, without frames and folds."""
    drawn = dict.fromkeys(map(ord, "│║┃╔╗╚╝═╭╮╰╯─┏┓┗┛━▁▂▃▄▅▆▇█"), " ")
    left = (line[:80] for line in bench.painted(app).splitlines())
    return " ".join(" ".join(left).translate(drawn).split())
