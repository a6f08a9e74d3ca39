"""The session's own route where its tree ends undecided for want of a check, and grown routes of recorded cases."""

import os
from functools import cache
from typing import Any

import pytest

from triage.app.advising.own_route import Planner, planned
from triage.app.cases import Case, Recorded, read_cases, walk_case
from triage.app.job import Job
from triage.app.respondent import Respondent
from triage.app.shop.shop_file import Shop, accuracies
from triage.errors import CommandRefused
from triage.knowledge.loading import load_knowledge
from triage.knowledge.models import Knowledge
from triage.knowledge.shipped import trees_folder
from triage.present.pages.any_moment import path_page
from triage.present.pages.session_page import said_lines
from triage.present.steps.views import step_view
from triage.present.typing.interpreting import Typing, interpret
from triage.record import events as e
from triage.session import commands as c
from triage.session.evolving import fold
from triage.session.own_route import one_more


@cache
def shipped() -> Knowledge:
    return load_knowledge(trees_folder())


def walked(planner: Planner | None = None, knowledge: Knowledge | None = None, **case: object) -> Job:
    told = Case.model_validate({"id": "own", "symptom": "shutdown-buzz", **case})
    return walk_case(knowledge or shipped(), told, accuracies(shipped(), Shop()), planner)[1]


LEAKING: dict[str, Any] = {
    "vehicle": {"specified_pulley": "one-way-clutch"},
    "findings": {"recent-work": "alternator-replaced", "fluid-leak": "leak", "clutch-by-hand": "cannot-tell"},
}
"""The engine must not run, and the tree ends undecided after what it tries by hand."""


@cache
def left_undecided() -> Job:
    # One by one: in a round everything that a hand can try would have been tried.
    apart = shipped().model_copy(update={"rounds": {}})
    return walked(knowledge=apart, **LEAKING, missing_tools=["low-range-torque-tool"])


def test_a_tree_that_ends_undecided_for_want_of_a_tool_is_left_for_a_check_that_pays() -> None:
    events = left_undecided().events
    kinds = [event.kind for event in events]
    taken = kinds.index("own-route-taken")
    assert kinds[:taken].count("conclusion-reached") == 1
    # What only opens the way to it saves nothing itself.
    own = next(event for event in events if isinstance(event, e.OwnRouteTaken) and event.saves_min > 0.0)
    assert left_undecided().state.findings[own.check].outcomes


def test_the_route_is_recorded_so_that_a_replay_computes_nothing() -> None:
    job = left_undecided()
    assert fold(job.events) == job.state


def test_the_page_says_that_the_route_is_not_the_trees() -> None:
    told = [line for event in left_undecided().events for line in said_lines(shipped(), event)]
    assert any("Own route, not the tree's: " in line and "min with the way there" in line for line in told)


def test_the_path_marks_what_was_the_sessions_own_choice() -> None:
    marked = [line for line in path_page(shipped(), left_undecided().state) if "own route" in line]
    assert len(marked) == len(left_undecided().state.own)


def test_where_every_check_could_be_made_the_trees_word_stands() -> None:
    assert not walked(**LEAKING).state.own


def test_the_check_that_pays_at_a_conclusion_is_made_from_there_and_weighed_anew() -> None:
    job = walked(vehicle={"specified_pulley": "decoupler"}, findings={"mounting": "loose-or-bent"})
    before = job.state
    one = one_more(before)
    assert one
    choices = [choice.id for choice in step_view(shipped(), before).choices]
    assert choices == ["repair", "close", "one-more"]
    going_on = interpret(Typing(shipped(), before, before.last_ms, Recorded.who), ("3",))
    assert isinstance(going_on, c.TakeOwnRoute)
    job.do(going_on)
    for _ in range(40):
        step = job.state.step
        if step.kind in ("check", "result", "conclusion"):
            break
        if step.kind == "switch-off":
            job.do(c.EndRun(at_ms=job.state.last_ms, who=Recorded.who))
            continue
        command = Respondent().answer(shipped(), job.state, job.state.last_ms)
        assert command is not None
        job.do(command)
    assert (job.state.step.kind in ("check", "result"), job.state.step.check) == (True, one.check)
    job.do(c.CannotDo(at_ms=job.state.last_ms, who=Recorded.who, check=one.check, reason="no light"))
    assert job.state.step.kind == "conclusion"
    assert job.state.concluded == before.concluded
    now = one_more(job.state)
    assert now is None or now.check != one.check
    assert job.state.fresh


