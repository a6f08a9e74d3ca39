"""The dialogue of an exercise, typed line by line."""

from collections.abc import Callable

import pytest

from tests.bench import practise_many as many
from tests.sizes import few_or_all
from triage.app.cases import read_cases
from triage.knowledge.shipped import trees_folder
from triage.listening.listener import Listener
from triage.practice.exercise import Exercise, Setting
from triage.practice.from_case import vehicle_of
from triage.practice.sealing import Seal
from triage.practice.vehicle import Vehicle, drawn
from triage.present.practising.dialogue import PracticeDialogue
from triage.present.practising.said import MARK
from triage.present.practising.typed import numbers, shares

Open = Callable[..., PracticeDialogue]


@pytest.fixture
def opened(setting: Setting, listener: Listener) -> Open:
    def opened(*causes: str, symptom: str = "belt-squeal", **more: object) -> PracticeDialogue:
        vehicle = Vehicle("k", symptom, 1, "decoupler", 1e8, causes, causes, **more)  # type: ignore[arg-type]
        return PracticeDialogue(Exercise(setting, vehicle), listener, Seal(1), lambda *_: None)

    return opened


def typed(dialogue: PracticeDialogue, *lines: str) -> str:
    """What is said to the last of some lines."""
    said = [dialogue.take(line) for line in lines]
    return "\n".join(said[-1])


def safely(dialogue: PracticeDialogue, line: str) -> str:
    """Ask for a check and name all that must be so before it."""
    said = typed(dialogue, line)
    question = dialogue._question
    if dialogue.view.many and question and dialogue.view.ask == "What must be so?":
        right = [str(at) for at, one in enumerate(question.proposals, 1) if one.right]
        said = typed(dialogue, " ".join(right))
    return said


def test_every_screen_says_that_no_vehicle_is_to_be_touched(opened: Open) -> None:
    dialogue, titles = opened("belt-worn"), []
    for line in ("tree", "1", "belt condition", "0", "1", "think", "1 50", "conclude", "", "1", "", "1", "0", ""):
        titles.append(dialogue.view.title)
        dialogue.take(line)
    assert dialogue.over
    assert len(titles) == 14
    assert all(title.startswith(MARK) for title in titles)


def test_a_thousand_seeds_end(setting: Setting, listener: Listener) -> None:
    ended = 0
    for seed, vehicle in many.vehicles(setting.knowledge, range(few_or_all(12, 1000))):
        dialogue = many.ends(setting, listener, vehicle, seed)
        assert dialogue.exercise.ended is not None
        ended += 1
    assert ended == few_or_all(12, 1000)


def test_a_check_is_asked_for_in_words_and_judged_in_words(opened: Open) -> None:
    dialogue = opened("belt-worn", fixed={"belt-condition": ("worn",)})
    typed(dialogue, "has it been met", "1")
    said = safely(dialogue, "look at the condition of the belt")
    assert said.startswith("Rightly named")
    assert "Worn" not in said
    assert typed(dialogue, "it is glazed and cracked, worn out") == "Taken: Worn: polished, cracked or shallow ribs."
    assert dialogue.exercise.made["belt-condition"] == ("worn",)


def test_what_the_bay_shows_is_not_said_in_the_words_of_an_outcome(setting: Setting) -> None:
    for check, told in setting.words.perceived.checks.items():
        for outcome, sentences in told.items():
            known = setting.knowledge.checks[check].outcome(outcome) if check in setting.knowledge.checks else None
            assert known is None or known.words not in sentences


def test_words_that_may_mean_several_checks_are_asked_back(opened: Open) -> None:
    said = typed(opened("belt-worn"), "tensioner")
    assert said.startswith("Which of these do you mean?")
    assert "Travel of the tensioner arm" in said


def test_a_start_that_comes_too_early_is_said_to_be_unsafe_and_counted(opened: Open) -> None:
    dialogue = opened("belt-worn")
    said = typed(dialogue, "watch the belt run")
    assert "SAFETY:" in said
    assert "What would have hurt:" in said
    assert len(dialogue.exercise.missed) == 1


def test_a_round_is_made_in_one_go_and_each_line_of_it_is_judged(opened: Open) -> None:
    dialogue = opened("belt-worn")
    typed(dialogue, "tree", "1", "tree", "1", "tree", "1", "tree", "1")
    safely(dialogue, "tree")
    asked = []
    while dialogue.view.ask != "Which check do you make next?":
        asked.append(dialogue.view.ask)
        dialogue.take("1")
    assert len(asked) > 1
    assert len(dialogue.exercise.course) == 5
    assert dialogue.exercise.course[-1].minutes < sum(
        dialogue.exercise.knowledge.checks[one].minutes for one in dialogue.exercise.course[-1].checks
    )


