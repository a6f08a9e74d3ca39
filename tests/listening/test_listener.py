"""A sentence says what was said, and nothing else."""

import pytest

from triage.listening.items import (
    Asked,
    Cannot,
    Do,
    Finding,
    Item,
    MeasuredFact,
    Nothing,
    Reading,
    Reply,
    Symptom,
    ToolMissing,
    WordFact,
)
from triage.listening.listener import Listener
from triage.listening.said_back import ASK_OR_SAY, NOT_UNDERSTOOD

ROUGH, SMOOTH = Finding("spin-idler", "rough"), Finding("spin-idler", "smooth")


def taken(listener: Listener, text: str, check: str | None) -> tuple[Item, ...]:
    return listener.understand(text, check).items


@pytest.mark.parametrize(
    ("text", "items"),
    [
        ("grinds and has a bit of play", (ROUGH,)),
        ("it is not rough", (SMOOTH,)),
        ("smooth, no play or noise", (SMOOTH,)),
        ("rough, no wait, smooth", (SMOOTH,)),
        ("gritty bearring", (ROUGH,)),
        ("fine", (SMOOTH,)),
        ("the idler is rough and the tensioner pulley is smooth", (ROUGH, Finding("spin-tensioner-pulley", "smooth"))),
        ("tensioner pulley smooth but the idler isn't", (Finding("spin-tensioner-pulley", "smooth"), ROUGH)),
        ("yes", (SMOOTH,)),
        ("no", (ROUGH,)),
    ],
)
def test_what_was_said_of_parts_is_found(listener: Listener, text: str, items: tuple[Item, ...]) -> None:
    assert set(taken(listener, text, "spin-idler")) == set(items)


@pytest.mark.parametrize(
    "text",
    [
        "if it is rough I would hear it",
        "is it rough?",
        "on my last car it was rough",
        "I hope it is not rough",
        "let me check whether it is rough",
        "it should be smooth",
        "they normally get rough with age",
        "the coffee is smooth",
        "the boss is rough today",
        "a rough night",
        "the customer says it is rough",
        "I have not spun it yet",
        "lunch was good, thanks for asking about Peter",
        "",
        "?!",
        "smooth " * 200,
    ],
)
def test_what_was_only_thought_asked_or_told_of_others_is_no_finding(listener: Listener, text: str) -> None:
    assert not any(isinstance(item, Finding) for item in taken(listener, text, "spin-idler"))


@pytest.mark.parametrize("text", ["might be rough", "not sure whether it is rough", "hard to say"])
def test_a_doubt_is_a_doubt(listener: Listener, text: str) -> None:
    assert taken(listener, text, "spin-idler") == (Reply("not-sure"),)


def test_a_yes_or_no_with_no_outcome_of_its_own_stays_one(listener: Listener) -> None:
    assert taken(listener, "yes", "fluid-leak") == (Reply("yes"),)
    assert taken(listener, "no", "fluid-leak") == (Finding("fluid-leak", "none"),)
    assert taken(listener, "no", None) == (Reply("no"),)


@pytest.mark.parametrize(
    ("check", "text", "values"),
    [
        ("battery-state", "12,6", (12.6,)),
        ("battery-state", "eleven point nine volts", (11.9,)),
        ("alignment", "2 mm over 250 mm", (0.002, 0.25)),
        ("span-tension", "72 hz; 340 mm", (72.0, 0.34)),
        ("belt-slip", "750 rpm and 1500 rpm", (12.5, 25.0)),
        ("overrun-torque", "1.5 N.m", (1.5,)),
        ("alignment", "span 200 mm, offset 3 mm", (0.003, 0.2)),
        ("clutch-slip", "rotor 1500 rpm, ring 3000 rpm", (50.0, 25.0)),
        ("clutch-slip", "1500 rpm rotor, 3000 rpm ring", (50.0, 25.0)),
        ("alignment", "-2 mm over 250 mm", (-0.002, 0.25)),
    ],
)
def test_a_reading_is_in_si_and_in_order(listener: Listener, check: str, text: str, values: tuple[float, ...]) -> None:
    (reading,) = taken(listener, text, check)
    assert isinstance(reading, Reading)
    assert reading.check == check
    assert list(reading.values_si) == pytest.approx(list(values))


def test_a_bare_number_takes_the_unit_of_the_limits(listener: Listener) -> None:
    (reading,) = taken(listener, "9", "overrun-torque")
    assert isinstance(reading, Reading)
    assert list(reading.values_si) == pytest.approx([1.016863])


@pytest.mark.parametrize(
    ("check", "text"),
    [
        ("battery-state", "give me 12 minutes"),
        ("battery-state", "it should be 12.6 volts"),
        ("battery-state", "0.15 V here, 12.3 V there and 12.7 V at the post"),
        ("battery-state", "what if it is 12.1 V"),
        ("battery-state", "the label says 12.6 V"),
        ("alignment", "10 mm spanner please"),
        ("alignment", "0.5 degrees"),
        ("shutdown-listen", "tightened to 40 Nm"),
        ("charging-voltage", "2 of the leads came off"),
    ],
)
def test_a_number_that_is_no_reading_is_none(listener: Listener, check: str, text: str) -> None:
    assert not any(isinstance(item, Reading) for item in taken(listener, text, check))


