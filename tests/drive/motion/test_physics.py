"""Random drives beside the knowledge: what is drawn, what a share is called, and what is set apart."""

import random
from collections import Counter

import make_physics as physics
import pytest

from triage.drive.layout.assembly import assemble
from triage.drive.motion.machine import Variant
from triage.knowledge.models import Knowledge

QUIET = frozenset({"arm steady", "rotor coasts"})


@pytest.mark.parametrize(
    ("share", "word"),
    [
        (0.0, "none"),
        (0.01, "none"),
        (0.06, "seldom"),
        (0.25, "sometimes"),
        (0.5, "often"),
        (0.75, "usually"),
        (0.97, "nearly-always"),
        (1.0, "nearly-always"),
    ],
)
def test_a_share_has_the_nearest_word(share: float, word: str) -> None:
    assert physics.worded(share) == word


def test_drives_are_drawn_within_their_ranges_the_same_for_the_same_seed() -> None:
    for seed in range(6):
        layout, figure = physics.drawn(random.Random(seed))
        assert (layout, figure) == physics.drawn(random.Random(seed))
        assert all(low <= figure[name] <= high for name, (low, high, _) in physics.RANGES.items())
        drive = assemble(layout)
        assert drive.friction == pytest.approx(figure["friction"], rel=0.01)
        assert drive.arm_friction_nm == pytest.approx(figure["arm friction"], rel=0.01)


def drives(**shown: frozenset[str]) -> list[dict[Variant, frozenset[str]]]:
    """Four drives in which these faults of a decoupler show more than others."""
    named = {Variant("decoupler", fault.replace("_", "-")): words for fault, words in shown.items()}
    quiet = dict.fromkeys((*physics.ALL, physics.WORN), QUIET)
    return [{**quiet, **named}] * 4


def test_what_lies_more_than_one_step_apart_is_set_apart_and_said(knowledge: Knowledge) -> None:
    slips = QUIET | {"belt slips while the engine slows"}
    tried = drives(slipping=slips)
    rows = {(row.cause, row.sign, row.level): row for row in physics.rows(knowledge, tried)}
    row = rows["decoupler-clutch-slipping", "slips-when-slowing", "present"]
    assert (row.share, row.known, row.apart) == (1.0, "seldom", 4)
    page = physics.page(knowledge, tried, Counter())
    apart = page.split("## More than one step apart")[1]
    assert (
        "`decoupler-clutch-slipping` → `slips-when-slowing` present: physics nearly-always, knowledge seldom. Open."
        in apart
    )


def test_what_a_drive_shows_without_the_cause_does_not_count_for_it(knowledge: Knowledge) -> None:
    flutters = frozenset({"arm flutters", "rotor stops with the belt"})
    (one, *_) = drives()
    one = {**one, physics.SOLID: flutters, Variant("solid", "no-damping"): flutters}
    rows = {(row.cause, row.sign, row.level): row for row in physics.rows(knowledge, [one])}
    assert rows["tensioner-damping-worn", "arm-swing", "fluttering"].share == 0.0
    assert rows["pulley-type-wrong", "arm-swing", "fluttering"].share == pytest.approx(1 / 3)
