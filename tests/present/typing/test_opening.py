"""The questions before a session, without a face."""

import pytest

from triage.app.opening import Opening
from triage.knowledge.models import Knowledge
from triage.knowledge.shipped import trees_folder
from triage.knowledge.wording.matching import Match, Matcher
from triage.knowledge.wording.words import load_words
from triage.listening.vague import load_vague
from triage.present.typing.opening import NEEDED, NOTHING_FITS, OpeningDialogue
from triage.session.lengths import LONGEST_TEXT


@pytest.fixture
def dialogue(knowledge: Knowledge) -> OpeningDialogue:
    """Words that begin with the name of a symptom mean it."""
    return OpeningDialogue(
        knowledge, lambda words: [Match(one, 0.9) for one in knowledge.trees if words.startswith(one)]
    )


def test_everything_is_asked_in_order_and_only_the_complaint_may_stay_open(dialogue: OpeningDialogue) -> None:
    assert [dialogue.take(line) for line in ("", "belt-chirp", "", "", "J-1", "x" * (LONGEST_TEXT + 1), "Ada")] == [
        NEEDED,
        "",
        "",
        NEEDED,
        "",
        f"That is {LONGEST_TEXT + 1} characters. Keep it within {LONGEST_TEXT}; the rest can follow as notes.",
        "",
    ]
    assert dialogue.opening == Opening(symptom="belt-chirp", job="J-1", who="Ada", words="")


def test_words_that_fit_nothing_leave_the_numbers_as_they_were(dialogue: OpeningDialogue) -> None:
    dialogue.take("belt-chirp when cold")
    offered = dialogue.question
    assert dialogue.take("a radio") == NOTHING_FITS
    assert dialogue.question == offered
    assert dialogue.take("y") == ""
    assert (dialogue.symptom, dialogue.question.name) == ("belt-chirp", "job")


def test_one_can_always_go_back_to_the_symptom_and_nothing_given_before_stays(dialogue: OpeningDialogue) -> None:
    assert not dialogue.back()
    for line in ("1", "squeals", "J-1"):
        dialogue.take(line)
    assert dialogue.back()
    for line in ("2", "", "J-2", "Ben"):
        dialogue.take(line)
    assert dialogue.opening is not None
    assert (dialogue.opening.words, dialogue.opening.job) == ("", "J-2")


@pytest.fixture
def told(knowledge: Knowledge) -> OpeningDialogue:
    """The dialogue with the words of the program."""
    return OpeningDialogue(knowledge, Matcher(load_words(trees_folder()), knowledge.trees).match)


@pytest.mark.parametrize("words", ["noise from the front", "My car makes a noise.", "funny noise when driving"])
def test_a_vague_complaint_gets_the_question_that_splits_it(told: OpeningDialogue, words: str) -> None:
    assert told.take(words) == ""
    assert told.question.lines == (f"“{words}”", "What does it sound like, or when does it come?")
    number = next(str(at) for at, choice in enumerate(told.question.choices, 1) if choice.id == "shutdown-buzz")
    assert told.take(number) == ""
    for line in ("J-1", "Ada"):
        told.take(line)
    assert told.opening == Opening(symptom="shutdown-buzz", job="J-1", who="Ada", words=words)


def test_the_question_that_splits_is_answered_in_words_too(told: OpeningDialogue) -> None:
    told.take("noise from the front")
    assert told.take("like a bird chirping at idle") == ""
    assert told.question.choices[0].id == "belt-chirp"
    told.take("1")
    for line in ("J-1", "Ada"):
        told.take(line)
    assert told.opening is not None
    assert told.opening.words == "noise from the front; like a bird chirping at idle"


@pytest.mark.parametrize("words", ["the brakes make a noise", "a radio", "noise from the gearbox"])
def test_what_is_about_something_else_fits_nothing_and_is_not_split(told: OpeningDialogue, words: str) -> None:
    assert told.take(words) == NOTHING_FITS


def test_every_answer_to_such_a_question_is_a_symptom(knowledge: Knowledge) -> None:
    for split in load_vague(trees_folder()).complaints:
        assert set(split.answers) <= set(knowledge.trees)


def test_the_symptom_is_told_from_what_was_found_and_done(told: OpeningDialogue) -> None:
    """A word about the charging lamp alone does not come before the noise that is complained of."""
    told.take("it squeals when I turn the wheel, new battery last week, coolant on the belt")
    assert told.question.choices[0].id == "belt-squeal"
