"""Exercises over weeks: what a record tells, how they go, and what the next vehicle trains."""

from datetime import date, timedelta
from typing import Any

import pytest

from tests.bench import practise_weeks
from triage.knowledge.models import Knowledge
from triage.practice.weeks.overview import JobSeen, overview_of
from triage.practice.weeks.progress import hardest, trend_of, weeks_of
from triage.practice.weeks.training import boxes, need, worth_training
from triage.practice.weeks.went import Went, went_of

MONDAY = date(2026, 3, 2)
LINES: tuple[dict[str, Any], ...] = (
    {"kind": "learner", "who": "Ada", "at": "2026-03-04T10:00:00+00:00"},
    {"kind": "begun", "symptom": "belt-chirp", "level": 2},
    {"kind": "concluded", "causes": ["idler-bearing-worn"]},
    {
        "kind": "debriefed",
        "made": ["tensioner-weak"],
        "lost_min": {"check": 4.0, "judgement": 6.5},
        "safety": ["drawn-in"],
        "hints_min": 5.0,
        "brier": 0.2,
        "judged": 12,
        "misread": ["belt-condition"],
    },
)


def went(day: int = 0, who: str = "Ada", **more: Any) -> Went:
    told: dict[str, Any] = {"lost_min": {"check": 10.0}, "judged": 20, **more}
    return Went(who, MONDAY + timedelta(days=day), "belt-chirp", 1, **told)


def test_a_record_tells_how_it_went() -> None:
    one = went_of(LINES)
    assert one is not None
    assert (one.who, one.day, one.total_min) == ("Ada", date(2026, 3, 4), 10.5)
    assert (one.faults, one.concluded) == (("tensioner-weak",), ("idler-bearing-worn",))
    assert one.misread == ("belt-condition",)


def test_the_first_debrief_counts_and_not_what_came_after_the_truth_was_told() -> None:
    again = went_of((*LINES, {"kind": "concluded", "causes": ["tensioner-weak"]}, {**LINES[-1], "judged": 99}))
    assert again == went_of(LINES)


@pytest.mark.parametrize("left_out", range(4))
def test_an_exercise_that_was_left_or_is_of_another_shape_tells_nothing(left_out: int) -> None:
    kept = [line for number, line in enumerate(LINES) if number != left_out]
    assert (went_of(kept) is None) == (LINES[left_out]["kind"] != "concluded")
    assert went_of([*LINES[:3], {"kind": "debriefed", "made": 3}]) is None


def test_weeks_are_those_of_the_calendar() -> None:
    first, second = weeks_of([went(0, misread=("a", "b")), went(6), went(7, safety=("drawn-in",), brier=0.5)])
    assert (first.number + 1, first.exercises, second.exercises) == (second.number, 2, 1)
    assert (first.misread, second.safety, first.brier, second.brier) == (2 / 40, 1.0, None, 0.5)


def test_becoming_better_is_said_where_it_is_hardly_chance() -> None:
    poor, good = [went(n, misread=("a",) * 8) for n in range(20)], [went(20 + n, misread=("a",)) for n in range(10)]
    assert trend_of([*poor, *good]) == "better"
    assert trend_of([*good, *poor]) == "worse"
    assert trend_of(poor) == "not told apart"
    assert trend_of(good) == "too few"


def test_a_change_is_seen_and_none_is_not_made_up() -> None:
    assert practise_weeks.seen_better(200, 5, 0.2, 0.1) >= 0.8
    assert practise_weeks.seen_better(200, 5, 0.2, 0.2) <= 0.1


def test_what_goes_wrong_most_comes_first() -> None:
    found = hardest([went(misread=("b", "a", "a"), faults=("x", "y"), concluded=("y",)), went(misread=("a",))])
    assert found["misread"] == (("a", 3), ("b", 1))
    assert found["not named"] == (("x", 1),)
    assert found["order"] == (("belt-chirp", 20),)


def test_what_was_got_wrong_comes_soon_and_what_was_right_later_and_later() -> None:
    wrong = went(faults=("idler-bearing-worn",))
    right = [went(day, faults=("tensioner-weak",), concluded=("tensioner-weak",)) for day in (0, 1, 4)]
    lying = boxes([wrong, *right])
    days = {day: need(lying, "tensioner-weak", MONDAY + timedelta(days=4 + day)) for day in (0, 6, 7, 60)}
    assert days == {0: 0.0, 6: 0.0, 7: 1.0, 60: 3.0}
    assert need(lying, "idler-bearing-worn", MONDAY) == 1.0


def test_the_next_vehicle_is_worth_what_customers_bring(knowledge: Knowledge) -> None:
    base = {one.commonness: one.id for one in knowledge.causes.values()}
    worth = {word: worth_training(knowledge, {}, (fault,), MONDAY) for word, fault in base.items()}
    assert worth["common"] > worth["occasional"] > worth["uncommon"] > worth["rare"] > 0


def test_chosen_vehicles_leave_less_to_learn_in_a_simulation() -> None:
    chosen, by_chance, _ = practise_weeks.beats_random(200, 1)
    assert chosen < by_chance


def test_the_overview_masks_names_and_keeps_what_wants_something() -> None:
    jobs = [
        JobSeen("a", "J-1", "belt-chirp", MONDAY, "closed", "proved-gone"),
        JobSeen("b", "J-1", "belt-chirp", MONDAY + timedelta(days=9), "open", ""),
        JobSeen("c", "J-2", "belt-chirp", MONDAY, "paused", "not-provable"),
        JobSeen("d", "J-3", "belt-chirp", MONDAY, "closed", ""),
    ]
    seen = overview_of([went(), went(who="Bo")], jobs, masked=True)
    assert [one.who for one in seen.learners] == ["learner 1", "learner 2"]
    assert [(one.session, one.comeback) for one in seen.jobs] == [("c", False), ("b", True)]
    assert seen.closed == 2
    since = overview_of([went(), went(8)], jobs, MONDAY + timedelta(days=5))
    assert ([one.exercises for one in since.learners], [one.session for one in since.jobs]) == ([1], ["b"])
