"""The chat's first questions, with a fake terminal."""

from typing import TYPE_CHECKING

import pytest

from triage.app.opening import Opening
from triage.chat.lines import InputEndedError
from triage.chat.opening import ask_opening
from triage.knowledge.models import Knowledge
from triage.knowledge.shipped import trees_folder
from triage.knowledge.wording.matching import LONGEST, Matcher
from triage.knowledge.wording.words import load_words
from triage.present.typing.opening import MAY_MEAN, NOTHING_FITS
from triage.session.lengths import LONGEST_TEXT

if TYPE_CHECKING:
    from tests.conftest import Typist

BUZZ = "buzzes for a few seconds after I turn it off"


@pytest.fixture(scope="module")
def matcher(knowledge: Knowledge) -> Matcher:
    return Matcher(load_words(trees_folder()), knowledge.trees)


def number_of(knowledge: Knowledge, symptom: str) -> str:
    return str(list(knowledge.trees).index(symptom) + 1)


def test_free_words_are_proposed_confirmed_and_kept_as_the_complaint(
    knowledge: Knowledge, matcher: Matcher, typist: "type[Typist]"
) -> None:
    lines = typist(BUZZ, "1", "J-1", "Ada")
    opening = ask_opening(knowledge, matcher, lines)
    assert opening == Opening(symptom="shutdown-buzz", job="J-1", who="Ada", words=BUZZ)
    assert "  1  Buzz after switching off (fits well)" in lines.said[lines.said.index(MAY_MEAN) :]


def test_a_number_picks_from_the_list_and_the_complaint_is_asked(
    knowledge: Knowledge, matcher: Matcher, typist: "type[Typist]"
) -> None:
    lines = typist(number_of(knowledge, "shutdown-buzz"), "it buzzes", "J-1", "Ada")
    opening = ask_opening(knowledge, matcher, lines)
    assert (opening.symptom, opening.words) == ("shutdown-buzz", "it buzzes")
    assert "These words may mean:" not in lines.said


def test_words_that_fit_nothing_are_said_to_and_the_list_still_serves(
    knowledge: Knowledge, matcher: Matcher, typist: "type[Typist]"
) -> None:
    lines = typist("the brakes squeal", number_of(knowledge, "shutdown-buzz"), "", "J-1", "Ada")
    assert ask_opening(knowledge, matcher, lines).symptom == "shutdown-buzz"
    assert NOTHING_FITS in lines.said


def test_a_proposal_that_does_not_fit_leads_back_to_the_list(
    knowledge: Knowledge, matcher: Matcher, typist: "type[Typist]"
) -> None:
    lines = typist(BUZZ, "99", "", number_of(knowledge, "shutdown-buzz"), "", "J-1", "Ada")
    assert ask_opening(knowledge, matcher, lines).words == ""
    assert any(said.startswith("Type a number from 1 to 1, or words.") for said in lines.said)
    assert sum("Buzz after switching off" in said for said in lines.said) == 3


@pytest.mark.parametrize("line", ["0", "99", "x" * (LONGEST + 1)])
def test_what_cannot_be_taken_is_said_and_asked_again(
    knowledge: Knowledge, matcher: Matcher, typist: "type[Typist]", line: str
) -> None:
    lines = typist(line)
    with pytest.raises(InputEndedError):
        ask_opening(knowledge, matcher, lines)
    assert lines.said[-1] == "Words or number: "
    assert "characters" in lines.said[-2] or "Type a number from 1 to" in lines.said[-2]


@pytest.mark.parametrize("yes", ["y", "Yes"])
def test_a_single_proposal_is_picked_by_yes(
    knowledge: Knowledge, matcher: Matcher, typist: "type[Typist]", yes: str
) -> None:
    lines = typist(BUZZ, yes, "J-1", "Ada")
    assert ask_opening(knowledge, matcher, lines).symptom == "shutdown-buzz"
    assert "y or 1 (Enter: none of these): " in lines.said


def test_yes_to_several_proposals_picks_none_of_them(
    knowledge: Knowledge, matcher: Matcher, typist: "type[Typist]"
) -> None:
    lines = typist("noise from the belt when cold", "y", "2", "J-1", "Ada")
    assert ask_opening(knowledge, matcher, lines).symptom == "belt-chirp"
    assert NOTHING_FITS in lines.said


def test_words_without_end_are_said_at_once_and_not_after_every_question(
    knowledge: Knowledge, matcher: Matcher, typist: "type[Typist]"
) -> None:
    lines = typist("1", "x" * (LONGEST_TEXT + 1), "it buzzes", "J" * 5000, "J-1", "A" * 9000, "Ada")
    opening = ask_opening(knowledge, matcher, lines)
    assert (opening.words, opening.job, opening.who) == ("it buzzes", "J-1", "Ada")
    complaint = next(place for place, said in enumerate(lines.said) if said.startswith("The complaint"))
    assert lines.said[complaint + 1] == ("That is 2001 characters. Keep it within 2000; the rest can follow as notes.")
