"""What typed lines come to, at the steps of a real session."""

import pytest
from hands import lines_for

from triage.app.cases import Case, Recorded
from triage.app.job import Job
from triage.app.respondent import Respondent
from triage.errors import CommandRefused, QuantityRefused, TriageError
from triage.knowledge.models import Knowledge
from triage.present.commands import WORDS
from triage.present.pages.any_moment import PAGES
from triage.present.pages.session_page import said_lines
from triage.present.said.telling import told
from triage.present.said.vehicle import REPAIRING
from triage.present.steps.views import fact_view, step_view
from triage.present.text import view_lines
from triage.present.typing.interpreting import Typing, interpret
from triage.present.typing.results import Ask, Leave, Result, Show, Watch
from triage.record.events import FactCorrected
from triage.session import commands as c


def walk_to(job: Job, check: str = "", kind: str = "check", **findings: str) -> None:
    """Answer as a case would until a check, or another kind of step, is on screen."""
    case = Case(id="x", symptom="shutdown-buzz", findings={key.replace("_", "-"): v for key, v in findings.items()})
    for _ in range(500):
        kinds = (kind, "round") if kind == "check" and check else (kind,)
        if job.state.step.kind in kinds and check in ("", job.state.step.check):
            return
        command = Recorded(case).answer(job.knowledge, job.state, job.clock())
        assert command is not None, f"the session concludes before {check or kind}"
        job.do(command)


def typed(job: Job, *lines: str) -> Result:
    return interpret(Typing(job.knowledge, job.state, job.clock(), job.who), lines)


def test_no_word_of_the_table_is_an_answer_to_any_check(knowledge: Knowledge) -> None:
    words = {word.name for word in WORDS}
    for check in knowledge.checks.values():
        answers = {outcome.id for outcome in check.outcomes} | {outcome.words.lower() for outcome in check.outcomes}
        answers |= set(check.reading.words) if check.reading else set()
        assert not answers & words, check.id


def test_a_choice_is_named_by_number_or_by_word(job: Job) -> None:
    assert isinstance(typed(job, "1"), c.AnswerGate)
    assert typed(job, "hybrid") == c.AnswerGate(at_ms=job.clock() - 10, who="Ana", answer="hybrid")


@pytest.mark.parametrize("line", ["0", "6", "99999999999999999999", "²", "x", "-1", "1 2"])
def test_what_is_no_choice_is_refused_with_what_would_be_right(job: Job, line: str) -> None:
    with pytest.raises(CommandRefused, match="not one of the answers"):
        typed(job, line)


def told_all(job: Job) -> Job:
    """Past the facts of the vehicle, with an odometer that was mistyped."""
    job.do(c.AnswerGate(at_ms=job.clock(), who="Ana", answer="none"))
    for line in ("decoupler", "1500000 km", "4"):
        fact = typed(job, line)
        assert isinstance(fact, c.TellFact)
        job.do(fact)
    return job


@pytest.mark.parametrize("word", ["vehicle"])
def test_a_fact_of_the_vehicle_is_put_right_before_anything_is_found(job: Job, word: str) -> None:
    with pytest.raises(CommandRefused, match=r"Nothing was told"):
        typed(job, word)
    step = told_all(job).state.step
    asked = typed(job, word)
    assert isinstance(asked, Ask)
    assert "2  Odometer: 1500000 km" in asked.question
    assert typed(job, word, "2") == Ask(fact_view("odometer").ask)
    right = typed(job, word, "2", "150000 km")
    assert isinstance(right, c.CorrectFact)
    assert told(job.knowledge, job.do(right)) == ["Odometer put right: 150000 km; before, 1500000 km."]
    assert job.state.facts == {"pulley": "decoupler", "odometer": 1.5e8, "cylinders": 4.0}
    assert job.state.step == step
    pulley = typed(job, word, "1", "solid")
    assert isinstance(pulley, c.CorrectFact)
    assert pulley.value == "solid"
    for unknown in ("unknown", "5", "?"):
        assert typed(job, word, "1", unknown) == c.CorrectFact(
            at_ms=job.clock() - 10, who="Ana", fact="pulley", value=None
        )


