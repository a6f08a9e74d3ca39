"""What is asked back is answered by the next line, on the card and in a correction; and what the record keeps of it."""

from collections.abc import Callable
from dataclasses import replace

import pytest

from triage.app.job import Job
from triage.app.tracing import stored, to_events, to_lines
from triage.errors import CommandRefused, QuantityRefused, QuantityUnclear, TriageError
from triage.knowledge.models import Figure
from triage.present.said.entries import entries
from triage.present.said.judgement import record_words
from triage.present.steps.views import step_view
from triage.present.typing.interpreting import Typing, interpret
from triage.present.typing.results import Ask, Result
from triage.record.events import ReadingTaken, ReadingThrownAway
from triage.record.payloads import MakerFigure
from triage.record.steps import Step
from triage.session import commands as c
from triage.session.evolving import fold
from triage.session.rules import finding
from triage.session.state import Finding, State

Screen = Callable[[Job, str, tuple[str, ...]], Result]


def at(job: Job, check: str) -> State:
    return replace(job.state, step=Step(kind="check", check=check, state=job.knowledge.checks[check].state))


def card(job: Job, check: str, lines: tuple[str, ...]) -> Result:
    return interpret(Typing(job.knowledge, at(job, check), 1000, "Ana"), lines)


def amend(job: Job, check: str, lines: tuple[str, ...]) -> Result:
    before = Finding(check, (job.knowledge.checks[check].outcomes[0].id,), 0, "Ana")
    state = replace(job.state, findings={check: before})
    return interpret(Typing(job.knowledge, state, 1000, "Ana"), ("amend", "1", *lines))


def question(came: Result) -> str:
    assert isinstance(came, Ask), came
    return came.question


def texts(came: Result) -> tuple[str, ...]:
    assert isinstance(came, c.Read | c.Correct), came
    return tuple(part.text for part in came.parts)


everywhere = pytest.mark.parametrize("screen", [card, amend])


@everywhere
def test_a_key_or_a_number_is_asked_and_either_answers_it(job: Job, screen: Screen) -> None:
    assert question(screen(job, "charging-voltage", ("1",))) == "1 V, or answer 1, “Normal”? Type 1 V, or #1."
    chosen = screen(job, "charging-voltage", ("1", "#1"))
    assert isinstance(chosen, c.Answer | c.Correct)
    assert chosen.outcomes == ("normal",)
    # One volt with the engine running is asked back again, and stands only on a word.
    assert "less than 9 V" in question(screen(job, "charging-voltage", ("1", "1 V")))
    assert texts(screen(job, "charging-voltage", ("1", "1 V", "yes"))) == ("1 V",)
    assert texts(screen(job, "charging-voltage", ("1", "1 V", "14.1 V"))) == ("14.1 V",)
    assert "answer 1" in question(screen(job, "charging-voltage", ("1", "1")))


@everywhere
def test_yes_is_no_answer_to_which_of_two_is_meant(job: Job, screen: Screen) -> None:
    for lines in (("1", "yes"), ("8", "yes")):
        with pytest.raises(TriageError):
            screen(job, "overrun-torque", lines)
    assert texts(screen(job, "overrun-torque", ("8", "8 lbf·in"))) == ("8 lbf·in",)


@everywhere
def test_a_reading_in_parts_is_asked_back_part_by_part_and_whole(job: Job, screen: Screen) -> None:
    assert "Free span" in question(screen(job, "alignment", ("0.3 mm",)))
    assert "2.4 mm? It is less than 40 mm" in question(screen(job, "alignment", ("0.3 mm", "2.4 mm")))
    assert texts(screen(job, "alignment", ("0.3 mm", "2.4 mm", "240 mm"))) == ("0.3 mm", "240 mm")
    swapped = ("2200 r/min", "40 r/min", "yes")
    assert "All of it again" not in question(screen(job, "clutch-slip", swapped[:2]))
    assert texts(screen(job, "clutch-slip", swapped)) == swapped[:2]
    mixed = question(screen(job, "alignment", ("0.4 mm", "4")))
    assert "4 mm or 4 in? Type it with its unit." in mixed
    assert "3/32 in, or 3/32 mm" in question(screen(job, "alignment", ("3/32",)))
    assert texts(screen(job, "alignment", ("3/32", "3/32 in", "6 in"))) == ("3/32 in", "6 in")
    with pytest.raises(QuantityRefused, match="more than is asked"):
        screen(job, "alignment", ("1 mm; 2 mm; 3 mm",))


