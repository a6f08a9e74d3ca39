"""A small version of tests/bench/kill_session.py."""

import importlib.util
import sys
from pathlib import Path


def test_nothing_acknowledged_is_lost_when_a_session_is_killed() -> None:
    script = Path(__file__).parent.parent / "bench" / "kill_session.py"
    spec = importlib.util.spec_from_file_location("kill_session", script)
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    sys.modules["kill_session"] = module
    spec.loader.exec_module(module)
    outcomes = module.kill_many(3, seed=7)
    assert max(outcome.acknowledged for outcome in outcomes) > 0
    assert all(outcome.kept >= outcome.acknowledged for outcome in outcomes)
