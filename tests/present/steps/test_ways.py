"""A reading that can be made in more than one way, as lines are typed at the shipped knowledge."""

from dataclasses import replace
from itertools import count
from pathlib import Path

import pytest

from triage.app.cases import Case, Recorded
from triage.app.job import Job, start
from triage.app.opening import Opening
from triage.app.shop.shop_file import Shop, accuracies
from triage.app.tracing import stored, to_events, to_lines
from triage.drive.layout.shipped import layout_file
from triage.errors import CommandRefused, QuantityRefused, QuantityUnclear
from triage.knowledge.models import Knowledge
from triage.present.pages.any_moment import sources_page
from triage.present.pages.session_page import page_of
from triage.present.said.telling import told
from triage.present.steps.check_facts import check_facts
from triage.present.steps.views import step_view
from triage.present.text import view_lines
from triage.present.typing.interpreting import Typing, interpret
from triage.present.typing.reading import outcomes_or_reading, way_meant
from triage.present.typing.results import Ask, Result
from triage.record.events import ReadingTaken
from triage.record.readings import TypedPart
from triage.session import commands as c
from triage.session.evolving import fold

CASE = Case(id="x", symptom="belt-squeal")


def at(knowledge: Knowledge, check: str) -> Job:
    """A session at the question of a check."""
    times = count(0, 10)
    opening = Opening(symptom=CASE.symptom, job="j", who=Recorded.who)
    job = start(knowledge, opening, accuracies(knowledge, Shop()), "", lambda: next(times), None)
    while job.state.step.check != check or job.state.step.kind != "check":
        command = Recorded(CASE).answer(knowledge, job.state, job.clock())
        assert command is not None
        job.do(command)
    return job


@pytest.fixture
def job(knowledge: Knowledge) -> Job:
    return at(knowledge, "span-tension")


def typed(job: Job, *lines: str) -> Result:
    return interpret(Typing(job.knowledge, job.state, job.clock(), job.who), lines)


def asked(job: Job, *lines: str) -> str:
    result = typed(job, *lines)
    assert isinstance(result, Ask)
    return result.question


def done(job: Job, *lines: str) -> str:
    command = typed(job, *lines)
    assert isinstance(command, c.Command)
    return "\n".join(told(job.knowledge, job.do(command)))


def taken(job: Job) -> ReadingTaken:
    return next(event for event in reversed(job.events) if isinstance(event, ReadingTaken))


def use(job: Job, layout: str) -> None:
    done(job, "layout", layout)


def test_the_step_says_what_can_be_typed_and_how_far_a_note_is_to_be_trusted(job: Job) -> None:
    view = "\n".join(view_lines(step_view(job.knowledge, job.state), 200))
    assert "- Force for each rib (N)\n" in view
    assert "- Note of the plucked span (Hz), then Length of that free span; Mass of the belt" in view
    assert "a short span reads high" in view
    sources = "\n".join(sources_page(job.knowledge, job.state))
    assert "T per rib = 4·m·L²·f² / z (Common practice" in sources
    assert "Force gauge ±2 % of the reading" in sources
    assert "Ruler or fixed scale with a pointer ±1 mm" in sources


def test_a_force_is_the_reading(job: Job) -> None:
    assert "Tight enough" in done(job, "90 N")
    assert taken(job).way == ""
    assert [part.part for part in taken(job).parts] == ["force"]


def test_a_note_asks_for_what_it_takes_and_comes_to_the_force_of_one_rib(job: Job) -> None:
    lines = ["71 Hz", "340 mm", "0.105 kg/m ± 5 %", "6"]
    questions = [asked(job, *lines[:number]) for number in (1, 2, 3)]
    assert questions[0] == "71 Hz. Length of that free span"
    assert "Mass of the belt" in questions[1]
    assert "Number of ribs" in questions[2]
    said = done(job, *lines)
    # 4·0.105·(0.34·71)²/6 = 40.8 N.
    assert "Too low: 40.8 N" in said
    assert "a slack belt may pass for tight" in said
    event = taken(job)
    assert (event.way, event.outcome) == ("note", "low")
    assert [(part.part, part.source) for part in event.parts] == [
        (part, "") for part in ("note", "span", "mass", "ribs")
    ]
    assert job.state.findings["span-tension"].way == "note"
    assert fold(to_events(to_lines(job.events, 1), stored(job.knowledge))) == job.state