def test_a_slip_far_below_nothing_is_refused_with_what_to_do(job: Job) -> None:
    with pytest.raises(CommandRefused, match="−640 %"):
        card(job, "clutch-slip", ("1000 r/min; 7400 r/min",))
    with pytest.raises(CommandRefused, match="cannot run ahead of the belt"):
        card(job, "belt-slip", ("750 r/min; 2000 r/min; 60 mm; 399 mm",))


@pytest.mark.parametrize("line", ["#1", "# 1", "1"])
def test_an_answer_without_a_reading_is_chosen_with_the_mark_or_without(job: Job, line: str) -> None:
    for screen in (card, amend):
        came = screen(job, "decoupler-drive-feel", (line,))
        assert isinstance(came, c.Answer | c.Correct)
        assert came.outcomes == ("springs-then-holds",)
    with pytest.raises(CommandRefused, match="not one of the answers") as refused:
        card(job, "decoupler-drive-feel", ("#9",))
    assert "#1 to #3" in refused.value.hint


def test_several_answers_are_chosen_with_the_mark_too(job: Job) -> None:
    came = card(job, "bearing-listen", ("#2 #4",))
    assert isinstance(came, c.Answer)
    assert came.outcomes == ("alternator", "idler")


def test_a_correction_shows_the_answers_as_the_card_does(job: Job) -> None:
    assert "  #1  Normal" in question(amend(job, "charging-voltage", ()))
    assert "  1  Springs, then holds" in question(amend(job, "decoupler-drive-feel", ()))


def test_limit_hint_and_a_bare_number_have_one_unit_and_the_makers_where_that_was_entered(job: Job) -> None:
    view = step_view(job.knowledge, at(job, "overrun-torque"))
    assert view.units == "lbf·in"
    assert any(fact.startswith("Below 9 lbf·in: ") for fact in view.facts)
    assert texts(card(job, "overrun-torque", ("0.5",))) == ("0.5 lbf·in",)
    maker = MakerFigure(figure="overrun-free-limit", value=1.2, text="1.2 N·m", reference="sheet 3")
    entered = replace(at(job, "overrun-torque"), maker={"overrun-free-limit": maker})
    view = step_view(job.knowledge, entered)
    assert view.units == "N·m"
    assert any(fact.startswith("Below 1.2 N·m: ") for fact in view.facts)
    assert any(fact.startswith("Below 1.47 N·m (13 lbf·in): ") for fact in view.facts)
    assert texts(interpret(Typing(job.knowledge, entered, 1000, "Ana"), ("0.5",))) == ("0.5 N·m",)


def test_every_shipped_limit_stands_in_the_unit_of_its_hint(job: Job) -> None:
    for check in job.knowledge.checks.values():
        if check.reading:
            view = step_view(job.knowledge, at(job, check.id))
            limits = [fact for fact in view.facts if fact.startswith("Below ")]
            assert limits, check.id
            if check.reading.formula is None:
                assert all(view.units.partition(" or ")[0] in limit for limit in limits), check.id


def test_a_makers_figure_needs_its_unit_where_two_are_usual(job: Job) -> None:
    typing = Typing(job.knowledge, at(job, "overrun-torque"), 1000, "Ana")
    assert "the limit below which it says “Free and even”" in question(interpret(typing, ("figure",)))
    with pytest.raises(QuantityUnclear, match=r"11 N·m or 11 lbf·in"):
        interpret(typing, ("figure", "1", "11"))
    assert question(interpret(typing, ("figure", "1", "11 lbf·in"))).startswith("11 lbf·in. Where")


def taken(job: Job, state: State, *lines: str) -> tuple[ReadingTaken, State]:
    command = interpret(Typing(job.knowledge, state, 1000, "Ana"), lines)
    assert isinstance(command, c.Read)
    (event,) = finding.read(job.knowledge, state, command)
    assert isinstance(event, ReadingTaken)
    after = fold((event,), state)
    count = len(after.first_readings.get(event.check, ()))
    return event, replace(after, step=after.step.model_copy(update={"attempt": count + 1}))