def test_a_check_that_the_order_of_the_tree_forbids_is_refused() -> None:
    job = walked(vehicle={"specified_pulley": "solid"}, findings={"belt-condition": "damaged"})
    state = job.state
    with pytest.raises(CommandRefused):
        job.do(c.TakeOwnRoute(at_ms=state.last_ms, who="x", check="shutdown-listen", minutes=1.0, saves_min=1.0))
    assert job.state.own == state.own


def test_a_grown_route_finds_a_rough_ring_behind_the_same_interlocks() -> None:
    job = walked(Planner(), vehicle={"specified_pulley": "decoupler"}, findings={"spin-decoupler-ring": "rough"})
    assert job.state.concluded
    assert job.state.concluded.own
    assert job.state.concluded.causes == ("decoupler-bearing-worn",)
    entered = [event.state for event in job.events if isinstance(event, e.StateEntered)]
    assert "isolated-belt-off" in entered


def test_places_that_were_planned_are_not_planned_again() -> None:
    planner = Planner()
    vehicle = {"specified_pulley": "solid"}
    first = walked(planner, vehicle=vehicle, findings={"spin-alternator": "rough"})
    again = walked(planner, vehicle=vehicle, findings={"spin-alternator": "rough"})
    assert again.events == first.events


@pytest.mark.parametrize("symptom", ["belt-squeal", "shutdown-buzz", "belt-thrown"])
def test_no_grown_route_runs_the_engine_before_the_looks_at_the_belt(symptom: str) -> None:
    events = walked(Planner(), symptom=symptom, vehicle={"specified_pulley": "solid"}).events
    seen: list[str] = []
    for event in events:
        if isinstance(event, e.StateEntered) and event.engine == "running":
            assert {"belt-condition", "belt-fit", "fluid-leak", "mounting"} <= set(seen)
            assert symptom != "belt-thrown"
        if isinstance(event, e.CheckAnswered):
            seen.append(event.check)
    assert seen


@pytest.mark.parametrize("symptom", list(shipped().trees))
def test_a_recorded_case_of_each_symptom_agrees_on_a_grown_route(symptom: str) -> None:
    """One with a tool missing where there is one; `triage cases trees/cases/*.yaml --route grown` walks all of them."""
    cases = read_cases(trees_folder() / "cases" / f"{symptom}.yaml", shipped())
    case = next((case for case in cases if case.missing_tools and case.cause), cases[0])
    came_of_it, job = walk_case(shipped(), case, accuracies(shipped(), Shop()), Planner())
    assert came_of_it.agrees
    assert job.state.concluded
    assert job.state.concluded.own


def test_worth_and_own_route_never_disagree_about_going_on() -> None:
    """From where recorded cases conclude: what the page says and what the session would do. All: EVERY_CASE=1."""
    said = []
    for file in sorted((trees_folder() / "cases").glob("*.yaml")):
        for case in read_cases(file, shipped())[:: 1 if os.environ.get("EVERY_CASE") else 20]:
            state = walk_case(shipped(), case, accuracies(shipped(), Shop()))[1].state
            if state.concluded and state.concluded.causes and state.counsel and state.counsel.likely:
                route = planned(shipped(), state, 0)
                said.append((case.id, state.counsel.pays, isinstance(route, c.TakeOwnRoute)))
    assert len(said) > 15
    assert not [one for one in said if one[1] != one[2]]
