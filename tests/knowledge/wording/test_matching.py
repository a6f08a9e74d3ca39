"""Free words to symptoms: the shipped words, tried with phrases of many voices."""

from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from triage.documents.reading import read_document
from triage.errors import TriageError
from triage.knowledge.loading import load_knowledge
from triage.knowledge.models import Tree
from triage.knowledge.shipped import trees_folder
from triage.knowledge.wording.matching import ENOUGH, LONGEST, Matcher
from triage.knowledge.wording.tokens import tokens
from triage.knowledge.wording.words import load_words

FOLDER = Path(__file__).parents[2] / "phrases"
HALVES = ("tuning", "held-out")
NOTHING = "nothing"
LEAST_RIGHT = 0.92
LEAST_PHRASES = 200
LEAST_LISTED = 12


@pytest.fixture(scope="module")
def trees() -> dict[str, Tree]:
    return load_knowledge(trees_folder()).trees


@pytest.fixture(scope="module")
def matcher(trees: dict[str, Tree]) -> Matcher:
    return Matcher(load_words(trees_folder()), trees)


def phrases(half: str) -> list[tuple[str, str]]:
    data = read_document(FOLDER / f"{half}.yaml").data
    assert isinstance(data, dict)
    return [(meant, phrase) for meant, listed in data.items() for phrase in listed]


def first(matcher: Matcher, text: str) -> str:
    return next((match.symptom for match in matcher.match(text)), NOTHING)


@pytest.mark.parametrize(
    ("text", "meant"),
    [
        ("goes chirp chirp like a cricket at idle", "belt-chirp"),
        ("buzzes for a few seconds after I turn it off", "shutdown-buzz"),
        ("sqeals wen its cold", "belt-squeal"),
        ("the brakes squeal", NOTHING),
        ("the radio buzzes", NOTHING),
        ("oil on the floor", NOTHING),
        ("the belt squeals when I brake", "belt-squeal"),
        ("it chirps like a smoke alarm", "belt-chirp"),
        ("the smoke alarm chirps", NOTHING),
        ("the timing belt snapped", NOTHING),
        ("no chirp", NOTHING),
        ("", NOTHING),
        ("?!… 🔧🔧", NOTHING),
        ("пищит ремень", NOTHING),
    ],
)
def test_words_are_taken_for_what_they_mean(matcher: Matcher, text: str, meant: str) -> None:
    assert first(matcher, text) == meant


@pytest.mark.parametrize("half", HALVES)
def test_most_phrases_are_right_first_and_little_that_fits_nothing_is_matched(matcher: Matcher, half: str) -> None:
    right = [(meant, first(matcher, phrase) == meant) for meant, phrase in phrases(half)]
    fitting = [good for meant, good in right if meant != NOTHING]
    nothing = [good for meant, good in right if meant == NOTHING]
    assert sum(fitting) >= LEAST_RIGHT * len(fitting)
    assert sum(nothing) >= LEAST_RIGHT * len(nothing)


def test_the_phrases_are_many_and_apart_from_each_other_and_from_those_of_the_trees(trees: dict[str, Tree]) -> None:
    tried = [" ".join(tokens(phrase)) for half in HALVES for _, phrase in phrases(half)]
    listed = {" ".join(tokens(phrase)) for tree in trees.values() for phrase in tree.phrases}
    assert len(set(tried)) == len(tried) >= LEAST_PHRASES
    assert listed.isdisjoint(tried)
    assert {meant for half in HALVES for meant, _ in phrases(half)} == {*trees, NOTHING}


def test_every_tree_lists_enough_phrases_to_be_found_by(trees: dict[str, Tree]) -> None:
    assert all(len(set(tree.phrases)) >= LEAST_LISTED for tree in trees.values())


def test_every_phrase_of_a_tree_leads_to_that_tree(matcher: Matcher, trees: dict[str, Tree]) -> None:
    astray = [
        (symptom, phrase, first(matcher, phrase))
        for symptom, tree in trees.items()
        for phrase in tree.phrases
        if first(matcher, phrase) != symptom
    ]
    assert astray == []


def test_a_tree_without_words_of_its_own_is_found_by_its_phrases(trees: dict[str, Tree]) -> None:
    other = next(iter(trees.values())).model_copy(update={"phrases": ("pulley glows purple at dusk",)})
    matcher = Matcher(load_words(trees_folder()), {"purple-pulley": other})
    assert first(matcher, "at dusk the pulley glows purple") == "purple-pulley"
    assert first(matcher, "it hovers") == NOTHING


def test_matches_stand_best_first_and_above_the_least_score(matcher: Matcher) -> None:
    matches = matcher.match("belt squeals and the battery light is on")
    scores = [match.score for match in matches]
    assert {match.symptom for match in matches} == {"low-charge", "belt-squeal"}
    assert scores == sorted(scores, reverse=True)
    assert all(ENOUGH / (2 * ENOUGH) <= score < 1 for score in scores)


def test_a_text_too_long_for_one_complaint_is_refused_with_its_length(matcher: Matcher) -> None:
    assert matcher.match("x" * LONGEST) == ()
    with pytest.raises(TriageError, match=f"{LONGEST + 1} characters"):
        matcher.match("x" * (LONGEST + 1))


@pytest.mark.parametrize(
    "text",
    [
        "\x1b[2J\x00\x07",
        "\u202ebelt\ud800",
        "a " * (LONGEST // 2),
        "((((" * 100,
        "\ufdfa" * LONGEST,
        "squeal " * 100,
        "-" * 60,
    ],
)
def test_hostile_text_is_matched_or_not_and_nothing_else(matcher: Matcher, text: str) -> None:
    assert isinstance(matcher.match(text), tuple)


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(text=st.text(max_size=LONGEST))
def test_any_text_is_answered_with_scores_between_a_half_and_one(matcher: Matcher, text: str) -> None:
    assert all(0.5 <= match.score < 1 for match in matcher.match(text))


def test_the_same_words_get_the_same_answer_whatever_their_case_and_signs(matcher: Matcher) -> None:
    plain = matcher.match("the belt squeals when it is cold")
    assert matcher.match("THE BELT … SQUEALS, when it is COLD!!!") == plain
    assert plain
