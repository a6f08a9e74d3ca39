"""What tests of listening share: the shipped wording over the shipped knowledge."""

import pytest

from triage.knowledge.loading import load_knowledge
from triage.knowledge.shipped import trees_folder
from triage.knowledge.wording.matching import Matcher
from triage.knowledge.wording.words import load_words
from triage.listening.listener import Listener
from triage.listening.phrasebook import load_phrasebook


@pytest.fixture(scope="session")
def listener() -> Listener:
    knowledge = load_knowledge(trees_folder())
    matcher = Matcher(load_words(trees_folder()), knowledge.trees)
    return Listener(knowledge, load_phrasebook(trees_folder()), matcher)