def test_a_fact_of_the_vehicle_is_put_right_after_findings_and_in_a_repair(job: Job) -> None:
    walk_to(told_all(job), kind="conclusion", belt_condition="damaged")
    assert isinstance(typed(job, "back"), c.Undo)
    for line, repairing in (("150000 km", False), ("90k miles", True)):
        right = typed(job, "vehicle", "2", line)
        assert isinstance(right, c.CorrectFact)
        happened = job.do(right)
        assert (REPAIRING in told(job.knowledge, happened)) == repairing
        (event,) = [one for one in happened if isinstance(one, FactCorrected)]
        (line_of_page,) = said_lines(job.knowledge, event)
        assert "Odometer put right" in line_of_page
        if not repairing:
            assert job.state.step.kind == "conclusion"
            job.do(c.BeginRemedy(at_ms=job.clock(), who="Ana"))
    assert (job.state.stage, job.state.step.fact) == ("working", "tightening")
    fact = typed(job, "3")
    assert isinstance(fact, c.TellFact)
    job.do(fact)
    assert (job.state.facts["tightening"], job.state.step.fact) == ("screw", "belts")


def test_a_line_of_a_card_is_pressed_by_its_number_and_denied_by_no_and_its_number(job: Job) -> None:
    walk_to(job, kind="confirm")
    lines = job.state.step.lines
    for number, line in enumerate(lines, 1):
        pressed, denied = typed(job, str(number)), typed(job, f"no {number}")
        assert isinstance(pressed, c.Confirm)
        assert isinstance(denied, c.RefuseConfirmation)
        assert (pressed.confirmation, denied.confirmation, denied.reason) == (line, line, "")
    whole = typed(job, "no")
    assert isinstance(whole, c.RefuseConfirmation)
    assert whole.confirmation == "", "said of no line in particular"
    job.do(whole)
    why = typed(job, "the brake is broken")
    assert isinstance(why, c.SayWhy)


@pytest.mark.parametrize("line", ["y", "yes", "so", "perhaps", "9", "1 2", "no 9", "all"])
def test_there_is_no_key_for_all_of_a_card(job: Job, line: str) -> None:
    walk_to(job, kind="confirm")
    with pytest.raises(CommandRefused, match="Which line"):
        typed(job, line)


def test_dead_is_proved_by_two_readings_in_turn(job: Job) -> None:
    walk_to(job, kind="confirm")
    unsure = Recorded(Case(id="x", symptom="shutdown-buzz", findings={"clutch-by-hand": "cannot-tell"}))
    while "proved-dead" not in job.state.step.lines:
        command = unsure.answer(job.knowledge, job.state, job.clock())
        assert command is not None
        job.do(command)
    assert isinstance(typed(job, "proved-dead"), Ask)
    assert isinstance(typed(job, "proved-dead", "12.6 V"), Ask)
    proved = typed(job, "proved-dead", "12.6 V", "20 mV")
    assert isinstance(proved, c.Confirm)
    assert proved.volts == (12.6, 0.02)


def test_what_happened_is_named_by_number_at_any_moment(job: Job) -> None:
    assert isinstance(typed(job, "changed"), Ask)
    changed = typed(job, "changed", "1")
    assert isinstance(changed, c.SayChanged)
    assert changed.what == "driven"
    with pytest.raises(CommandRefused, match="none of these"):
        typed(job, "changed", "99")
    assert isinstance(typed(job, "alone"), c.SayAlone)
    assert isinstance(typed(job, "off"), c.EndRun)