def test_a_number_without_a_unit_is_asked_back_and_never_guessed(job: Job) -> None:
    with pytest.raises(QuantityUnclear, match="Is “71” a force or a frequency") as asked_back:
        typed(job, "71")
    assert "N or Hz" in asked_back.value.hint


@pytest.mark.parametrize("line", ["x" * 5000, "71 V", "-3 Hz", "\x1b[2J"])
def test_what_is_neither_is_refused_and_says_what_would_be_right(job: Job, line: str) -> None:
    with pytest.raises(QuantityRefused, match="is neither a force nor a frequency") as refused:
        typed(job, line)
    assert len(refused.value.message) < 120
    assert "name an answer" in refused.value.hint


def test_a_grouped_number_with_a_unit_is_asked_back_by_its_own_kind(knowledge: Knowledge) -> None:
    reading = knowledge.checks["span-tension"].reading
    assert reading
    with pytest.raises(QuantityUnclear, match=r"1\.5 or 1500"):
        way_meant(reading.ways, "1,500 N")


def test_outcomes_and_words_still_answer(job: Job) -> None:
    for line in ("low", "slack", "#2", "Too low"):
        command = typed(job, line)
        assert isinstance(command, c.Answer)
        assert command.outcomes == ("low",)


def test_the_layout_in_use_is_offered_and_taken_only_when_said(job: Job) -> None:
    use(job, "four-cylinder-full")
    assert "has 243.2 mm (steering-pump to compressor)" in asked(job, "90 Hz")
    assert "0.11 kg/m (belt)" in asked(job, "90 Hz", "y")
    assert "has 6 (belt)" in asked(job, "90 Hz", "y", "yes")
    # 4·0.11·(0.2432·90)²/6 = 35.1 N.
    said = done(job, "90 Hz", "y", "yes", "y")
    assert "From 90 Hz; 243.2 mm (layout four-cylinder-full, steering-pump to compressor); 0.11 kg/m" in said
    assert "Too low: 35.1 N" in said
    sources = {part.part: part.source for part in taken(job).parts}
    assert sources["span"] == sources["mass"] == sources["ribs"] == "layout four-cylinder-full"
    assert sources["note"] == ""
    assert "layout four-cylinder-full, steering-pump to compressor" in page_of(job.knowledge, job.events, "h")


def test_a_span_between_unsure_diameters_brings_its_width_along(job: Job, tmp_path: Path) -> None:
    text = layout_file("stretch-belt").read_text("utf-8").replace("diameter_is: effective", "diameter_is: outside")
    file = tmp_path / "tape.yaml"
    file.write_text(text, "utf-8")
    use(job, str(file))
    assert job.state.layout
    span = job.state.layout.known.longest
    assert span
    # Both ends are ± 1 mm: the tangent hardly moves, and by no more than the radii do.
    assert 0 < span.spread_m < 0.001
    done(job, "90 Hz", "y", "y", "y")
    assert taken(job).parts[1].spread == span.spread_m


def test_what_is_typed_wins_over_the_layout(job: Job) -> None:
    use(job, "four-cylinder-full")
    done(job, "90 Hz", "300 mm", "0.1 kg/m", "5")
    assert [(part.value, part.source) for part in taken(job).parts[1:]] == [(0.3, ""), (0.1, ""), (5.0, "")]


def test_what_a_layout_does_not_give_is_asked_plainly(job: Job) -> None:
    use(job, "tape-and-photo")
    assert asked(job, "90 Hz") == "90 Hz. Length of that free span"
    assert "layout" not in asked(job, "90 Hz", "300 mm")
    assert "has 6 (belt)" in asked(job, "90 Hz", "300 mm", "0.1 kg/m")
    with pytest.raises(QuantityRefused):
        typed(job, "90 Hz", "y")


