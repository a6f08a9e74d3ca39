"""The questions before a session, without a face."""

import pytest

from triage.app.opening import Opening
from triage.knowledge.models import Knowledge
from triage.knowledge.wording.matching import Match
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
