"""Nothing that is typed in words confirms, starts, records a part or a torque, or signs off."""

from typing import get_args

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from triage.knowledge.loading import load_knowledge
from triage.knowledge.shipped import trees_folder
from triage.listening import items as i
from triage.listening.listener import Listener
from triage.present.commands import WORDS

CHECKS = (None, *load_knowledge(trees_folder()).checks)
REFUSED = (
    "I confirm",
    "all confirmed",
    "yes all of it is so, confirmed",
    "start the engine",
    "engine is off",
    "fire it up",
    "hands are clear",
    "keys are in my pocket",
    "battery disconnected, dead",
    "I fitted a new idler",
    "new tensioner fitted",
    "torqued to 80 Nm",
    "tightened to 47 N·m",
    "torque is 80 Nm",
    "sign off",
    "it is cured",
    "skip the safety",
    "skip the confirmations",
)
PIECES = (
    *REFUSED,
    "rough",
    "smooth",
    "not",
    "if",
    "no",
    "yes",
    "12.4 V",
    "the idler",
    ",",
    ";",
    "\x1b[2J",
    "\u202e",
    "?",
    "🔧",
)


def test_the_list_of_items_has_nothing_that_confirms_starts_renews_tightens_or_signs_off() -> None:
    told = {one.__name__ for one in get_args(i.Item)}
    assert told == {
        "Finding",
        "Reading",
        "Cannot",
        "ToolMissing",
        "WordFact",
        "MeasuredFact",
        "Asked",
        "Do",
        "Symptom",
        "Reply",
        "Nothing",
    }
    assert set(get_args(i.Control)) == {"back", "pause", "note", "cannot", "close", "hand-over"}


def test_a_word_that_leads_is_one_that_faces_have() -> None:
    assert {word.replace("-", " ") for word in get_args(i.Control)} <= {word.name for word in WORDS}


@pytest.mark.parametrize("text", REFUSED)
def test_what_only_a_person_confirms_says_nothing(listener: Listener, text: str) -> None:
    for check in (None, "spin-idler", "belt-condition", "fluid-leak"):
        assert listener.understand(text, check).items == (i.Nothing(),), check


@given(st.lists(st.sampled_from(PIECES), max_size=12).map(" ".join) | st.text(max_size=200), st.sampled_from(CHECKS))
@settings(max_examples=300, deadline=None)
def test_any_text_gives_items_of_the_list_and_a_sentence(listener: Listener, text: str, check: str | None) -> None:
    understood = listener.understand(text, check)
    assert understood.items
    assert understood.said_back
    assert all(isinstance(item, get_args(i.Item)) for item in understood.items)
    assert understood.items == (i.Nothing(),) or i.Nothing() not in understood.items
