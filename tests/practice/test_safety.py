"""Safety is taught: right and wrong are proposed, what is missed is named with what would have hurt."""

from triage.practice.exercise import Exercise, Setting
from triage.practice.safety import MOST_RIGHT, Examiner, Question, Stands
from triage.practice.vehicle import drawn
from triage.practice.wording import Wrong


def asked(setting: Setting, state: str = "running") -> tuple[Examiner, Question]:
    examiner = Examiner(setting.knowledge, setting.words.proposals.wrong, "k")
    question = examiner.question(Stands(), setting.knowledge.states[state], 1, untouched=False)
    assert question is not None
    return examiner, question


def places(question: Question, *, right: bool) -> list[int]:
    return [at for at, one in enumerate(question.proposals) if (one.right is not None) == right]


def test_right_and_wrong_are_proposed_for_every_state(setting: Setting) -> None:
    for state in setting.knowledge.states:
        _, question = asked(setting, state)
        assert 0 < len(places(question, right=True)) <= MOST_RIGHT
        assert len(places(question, right=False)) > 1


def test_all_that_is_right_and_nothing_else_is_no_error(setting: Setting) -> None:
    examiner, question = asked(setting)
    named = examiner.named(question, places(question, right=True))
    assert not named.missed
    assert named.good == len(places(question, right=True))


def test_each_right_one_that_is_missed_is_an_error_with_its_harm(setting: Setting) -> None:
    examiner, question = asked(setting)
    named = examiner.named(question, ())
    assert len(named.missed) == len(places(question, right=True))
    harms = {one.harm for one in setting.knowledge.hazards.values()}
    assert all(any(harm in one.harm for harm in harms) for one in named.missed)


def test_a_dangerous_proposal_that_is_taken_is_an_error_and_a_needless_one_is_not(setting: Setting) -> None:
    bad = Wrong(says="Gloves on.", why="They are caught.", hurts="drawn-in")
    idle = Wrong(says="The radio is off.", why="It makes no difference.")
    examiner = Examiner(setting.knowledge, (bad, idle), "k")
    question = examiner.question(Stands(), setting.knowledge.states["running"], 1, untouched=False)
    assert question is not None
    named = examiner.named(question, range(len(question.proposals)))
    assert [(one.what, one.harm) for one in named.missed] == [
        ("Gloves on. They are caught.", setting.knowledge.hazards["drawn-in"].harm)
    ]
    assert named.needless == ("The radio is off. It makes no difference.",)


def test_every_wrong_proposal_names_a_hazard_that_there_is(setting: Setting) -> None:
    for one in setting.words.proposals.wrong:
        assert one.hurts in ("", *setting.knowledge.hazards)


def test_what_holds_is_not_asked_again_and_what_ended_is(setting: Setting) -> None:
    exercise = Exercise(setting, drawn(setting.knowledge, "belt-squeal", 1, 3))
    assert exercise.ask_safety(["belt-condition"])
    exercise.go(["belt-condition"])
    assert exercise.ask_safety(["belt-fit"]) is None
    assert exercise.ask_safety(["load-step"])


def test_over_a_few_states_every_line_of_a_card_comes_up(setting: Setting) -> None:
    examiner = Examiner(setting.knowledge, (), "k")
    target = setting.knowledge.states["running"]
    for number in range(6):
        examiner.question(Stands(), target, number, untouched=False)
    assert set(examiner.asked) == {one.id for one in Stands().lacking(setting.knowledge, target)}
