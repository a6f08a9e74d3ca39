"""Sentences typed in a session: said back, counted on a yes alone, and never at what only a person confirms."""

import subprocess
import sys
from collections.abc import Callable
from itertools import count

import pytest
from hands import lines_for

from triage.app.job import Job, start
from triage.app.opening import Opening
from triage.app.respondent import Asked, Respondent
from triage.app.shop.shop_file import Shop, accuracies
from triage.knowledge.models import Check, Knowledge
from triage.present.typing.accepting import ALWAYS_MADE
from triage.present.typing.exchange import Exchange
from triage.present.typing.proposing import UNDERSTANDS
from triage.record.events import CheckAnswered, CheckNotDone, FactCorrected, NoteAdded, ReadingTaken, StepOffered
from triage.session import commands as c

SAID = (
    "I confirm",
    "yes",
    "yes all of it is so",
    "it is safe",
    "all of it is done, start the engine",
    "hands are clear, go on",
    "the idler is rough",
    "no straightedge",
    "it was the alternator, I renewed it",
    "85 Nm with torque wrench no. 2, from the sheet",
    "tightened to 85 Nm",
    "sign it off",
    "it is cured, the noise is gone",
    "make it safe for me",
    "I think so",
    "ok",
)


def begun(knowledge: Knowledge, symptom: str = "shutdown-buzz", words: str = "") -> Exchange:
    times = count(1_767_225_600_000, 10)
    opening = Opening(symptom=symptom, job="j", who="Ana", words=words)
    return Exchange(start(knowledge, opening, accuracies(knowledge, Shop()), "", lambda: next(times), None))


def walked(exchange: Exchange, until: Callable[[Job], bool], person: Respondent | None = None) -> Exchange:
    """The session where somebody at a sound vehicle has typed all answers up to a step."""
    person, job = person or Respondent(), exchange.job
    for _ in range(500):
        if until(job):
            return exchange
        command = person.answer(job.knowledge, job.state, job.clock())
        assert command is not None, "the session is over before that"
        if isinstance(command, c.Tick):
            times = count(command.at_ms, 10)
            job.clock = lambda times=times: next(times)  # type: ignore[misc]
            exchange.pass_time()
        for line in lines_for(job.knowledge, command, job.state.step):
            exchange.take(line)
    raise AssertionError("the step is never reached")


def at(check: str) -> Callable[[Job], bool]:
    return lambda job: job.state.step.kind in UNDERSTANDS and check in (job.state.step.check, *job.state.step.open)


def answers(exchange: Exchange) -> dict[str, tuple[str, ...]]:
    return {event.check: event.outcomes for event in exchange.job.events if isinstance(event, CheckAnswered)}


def notes(exchange: Exchange) -> list[str]:
    return [event.text for event in exchange.job.events if isinstance(event, NoteAdded)]


@pytest.fixture
def met(knowledge: Knowledge) -> Exchange:
    """At the first question of the tree."""
    return walked(begun(knowledge), at("complaint-heard"))


@pytest.mark.parametrize("yes", ["", "y", " YES "])
def test_a_sentence_is_said_back_and_a_yes_makes_it_the_answer(met: Exchange, yes: str) -> None:
    before = len(met.job.events)
    reply = met.take("I heard it myself today")
    assert "I take that as: " in met.question
    assert "Yes, I have met it myself" in met.question
    assert (reply.mark, len(met.job.events)) == ("", before)
    assert met.take(yes).mark == "SAVED"
    assert answers(met) == {"complaint-heard": ("heard-now",)}
    assert not met.question


@pytest.mark.parametrize("no", ["n", "no", "b", "back"])
def test_a_no_leaves_all_as_it_was(met: Exchange, no: str) -> None:
    before = met.job.state
    met.take("I heard it myself today")
    met.take(no)
    assert met.job.state == before
    assert not met.question


def test_any_other_line_is_taken_anew_and_nothing_counts_of_the_first(met: Exchange) -> None:
    met.take("I heard it myself today")
    met.take("no, I could not get it to do it")
    assert "Not now" in met.question
    met.take("2")
    assert answers(met) == {"complaint-heard": ("not-now",)}


def plain(exchange: Exchange) -> list[dict[str, object]]:
    """The events without their times and the knowledge."""
    left_out = {"at_ms", "clock_ms", "until_ms", "knowledge"}
    return [{"kind": event.kind, **event.model_dump(mode="json", exclude=left_out)} for event in exchange.job.events]


def test_the_same_events_come_of_a_sentence_and_of_its_number(knowledge: Knowledge) -> None:
    by_number, by_words = (walked(begun(knowledge), at("complaint-heard")) for _ in range(2))
    by_number.take("1")
    by_words.take("I heard it myself today")
    by_words.take("")
    assert plain(by_number) == plain(by_words)