def test_a_reading_of_another_check_needs_its_name_and_unit(listener: Listener) -> None:
    assert taken(listener, "battery at rest 12.3 V", "spin-idler") == (Reading("battery-state", (12.3,), "12.3 V"),)
    assert taken(listener, "12.3 V", "spin-idler") == (Nothing(),)


def test_a_missing_tool_of_the_check_on_screen_stands_alone(listener: Listener) -> None:
    assert taken(listener, "no straightedge, cannot do it", "alignment") == (ToolMissing("straightedge"),)
    assert taken(listener, "my multimeter packed up", None) == (ToolMissing("multimeter"),)


def test_cannot_has_its_reason_and_without_a_check_is_a_word(listener: Listener) -> None:
    said = taken(listener, "can't get at it, plastic cover in the way", "belt-condition")
    assert said == (Cannot("belt-condition", "plastic cover in the way"),)
    assert taken(listener, "skip", "belt-condition") == (Cannot("belt-condition", None),)
    assert taken(listener, "cannot", None) == (Do("cannot"),)


@pytest.mark.parametrize(
    ("text", "about"),
    [
        ("why do you ask", "why"),
        ("why not the alternator", "why-not"),
        ("where is it?", "where"),
        ("how do I do that", "how"),
        ("what if it's rough", "what-if"),
        ("how much longer", "how-long"),
        ("are you sure", "how-sure"),
        ("what do you think it is", "what-likely"),
        ("what have we found so far", "what-found"),
        ("what's an idler", "meaning"),
        ("what's next", "next"),
    ],
)
def test_every_question_is_told_apart(listener: Listener, text: str, about: str) -> None:
    (item,) = taken(listener, text, "spin-idler")
    assert isinstance(item, Asked)
    assert item.about == about


@pytest.mark.parametrize(
    ("text", "word"),
    [
        ("go back", "back"),
        ("taking a break", "pause"),
        ("note the undertray is missing", "note"),
        ("close the job", "close"),
        ("hand over to Ana", "hand-over"),
    ],
)
def test_words_that_lead_are_heard(listener: Listener, text: str, word: str) -> None:
    (item,) = taken(listener, text, None)
    assert isinstance(item, Do)
    assert item.word == word


def test_the_first_sentence_is_kept_whole(listener: Listener) -> None:
    text = "chirps at idle since the new belt, 4 cyl, 95000 km, decoupler pulley"
    assert set(listener.understand(text, None, "start").items) == {
        Symptom("belt-chirp"),
        Finding("when-heard", "steady-idle"),
        Finding("recent-work", "belt-replaced"),
        WordFact("cylinders", 4),
        MeasuredFact("odometer", 95_000_000.0),
        WordFact("pulley", "decoupler"),
    }


def test_a_moment_without_a_symptom_says_nothing(listener: Listener) -> None:
    assert listener.understand("brakes squeal when stopping", None, "start").items == (Nothing(),)


def test_what_was_taken_is_said_back_in_words(listener: Listener) -> None:
    said = listener.understand("idler rough, how long still", "spin-idler").said_back
    assert (
        said
        == "I take that as: Spin the idlers: Rough, loose, or spins on and on dry. You ask how long it still takes."
    )


def test_where_nothing_is_taken_the_nearest_meanings_are_offered(listener: Listener) -> None:
    rough, locked, smooth = "Rough, loose, or spins on and on dry", "It will not turn", "Smooth"
    offered = "Did you mean: " + " / ".join(f"Spin the idlers: {one}" for one in (smooth, locked, rough)) + "?"
    assert listener.understand("asdf", "spin-idler").said_back == f"{NOT_UNDERSTOOD} {offered}"
    assert (
        listener.understand("might be rough", "spin-idler").said_back
        == f"You are not sure. Was it: Spin the idlers: {rough}?"
    )
    assert listener.understand("asdf", "when-heard").said_back == f"{NOT_UNDERSTOOD} {ASK_OR_SAY}"


def test_the_same_text_says_the_same_again(listener: Listener) -> None:
    text = "idler rough, tensioner pulley too, no multimeter, why?"
    assert len({listener.understand(text, "spin-idler") for _ in range(3)}) == 1


@pytest.mark.parametrize(
    ("text", "check", "found"),
    [
        ("the idler is rough", "recent-work", Finding("spin-idler", "rough")),
        ("idler", "recent-work", Finding("recent-work", "other-front-end-work")),
        ("the belt runs true", "belt-tracking", Finding("belt-tracking", "runs-true")),
    ],
)
def test_a_part_that_is_named_is_told_from_an_answer(listener: Listener, text: str, check: str, found: Finding) -> None:
    assert listener.understand(text, check).items == (found,)
