"""What other pulleys would do in this drive: begun by a look at the pulley, kept, said in words and bars."""

from functools import partial
from typing import Any

import pytest

from triage.app.drive_known import known_of
from triage.app.job import Job
from triage.app.long_work import LongWork
from triage.app.tracing import stored, to_events, to_lines
from triage.drive.layout.placement import read_layout
from triage.drive.layout.shipped import layout_file
from triage.errors import CommandRefused, TriageError
from triage.present.pages.session_page import page_of
from triage.present.said.telling import told
from triage.present.steps.drive_facts import drive_facts
from triage.present.steps.other_pulleys import alike_lines, prediction_lines
from triage.present.typing import exchange as exchanging
from triage.present.typing.exchange import Exchange
from triage.record import events as e
from triage.record.layouts import Predicted, Predictions
from triage.session import commands as c
from triage.session.evolving import fold

row = partial(Predicted, lag=0.0, slip_mm=0.0, arm_mm=0.2, coast_s=0.0)
STOPS, COASTS = "rotor stops with the belt", "rotor coasts"
SLIPS = "belt slips while the engine slows"
PREDICTIONS = Predictions(
    fitted="decoupler",
    idle_rpm=750.0,
    from_rpm=2500.0,
    slowing_rpm_per_s=4000.0,
    rows=(
        row(pulley="solid", arm_mm=4.2, slip_mm=55.0, signs=("arm lively", SLIPS, STOPS)),
        row(pulley="isolator", signs=("arm steady", STOPS)),
        row(pulley="decoupler", coast_s=3.7, signs=("arm steady", COASTS)),
        row(pulley="decoupler", fault="seized", arm_mm=None, signs=("arm steady", STOPS)),
    ),
    left=("Left out: one-way-clutch pulley. No rim_inertia.",),
)


def test_what_shows_the_same_stands_together_and_the_fitted_one_is_named() -> None:
    said = alike_lines(PREDICTIONS)
    assert "idle (750 r/min), slowing from 2500 r/min by 4000 each second" in said[0]
    assert said[1:4] == [
        f"Arm lively, {SLIPS}, {STOPS}: solid.",
        f"Arm steady, {STOPS}: isolator; decoupler, seized.",
        f"Arm steady, {COASTS}: decoupler, as the layout has it.",
    ]
    assert said[-1].startswith("Left out")


def test_side_by_side_each_has_a_bar_as_long_as_its_figure_says() -> None:
    lines = prediction_lines(PREDICTIONS, 76)
    assert max(map(len, lines)) <= 76
    solid = next(line for line in lines if line.startswith("solid  "))
    assert solid.split() == ["solid", "4.2", "####", "55.0", "###", "0.0"]
    assert next(line for line in lines if line.startswith("decoupler, seized  ")).split()[2] == "-"
    # Where there is no room for bars the words stand alone.
    assert not any("#" in line for line in prediction_lines(PREDICTIONS, 40))


def with_layout(job: Job) -> None:
    layout = read_layout(layout_file("seven-pulleys"))
    job.do(c.UseLayout(at_ms=job.clock(), who="Ann", layout=layout, name="seven-pulleys", known=known_of(layout)))


def keep(job: Job) -> tuple[e.Event, ...]:
    return job.do(c.CompareDrive(at_ms=job.clock(), who="Ann", predictions=PREDICTIONS))


def test_it_is_kept_in_the_trace_said_on_the_page_and_beside_the_check(job: Job) -> None:
    with_layout(job)
    assert "isolator; decoupler, seized" in "\n".join(told(job.knowledge, keep(job)))
    read_back = to_events(to_lines(job.events, 1), stored(job.knowledge))
    assert fold(read_back).predictions == PREDICTIONS
    page = page_of(job.knowledge, job.events, "head")
    assert "Other pulleys and faults in this drive" in page
    assert "4.2 ####" in page
    assert f"Arm steady, {COASTS}: decoupler, as the layout has it." in drive_facts("pulley-type", job.state)
    with_layout(job)
    assert job.state.predictions is None


def test_without_a_layout_nothing_is_kept(job: Job) -> None:
    with pytest.raises(CommandRefused):
        keep(job)


def looked(exchange: Exchange, monkeypatch: pytest.MonkeyPatch, came: Any) -> tuple[str, ...]:
    """What is said to a look at the pulley's type, with work that comes to something at once."""

    def work(_progress: object) -> Any:
        if isinstance(came, Exception):
            raise came
        return came

    monkeypatch.setattr(exchanging, "others_asked", lambda _layout: LongWork(work))
    stamp: Any = {"at_ms": 0, "who": "Ann", "clock_ms": 0, "boot": 1}
    answered = e.CheckAnswered(**stamp, check="pulley-type", outcomes=("not-as-specified",), proving=False)
    return exchange._compare((answered,))


def heard(exchange: Exchange) -> str:
    for _ in range(200):
        if exchange._others is None or exchange._others[1].wait(0.05):
            break
    reply = exchange.pass_time()
    return "\n".join(reply.lines) if reply else ""


def test_a_look_at_the_pulley_has_it_worked_out_and_it_is_said_when_it_is_done(
    job: Job, monkeypatch: pytest.MonkeyPatch
) -> None:
    exchange = Exchange(job)
    assert looked(exchange, monkeypatch, PREDICTIONS) == ()
    with_layout(job)
    (line,) = looked(exchange, monkeypatch, PREDICTIONS)
    assert "what other pulleys would do" in line
    assert "isolator; decoupler, seized" in heard(exchange)
    assert job.state.predictions == PREDICTIONS
    assert looked(exchange, monkeypatch, PREDICTIONS) == ()


def test_what_cannot_be_worked_out_is_said_with_its_reason(job: Job, monkeypatch: pytest.MonkeyPatch) -> None:
    exchange = Exchange(job)
    with_layout(job)
    looked(exchange, monkeypatch, TriageError("The layout does not give tension."))
    assert "The layout does not give tension." in heard(exchange)
    assert job.state.predictions is None


def test_what_was_worked_out_for_another_layout_is_dropped(job: Job, monkeypatch: pytest.MonkeyPatch) -> None:
    exchange = Exchange(job)
    with_layout(job)
    looked(exchange, monkeypatch, PREDICTIONS)
    with_layout(job)
    assert heard(exchange) == ""
    assert job.state.predictions is None


def test_asked_for_by_word_it_is_kept_and_shown(job: Job) -> None:
    with_layout(job)
    exchange = Exchange(job)
    exchange.take("drive run")
    asked = exchange.take("other pulleys").work
    assert asked is not None
    done: LongWork[Any] = LongWork(lambda _: PREDICTIONS)
    done.wait(10)
    page = exchange.finished(done).page
    assert page is not None
    assert "isolator; decoupler, seized" in "\n".join(page(80))
    assert job.state.predictions == PREDICTIONS
