"""Random drives end in figures or in a sentence; five hundred of them: python tests/bench/walk_motion.py."""

from tests.bench.walk_motion import EVENTS, walk
from tests.sizes import few_or_all


def test_any_drive_gives_figures_or_a_sentence() -> None:
    ends = walk(few_or_all(12, 500), 7, EVENTS[: few_or_all(1, 5)])
    assert ends["figures"]
    assert len(ends) > 1
