"""Well-chained traces that say what cannot be: the full screen says so and goes on."""

from pathlib import Path
from typing import Any

import pytest

from tests.bench import odd_traces
from triage.knowledge.loading import load_knowledge

SMALL = Path(__file__).parents[1] / "session" / "small"


@pytest.mark.parametrize("seed", range(13))
async def test_an_odd_trace_is_read_or_gone_on_with_or_said_to_be_odd(bench: Any, seed: int) -> None:
    lines = odd_traces.rich_lines(load_knowledge(SMALL), seed)
    for what, odd in odd_traces.odd_traces(lines, seed, 2):
        odd_traces.sealed(bench.folder / "odd.jsonl", odd)
        app = bench.app()
        async with app.run_test(size=(100, 40)) as pilot:
            await bench.started(pilot)
            await bench.type(pilot, "3", "1", "2")
            assert app.is_running, what
            await pilot.press("escape")
            await bench.settle(pilot)
        app = bench.app()
        async with app.run_test(size=(100, 40)) as pilot:
            await bench.started(pilot)
            await bench.type(pilot, "2", "Bo", "path", "likely")
            assert app.is_running, what
            await bench.type(pilot, "leave")
        assert app.failure is None, what
