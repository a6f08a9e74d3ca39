"""Random sessions with words: nothing counts that was not said back and accepted, and no card feels a sentence."""

import pytest

from tests.bench import walk_words
from triage.present.typing.exchange import Exchange
from triage.present.typing.proposing import Proposal


def test_no_finding_counts_that_was_not_accepted_and_no_sentence_confirms() -> None:
    counts = walk_words.walk(900)
    assert counts["accepted"] > 10
    assert counts["said back"] > 30
    assert counts["refused or answered"] > 100
    assert counts["confirm: refused or answered"] > 10


def test_the_walk_notices_a_sentence_that_counts_at_once(monkeypatch: pytest.MonkeyPatch) -> None:
    def at_once(exchange: Exchange, proposal: Proposal | None) -> None:
        if proposal:
            exchange._accepted(proposal)

    monkeypatch.setattr(Exchange, "_propose", at_once)
    with pytest.raises(AssertionError):
        walk_words.walk(700)