def test_what_stands_on_a_word_is_marked_in_the_record_and_nothing_else_is(job: Job) -> None:
    doubted, _ = taken(job, at(job, "overrun-torque"), "12 N·m", "yes")
    assert doubted.doubts == ("beyond-stop", "beyond-instrument")
    assert "asked back and said to be so, beyond what the instrument reads" in record_words(doubted)
    plain, _ = taken(job, at(job, "overrun-torque"), "7 lbf·in")
    assert (plain.doubts, plain.weighed, plain.by_itself, record_words(plain)) == ((), (), None, "")
    bare, _ = taken(job, at(job, "overrun-torque"), "0.5")
    assert record_words(bare) == "no unit typed, taken as 0.5 lbf·in; "
    lines = to_lines((doubted, plain), 1)
    assert "doubts" in lines[0].data
    assert not {"doubts", "weighed", "apart", "by_itself"} & set(lines[1].data)
    assert "bare" not in str(lines[1].data)
    assert to_events((*lines, *to_lines((bare,), 3)), stored(job.knowledge)) == (doubted, plain, bare)


def test_readings_that_disagree_are_named_until_one_is_thrown_away_with_a_reason(job: Job) -> None:
    _, state = taken(job, at(job, "shutdown-listen"), "1.1 s")
    disagreeing, state = taken(job, state, "4 s")
    assert disagreeing.apart == ("1.1 s", "4 s")
    ask = step_view(job.knowledge, state).ask
    assert ask.startswith('These do not agree: 1: 1.1 s, 2: 4 s. Measure once more, or "throw away" one of them.')
    typing = Typing(job.knowledge, state, 1000, "Ana")
    assert "2  4 s" in question(interpret(typing, ("throw away",)))
    assert question(interpret(typing, ("throw away", "2"))) == "Why is 4 s thrown away?"
    with pytest.raises(CommandRefused, match="no reason"):
        interpret(typing, ("throw away", "2", "7"))
    command = interpret(typing, ("throw away", "1", "pressed too late"))
    assert isinstance(command, c.ThrowAway)
    thrown, anew = finding.throw_away(job.knowledge, state, command)
    assert isinstance(thrown, ReadingThrownAway)
    assert isinstance(anew, ReadingTaken)
    assert (anew.outcome, anew.parts[0].text) == ("short", "4 s")
    told = [entry.words for entry in entries(job.knowledge, (thrown, anew))]
    assert told[0].endswith("1.1 s thrown away (pressed too late)")


def test_nothing_is_thrown_away_where_no_reading_waits(job: Job) -> None:
    with pytest.raises(CommandRefused, match="No reading waits"):
        interpret(Typing(job.knowledge, at(job, "shutdown-listen"), 1000, "Ana"), ("throw away",))


def test_both_readings_and_the_one_that_counts_no_more_stand_in_the_record(job: Job) -> None:
    _, state = taken(job, at(job, "shutdown-listen"), "1.1 s")
    _, state = taken(job, state, "4 s")
    third, state = taken(job, state, "3.9 s")
    assert (third.weighed, third.apart, third.outcome) == (("4 s", "3.9 s"), ("1.1 s",), "short")
    assert state.findings["shutdown-listen"].said == "4 s and 3.9 s"
    words = record_words(third)
    assert "weighed together, 4 s and 3.9 s" in words
    assert "not counted, since the others agree: 1.1 s" in words


def test_a_value_is_never_rounded_into_its_limit(job: Job) -> None:
    check = job.knowledge.checks["battery-state"]
    assert check.reading
    zones = (check.reading.zones[0].model_copy(update={"below": Figure(text="12.6 V", source="from-memory")}),)
    reading = check.reading.model_copy(update={"zones": (*zones, check.reading.zones[1])})
    other = check.model_copy(update={"reading": reading})
    knowledge = job.knowledge.model_copy(update={"checks": {**job.knowledge.checks, check.id: other}})
    state = replace(job.state, step=Step(kind="check", check=check.id, state="stopped"))
    command = interpret(Typing(knowledge, state, 0, "Ana"), ("12.55",))
    assert isinstance(command, c.Read)
    (event,) = finding.read(knowledge, state, command)
    (entry,) = entries(knowledge, (event,))
    assert entry.aloud == ("12.55 V: too close to call (limit 12.6 V). Measure once more.",)
    assert "12.55 V, u = " in entry.under[1]
    assert "nearest limit 12.6 V" in entry.under[1]