def test_a_reading_takes_a_number_with_unit_an_outcome_by_word_or_by_its_mark(job: Job) -> None:
    walk_to(job, "shutdown-listen")
    read = typed(job, "7 s")
    assert isinstance(read, c.Read)
    assert (read.parts[0].value, read.parts[0].text) == (7.0, "7 s")
    buzzing = c.Answer(at_ms=0, who="Ana", check="shutdown-listen", outcomes=("buzzing",))
    for line in ("buzzing", "#4"):
        answer = typed(job, line)
        assert isinstance(answer, c.Answer)
        assert answer.outcomes == buzzing.outcomes
    with pytest.raises(QuantityRefused, match="km"):
        typed(job, "7 km")


def test_will_not_turn_is_a_reading_in_words(job: Job) -> None:
    job.do(c.AnswerGate(at_ms=job.clock(), who="Ana", answer="none"))
    job.do(c.TellFact(at_ms=job.clock(), who="Ana", fact="pulley", value="decoupler"))
    walk_to(job, "overrun-torque", shutdown_listen="buzzing", clutch_by_hand="cannot-tell")
    answer = typed(job, "Will not turn")
    assert isinstance(answer, c.Answer)
    assert answer.outcomes == ("stiff",)


def test_words_that_need_more_ask_for_it_and_then_become_commands(job: Job) -> None:
    walk_to(job, "recent-work")
    assert isinstance(typed(job, "note"), Ask)
    assert isinstance(typed(job, "note", "x"), c.Note)
    assert isinstance(typed(job, "cannot", "no light"), c.CannotDo)
    assert isinstance(typed(job, "hand over", "Bo"), c.HandOver)
    assert isinstance(typed(job, "close", "customer left"), c.Close)
    assert isinstance(typed(job, "pause"), c.Pause)
    assert isinstance(typed(job, "leave"), Leave)
    assert isinstance(typed(job, "back"), c.Undo)


def test_amending_asks_which_then_how_then_corrects(job: Job) -> None:
    walk_to(job, "belt-fit")
    assert isinstance(typed(job, "amend"), Ask)
    assert isinstance(typed(job, "amend", "1"), Ask)
    names = list(job.state.findings)
    correct = typed(job, "amend", str(names.index("belt-condition") + 1), "worn")
    assert isinstance(correct, c.Correct)
    assert (correct.check, correct.outcomes) == ("belt-condition", ("worn",))


def test_what_was_found_before_is_told_by_check_finder_and_answer(job: Job) -> None:
    walk_to(job, "belt-fit")
    listed = typed(job, "told", "compressor")
    assert isinstance(listed, Ask)
    rows = [row for row in listed.question.splitlines() if "ompressor" in row and row.strip()[0].isdigit()]
    number = rows[0].split()[0]
    who = typed(job, "told", "compressor", number)
    assert isinstance(who, Ask)
    assert who.question.startswith("Who found it?")
    tells = typed(job, "told", "compressor", number, "the last shop", "1")
    assert isinstance(tells, c.TellFinding)
    job.do(tells)
    path = typed(job, "path")
    assert isinstance(path, Show)
    assert "[told by the last shop]" in "\n".join(path.lines)


def test_the_makers_figure_is_taken_with_where_it_stands(job: Job) -> None:
    job.do(c.AnswerGate(at_ms=job.clock(), who="Ana", answer="none"))
    job.do(c.TellFact(at_ms=job.clock(), who="Ana", fact="pulley", value="decoupler"))
    walk_to(job, "overrun-torque", shutdown_listen="buzzing", clutch_by_hand="cannot-tell")
    entered = typed(job, "figure", "1", "0.9 Nm", "sheet 4")
    assert isinstance(entered, c.EnterMakerFigure)
    job.do(entered)
    assert any("sheet 4" in line for line in view_lines(step_view(job.knowledge, job.state), 79))


def test_the_stopwatch_serves_only_timed_checks(job: Job) -> None:
    with pytest.raises(CommandRefused, match="not timed"):
        typed(job, "watch")
    walk_to(job, "shutdown-listen")
    assert isinstance(typed(job, "watch"), Watch)