def test_what_was_missed_before_a_state_is_named_in_the_debrief_apart_from_time(opened: Open) -> None:
    dialogue = opened("belt-worn")
    typed(dialogue, "tree", "1", "belt condition", "0", "1", "conclude", "")
    place = dialogue.exercise.nameable().index("belt-worn") + 1
    said = typed(dialogue, str(place), "", "2")
    assert "Hidden in it: Belt worn (it made the complaint)." in said
    assert "The complaint is gone." in said
    assert "Safety errors: 4. No time is worth one of them." in said


def test_something_judged_wrongly_is_named_in_the_debrief(opened: Open) -> None:
    dialogue = opened("belt-worn", fixed={"belt-condition": ("worn",)})
    typed(dialogue, "tree", "1")
    safely(dialogue, "belt condition")
    said = typed(dialogue, "1", "conclude", "", "0")
    assert "Condition of the belt: you took it for “Sound, dry, ribs whole”; it was “Worn" in said
    assert "The complaint is still there." in said


def test_a_sound_vehicle_has_nothing_to_cure(opened: Open) -> None:
    said = typed(opened(), "conclude", "", "0")
    assert "Hidden in it: nothing." in said
    assert "There was no fault to cure." in said


def test_a_recorded_case_answers_as_it_was_found(setting: Setting, listener: Listener) -> None:
    path = sorted((trees_folder() / "cases").glob("*.yaml"))[0]
    cases = read_cases(path, setting.knowledge)
    for seed in range(8):
        vehicle = vehicle_of(setting.knowledge, cases, "", seed)
        exercise = Exercise(setting, vehicle)
        for check, outcomes in vehicle.fixed.items():
            if not setting.knowledge.checks[check].needs_complaint:
                assert exercise.answers.shown(check).outcomes == outcomes
        assert many.ends(setting, listener, vehicle, seed).exercise.ended is not None


def test_a_line_that_fits_nothing_is_refused_and_the_question_stays(opened: Open) -> None:
    dialogue = opened("belt-worn")
    for line in ("999", "frobnicate"):
        view = dialogue.view
        assert typed(dialogue, line)
        assert dialogue.view == view
    typed(dialogue, "conclude")
    assert "number with percent" in typed(dialogue, "belt 200")
    assert "not among the numbers" in typed(dialogue, "", "77")


def test_hints_come_in_three_steps_with_their_price_and_begin_anew_after_a_check(opened: Open) -> None:
    dialogue = opened("belt-worn")
    typed(dialogue, "tree", "1")
    first, second, third = (typed(dialogue, "hint") for _ in range(3))
    assert first.startswith("Still open, the likeliest first:")
    assert "That hint counts 2 min in the score." in first
    assert second.startswith("What tells them apart best:")
    assert third.startswith("The reference would make:")
    assert dialogue.exercise.hint_min == 17.0
    typed(dialogue, "tree", "1")
    assert typed(dialogue, "hint").startswith("Still open")


def test_it_can_be_tried_again_from_where_most_was_lost(opened: Open) -> None:
    dialogue = opened("belt-worn", fixed={"belt-condition": ("worn",)})
    typed(dialogue, "tree", "1", "tree", "1", "conclude", "", "0")
    assert dialogue.view.ask == "Try again from there?"
    said = typed(dialogue, "again")
    assert "Once more from there." in said
    assert dialogue.exercise.ended is None
    assert "complaint-heard" in dialogue.exercise.made
    assert "DEBRIEF" in typed(dialogue, "conclude", "", "0")


def test_beliefs_are_numbers_with_percent() -> None:
    assert shares("2 60, 1 20 %", ("a", "b")) == {"b": 0.6, "a": 0.2}
    assert numbers("2", 2) == (1,)


def test_a_vehicle_without_words_of_its_own_is_said_in_a_phrase_of_the_tree(
    setting: Setting, listener: Listener
) -> None:
    from dataclasses import replace

    from triage.practice.wording import PracticeWords

    bare = replace(setting, words=PracticeWords())
    dialogue = PracticeDialogue(
        Exercise(bare, drawn(setting.knowledge, "belt-squeal", 5, 2)), listener, Seal(2), lambda *_: None
    )
    phrases = setting.knowledge.trees["belt-squeal"].phrases
    assert any(phrase in dialogue.view.lines[0] for phrase in phrases)