def test_the_maker_may_give_a_note_for_the_limit(job: Job) -> None:
    use(job, "four-cylinder-full")
    assert "243.2 mm" in asked(job, "figure", "1", "120 Hz")
    with pytest.raises(QuantityUnclear, match="a force or a frequency"):
        typed(job, "figure", "1", "120")
    lines = ("figure", "1", "120 Hz", "y", "y", "y")
    # 4·0.11·(0.2432·120)²/6 = 62.5 N.
    assert asked(job, *lines).startswith("62.5 N from 120 Hz; 243.2 mm (layout four-cylinder-full")
    done(job, *lines, "sheet 7")
    assert job.state.maker["rib-tension-limit"].value == pytest.approx(62.46, abs=0.01)
    assert "62.5 N from 120 Hz" in job.state.maker["rib-tension-limit"].text
    assert "Too low" in done(job, "90 Hz", "y", "y", "y")


def test_the_maker_may_give_the_force_as_before(job: Job) -> None:
    assert asked(job, "figure", "1", "70 N") == "70 N. Where does it stand? (document, page)"
    done(job, "figure", "1", "70 N", "sheet 7")
    assert job.state.maker["rib-tension-limit"].value == 70.0


def test_an_amended_answer_can_take_the_other_way(job: Job) -> None:
    use(job, "four-cylinder-full")
    done(job, "90 N")
    place = list(job.state.findings).index("span-tension") + 1
    assert "243.2 mm" in asked(job, "amend", str(place), "90 Hz")
    done(job, "amend", str(place), "90 Hz", "y", "y", "y")
    assert taken(job).way == "note"
    assert job.state.findings["span-tension"].outcomes == ("low",)


def test_belt_slip_takes_its_diameters_from_the_layout_by_the_pulleys_name(knowledge: Knowledge) -> None:
    check = knowledge.checks["belt-slip"]
    job = at(knowledge, "span-tension")
    use(job, "four-cylinder-full")
    used = job.state.layout
    crank = outcomes_or_reading(check, used, ("750 rpm", "2000 rpm"))
    assert isinstance(crank, Ask)
    assert 'has 160 mm (crank): "y" takes it' in crank.question
    driven = outcomes_or_reading(check, used, ("750 rpm", "2000 rpm", "y"))
    assert isinstance(driven, Ask)
    assert "58 mm (alternator)" in driven.question
    assert "the pulley's name takes it" in driven.question
    given = outcomes_or_reading(check, used, ("750 rpm", "2000 rpm", "y", "Alternator"))
    assert not isinstance(given, Ask)
    assert [(part.value, part.source) for part in given[1][2:]] == [
        (0.16, "layout four-cylinder-full"),
        (0.058, "layout four-cylinder-full"),
    ]
    with pytest.raises(QuantityRefused):
        outcomes_or_reading(check, used, ("750 rpm", "2000 rpm", "y", "y"))


def test_a_way_that_was_not_typed_whole_is_refused_by_the_session(job: Job) -> None:
    part = TypedPart(part="note", value=71.0, spread=0.0, text="71 Hz")
    with pytest.raises(CommandRefused, match="not complete"):
        job.do(c.Read(at_ms=job.clock(), who=Recorded.who, check="span-tension", parts=(part,)))


def test_a_layout_whose_own_tension_is_too_low_says_so_beside_the_check(job: Job) -> None:
    use(job, "stretch-belt")
    check = job.knowledge.checks["span-tension"]
    assert job.state.layout
    # 350 N over five ribs is 70 N, above the limit of 65 N.
    assert "below the limit" not in "\n".join(check_facts(job.knowledge, job.state, check))
    slack = job.state.layout.layout.model_copy(update={"tension": "250 N"})
    state = replace(job.state, layout=job.state.layout.model_copy(update={"layout": slack}))
    said = "\n".join(check_facts(job.knowledge, state, check))
    assert (
        'is 50 N a rib, below the limit of 65 N a rib used here; the maker\'s figure is entered with "figure".' in said
    )
