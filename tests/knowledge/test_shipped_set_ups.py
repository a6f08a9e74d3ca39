"""What hands do for a running engine stands in set-ups, and nowhere else in the shipped checks."""

import re
from functools import cache

from triage.knowledge.loading import load_knowledge
from triage.knowledge.models import Check, Knowledge
from triage.knowledge.shipped import trees_folder

BY_HAND = re.compile(r"engine (off|stands)|\b(clip|clamp|tie|fix|stick|chalk|wet|fit|take off|tape)\b", re.IGNORECASE)


@cache
def shipped() -> Knowledge:
    return load_knowledge(trees_folder())


def running() -> list[Check]:
    states = shipped().states
    return [check for check in shipped().checks.values() if check.state in states and engine(check.state) == "running"]


def engine(state: str) -> str:
    return shipped().states[state].engine


def test_no_step_beside_the_running_engine_asks_hands_to_fit_anything() -> None:
    assert [step for check in running() for step in check.steps if BY_HAND.search(step)] == []


def test_every_set_up_says_what_to_do_and_what_can_hurt() -> None:
    set_ups = {check.id: check.set_up for check in running() if check.set_up}
    assert set_ups["charging-circuit"].state == "isolated", "clips at the alternator's terminal"
    assert set_ups["belt-off-run"].state == "belt-off"
    assert all(set_up.steps and engine(set_up.state) == "stopped" for set_up in set_ups.values())
    assert [check for check, set_up in set_ups.items() if not set_up.hazards] == []