class Finds(Respondent):
    """Finds this, all else normal, and the vehicle sound once it was repaired."""

    def __init__(self, **findings: str) -> None:
        self._findings = {check.replace("_", "-"): outcome for check, outcome in findings.items()}

    def found(self, asked: Asked, check: Check) -> c.Command:
        if asked.step.proving or check.id not in self._findings:
            return super().found(asked, check)
        return c.Answer(**asked.given, check=check.id, outcomes=(self._findings[check.id],))


ROUGH = Finds(spin_idler="rough")
NOT_FROM_DRIVE = Finds(bearing_listen="nothing", belt_off_run="noise-stays")


@pytest.mark.parametrize(
    ("symptom", "person", "reached"),
    [
        ("shutdown-buzz", ROUGH, {"gate", "fact", "confirm", "conclusion", "part", "torque", "prove"}),
        ("bearing-rumble", NOT_FROM_DRIVE, {"set-up", "run-ready", "run", "switch-off"}),
    ],
)
def test_no_sentence_has_any_effect_where_no_check_is_asked(
    knowledge: Knowledge, symptom: str, person: Respondent, reached: set[str]
) -> None:
    exchange, kinds = begun(knowledge, symptom), set()
    while exchange.job.state.step.kind != "closed":
        walked(exchange, lambda job: job.state.step.kind not in UNDERSTANDS, person)
        kinds.add(exchange.job.state.step.kind)
        before = exchange.job.state
        for sentence in SAID if before.step.kind != "closed" else ():
            reply = exchange.take(sentence)
            # A torque is typed in lines, of which the first names a paper: whatever it says, nothing is recorded by it.
            refused = "" if before.step.kind == "torque" else "NOT TAKEN"
            assert (exchange.proposes, reply.mark) == (False, refused), (before.step.kind, sentence)
            assert exchange.job.state == before, (before.step.kind, sentence)
            exchange.drop()
        command = person.answer(knowledge, before, exchange.job.clock())
        if isinstance(command, c.Tick):
            walked(exchange, lambda job, before=before: job.state.step != before.step, person)  # type: ignore[misc]
            continue
        for line in lines_for(knowledge, command, before.step):
            exchange.take(line)
    assert reached <= kinds, kinds


def test_a_yes_to_what_was_said_back_is_no_yes_to_a_card(knowledge: Knowledge) -> None:
    """The step that comes after an accepted answer takes no second yes."""
    exchange = walked(begun(knowledge), at("recent-work"))
    exchange.take("nothing was done at the front")
    exchange.take("")
    before = exchange.job.state
    assert before.step.kind not in UNDERSTANDS
    for _ in range(3):
        exchange.take("")
        exchange.take("yes")
    assert exchange.job.state.standing == before.standing


def test_a_finding_of_a_check_that_may_be_made_now_is_asked_for_and_answered(knowledge: Knowledge) -> None:
    exchange = walked(begun(knowledge), at("when-heard"))
    exchange.take("the alternator was renewed last week")
    exchange.take("")
    assert answers(exchange)["recent-work"] == ("alternator-replaced",)
    assert exchange.job.state.step.check == "when-heard"


def test_what_is_not_made_safe_for_is_a_note_and_offered_at_its_own_step(knowledge: Knowledge) -> None:
    exchange = walked(begun(knowledge), at("recent-work"))
    exchange.take("the idler is rough")
    reply = exchange.take("")
    assert "spin-idler" not in exchange.job.state.known
    assert notes(exchange) == ["the idler is rough"]
    assert any("Spin the idlers: " in line for line in reply.lines)
    walked(exchange, at("spin-idler"))
    exchange.weigh()
    assert "You told me before" in exchange.question
    exchange.take("")
    assert exchange.job.state.known["spin-idler"].outcomes == ("rough",)


def test_a_look_that_lets_the_engine_run_is_made_whatever_was_told(knowledge: Knowledge) -> None:
    exchange = walked(begun(knowledge, "belt-squeal"), at("recent-work"))
    exchange.take("the belt is sound")
    reply = exchange.take("")
    assert ALWAYS_MADE in " ".join(reply.lines)
    walked(exchange, at("belt-condition"))
    exchange.weigh()
    assert not exchange.proposes
    assert "belt-condition" not in exchange.job.state.known


COMPLAINT = "chirps at a cold start, alternator was renewed last week and the idler feels rough by hand"


def test_what_the_customer_said_is_accepted_once_and_not_asked_again(knowledge: Knowledge) -> None:
    exchange = walked(begun(knowledge, "belt-chirp", COMPLAINT), at("complaint-heard"))
    exchange.weigh()
    assert "From the complaint" in exchange.question
    assert "cold or wet start" in exchange.question
    assert "alternator was renewed" in exchange.question
    exchange.take("")
    assert not answers(exchange)
    walked(exchange, at("belt-condition"))
    assert answers(exchange)["when-heard"] == ("cold-or-wet-start",)
    assert answers(exchange)["recent-work"] == ("alternator-replaced",)
    asked = {event.step.check for event in exchange.job.events if isinstance(event, StepOffered) and event.step.check}
    assert "belt-condition" in asked
    assert exchange.job.state.words == COMPLAINT
    walked(exchange, at("spin-idler"))
    exchange.weigh()
    assert "You told me before" in exchange.question