def test_every_page_can_be_read_at_every_step_of_a_whole_session(job: Job) -> None:
    """Of the confirmations for a vehicle state at the first: the others differ in one sentence."""
    kinds, confirmed = set(), set()
    for _ in range(600):
        step = job.state.step
        kinds.add(step.kind)
        again = step.kind == "confirm" and step.state in confirmed
        confirmed |= {step.state} if step.kind == "confirm" else set()
        for page in () if again else PAGES:
            shown = typed(job, page)
            assert isinstance(shown, Show)
            assert shown.lines
        assert all(len(line) <= 60 for line in view_lines(step_view(job.knowledge, job.state), 60))
        if step.kind in ("closed", "conclusion"):
            break
        command = Recorded(CASE).answer(job.knowledge, job.state, job.clock())
        assert command is not None
        job.do(command)
    assert kinds >= {"gate", "fact", "confirm", "check", "conclusion"}


CASE = Case(id="x", symptom="shutdown-buzz", findings={"spin-alternator": "rough", "shutdown-listen": "3 s"})


def test_repair_and_proof_are_told_in_words_and_numbers(job: Job) -> None:
    walk_to(job, kind="conclusion", spin_alternator="rough", shutdown_listen="3 s")
    begin = typed(job, "1")
    assert isinstance(begin, c.BeginRemedy)
    job.do(begin)
    for _ in range(200):
        step = job.state.step
        lines: tuple[str, ...] = {"part": ("1",), "set-up": ("1",), "switch-off": ("1",)}.get(step.kind, ())
        if step.kind == "torque":
            with pytest.raises(CommandRefused, match="whose figure"):
                typed(job, "90 Nm")
            with pytest.raises(CommandRefused, match="no reason"):
                typed(job, "none", "2")
            assert isinstance(typed(job, "none", "not loosened"), c.RecordTorque)
            lines = ("part's sheet", "90 Nm", "90", "wrench 2")
        if step.kind == "confirm":
            lines = lines_for(job.knowledge, Respondent().answer(job.knowledge, job.state, job.clock()), job.state.step)
        if step.kind == "check":
            gone = step.check == "complaint-now" and step.proving
            lines = ("absent" if gone else job.knowledge.checks[step.check].normal(job.state.pulley),)
        if step.kind == "prove":
            break
        command = typed(job, *lines)
        assert isinstance(command, c.Command)
        job.do(command)
    view = step_view(job.knowledge, job.state)
    assert (view.title, view.lines[0]) == (
        "Complaint: proved gone",
        "Met before (Warm, at idle), not there after under the same.",
    )
    signed = typed(job, "1")
    assert isinstance(signed, c.Close)
    job.do(signed)
    assert job.state.closed == "signed-off"


def test_only_typed_errors_come_of_any_line(job: Job) -> None:
    for line in ("\x1b[2J", "a" * 100_000, "[@click=app.quit]", "\u202e", "🎺", "1e999", "{}", "None"):
        for lines in ((line,), ("note", line), ("cannot", line), ("figure", line), ("amend", line)):
            try:
                command = typed(job, *lines)
                if isinstance(command, c.Command):
                    job.do(command)
            except TriageError:
                continue


def test_who_is_at_the_key_takes_a_name_only_and_can_be_denied(job: Job) -> None:
    case = Case(id="x", symptom="shutdown-buzz")
    while "at-the-key" not in job.state.step.lines:
        command = Recorded(case).answer(job.knowledge, job.state, job.clock())
        assert command is not None
        job.do(command)
    assert isinstance(typed(job, "at-the-key"), Ask)
    for line in ("1", "y", "Yes", "so", "--"):
        with pytest.raises(CommandRefused):
            typed(job, "at-the-key", line)
    named = typed(job, "at-the-key", "Bo")
    assert isinstance(named, c.Confirm)
    assert named.name == "Bo"
