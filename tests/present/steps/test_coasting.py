"""Coast seconds, drag and inertia of the alternator's rotor as one law, over the findings of a session."""

from dataclasses import replace

import pytest

from triage.app.job import Job
from triage.present.pages.any_moment import path_page
from triage.present.steps.check_facts import check_facts
from triage.present.steps.coasting import coast_contradictions
from triage.present.typing.interpreting import Typing, interpret
from triage.record.readings import Verdict
from triage.session import commands as c
from triage.session.state import Finding, State


def read(value: float, uncertainty: float = 0.0) -> Verdict:
    return Verdict(
        value=value, uncertainty=uncertainty, probabilities=(1.0,), margin=0.0, limit=0.0, limit_source="", settled=True
    )


def after(state: State, **found: Verdict | str) -> State:
    """A state in which these checks came out so: a reading, or an outcome by its id."""
    ids = {name: name.replace("_", "-") for name in found}
    findings = {
        ids[name]: Finding(
            check=ids[name],
            outcomes=(one,) if isinstance(one, str) else ("read",),
            at_ms=0,
            who="Ana",
            verdict=None if isinstance(one, str) else one,
        )
        for name, one in found.items()
    }
    return replace(state, findings={**state.findings, **findings})


@pytest.fixture
def with_layout(job: Job) -> State:
    command = interpret(Typing(job.knowledge, job.state, job.clock(), job.who), ("layout", "four-cylinder-full"))
    assert isinstance(command, c.Command)
    job.do(command)
    return job.state


def test_noise_that_lasts_longer_than_the_measured_drag_lets_a_rotor_turn_is_said(with_layout: State) -> None:
    # 0.0031 kg·m² · 2.759 · 2500 r/min · 2π/60 / 1.02 N·m = 2.2 s at most.
    said = coast_contradictions(after(with_layout, shutdown_listen=read(7.0), overrun_torque=read(1.02)))
    assert len(said) == 1
    assert "needs a drag under 0.32 N·m with a rotor of 0.0031 kg·m² (the layout's)" in said[0]
    assert coast_contradictions(after(with_layout, shutdown_listen=read(7.0), overrun_torque=read(0.2))) == ()


def test_what_the_uncertainties_leave_open_is_no_contradiction(with_layout: State) -> None:
    found = {"shutdown_listen": read(2.4, 0.3), "overrun_torque": read(1.02, 0.05)}
    assert coast_contradictions(after(with_layout, **found)) == ()


def test_a_drag_just_inside_free_may_well_stop_a_rotor_with_its_belt(with_layout: State) -> None:
    assert coast_contradictions(after(with_layout, coast_down="stops-at-once", overrun_torque=read(1.02))) == ()


def test_a_rotor_seen_to_stop_at_once_contradicts_a_drag_that_would_let_it_run_on(with_layout: State) -> None:
    said = coast_contradictions(after(with_layout, coast_down="stops-at-once", overrun_torque=read(0.1)))
    assert len(said) == 1
    assert "would let it run on" in said[0]
    assert coast_contradictions(after(with_layout, coast_down="coasts", overrun_torque=read(0.1))) == ()


def test_a_rotor_that_stands_makes_no_noise(job: Job) -> None:
    said = coast_contradictions(after(job.state, coast_down="stops-at-once", shutdown_listen=read(6.0)))
    assert len(said) == 1
    assert "A rotor that stands makes none" in said[0]
    assert (
        path_page(job.knowledge, after(job.state, coast_down="stops-at-once", shutdown_listen=read(6.0)))[-1] == said[0]
    )


def test_without_a_layout_the_widest_rotor_from_memory_is_taken(job: Job) -> None:
    # 0.005 kg·m² · 3.5 · 2500 r/min · 2π/60 / 1.02 N·m = 4.5 s.
    assert coast_contradictions(after(job.state, shutdown_listen=read(4.0), overrun_torque=read(1.02))) == ()
    said = coast_contradictions(after(job.state, shutdown_listen=read(7.0), overrun_torque=read(1.02)))
    assert "from memory, the layout gives none" in said[0]


def test_the_checks_of_one_law_say_what_the_layouts_rotor_would_do(job: Job, with_layout: State) -> None:
    said = check_facts(job.knowledge, with_layout, job.knowledge.checks["coast-down"])
    assert any("A free rotor of 0.0031 kg·m²" in line for line in said)
    found = after(with_layout, shutdown_listen=read(7.0))
    found = after(found, overrun_torque=read(1.02))
    assert any(
        "contradict" in line for line in check_facts(job.knowledge, found, job.knowledge.checks["overrun-torque"])
    )