def test_a_no_to_what_the_customer_said_keeps_nothing(knowledge: Knowledge) -> None:
    exchange = walked(begun(knowledge, "belt-chirp", COMPLAINT), at("complaint-heard"))
    exchange.weigh()
    exchange.take("b")
    exchange.weigh()
    assert not exchange.proposes
    walked(exchange, at("when-heard"))
    assert "when-heard" not in exchange.job.state.known


def test_a_tool_that_is_missing_is_kept_for_the_session(knowledge: Knowledge) -> None:
    exchange = walked(begun(knowledge, "belt-chirp"), at("recent-work"))
    exchange.take("I have no straightedge")
    exchange.take("")
    assert notes(exchange) == ["Not at hand: Straightedge"]
    again = walked(Exchange(exchange.job), at("alignment"))
    again.weigh()
    assert "Not at hand" in again.question
    again.take("")
    assert [event.check for event in again.job.events if isinstance(event, CheckNotDone)] == ["alignment"]


def test_facts_of_the_vehicle_are_put_right_in_words(met: Exchange) -> None:
    met.take("it has 6 cylinders and 95k miles on it")
    met.take("")
    corrected = {event.fact: event.value for event in met.job.events if isinstance(event, FactCorrected)}
    assert corrected["cylinders"] == 6.0
    assert corrected["odometer"] == pytest.approx(95_000 * 1609.344)


def test_two_things_that_do_not_go_together_are_asked_and_neither_counts(knowledge: Knowledge) -> None:
    exchange = walked(begun(knowledge), at("spin-idler"))
    exchange.take("idler rough. idler smooth")
    assert "Which did you mean?" in exchange.question
    exchange.take("")
    assert "spin-idler" not in exchange.job.state.known


def test_the_nearest_meanings_are_offered_by_number_where_nothing_is_sure(knowledge: Knowledge) -> None:
    exchange = walked(begun(knowledge), at("spin-idler"))
    exchange.take("idler rough. idler smooth")
    assert "Which did you mean?" in exchange.question
    rows = exchange.question.splitlines()
    number = next(row.split()[0] for row in rows if "Rough" in row)
    exchange.take(number)
    assert exchange.job.state.known["spin-idler"].outcomes == ("rough",)


def test_a_reading_in_a_sentence_is_judged_like_a_typed_one(knowledge: Knowledge) -> None:
    exchange = walked(begun(knowledge, "belt-chirp"), at("alignment"))
    exchange.take("I make it 2 mm over 250 mm with the straightedge")
    exchange.take("")
    read = next(event for event in exchange.job.events if isinstance(event, ReadingTaken))
    assert [part.text for part in read.parts] == ["2 mm", "250 mm"]


def test_what_cannot_be_done_is_recorded_with_what_was_said_of_it(knowledge: Knowledge) -> None:
    exchange = walked(begun(knowledge), at("recent-work"))
    exchange.take("can't be done, the owner is not here")
    exchange.take("")
    assert "owner is not here" in exchange.job.state.known["recent-work"].reason


def test_a_doubt_is_answered_with_the_numbers_of_the_step(met: Exchange) -> None:
    before = met.job.state
    reply = met.take("I am not sure")
    assert reply.mark == "NOT TAKEN"
    assert "1 Yes, I have met it myself" in reply.lines[0]
    assert met.job.state == before


def test_a_number_that_names_no_answer_is_refused_as_ever(met: Exchange) -> None:
    assert met.take("9").lines[0] == "That is not one of the answers."
    assert not met.question


def test_no_wording_is_loaded_before_a_line_is_not_understood() -> None:
    program = (
        "import sys; from itertools import count\n"
        "from triage.app.job import start; from triage.app.opening import Opening\n"
        "from triage.cli.knowing import shipped_knowledge; from triage.present.typing.exchange import Exchange\n"
        "times = count(0, 10); opening = Opening(symptom='shutdown-buzz', job='j', who='Ana')\n"
        "job = start(shipped_knowledge(), opening, {}, '', lambda: next(times), None); talk = Exchange(job)\n"
        "for line in ('none', 'solid', 'unknown', '4'): talk.take(line); talk.weigh()\n"
        "listening = lambda: 'triage.listening.listener' in sys.modules\n"
        "print(listening()); talk.take('I heard it'); print(listening())"
    )
    told = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=True)
    assert told.stdout.split() == ["False", "True"]
