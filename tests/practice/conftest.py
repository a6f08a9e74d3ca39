"""What tests of practice share: a setting, and an exercise at a vehicle."""

import pytest

from triage.app.shop.shop_file import Shop, accuracies
from triage.knowledge.models import Knowledge
from triage.knowledge.shipped import trees_folder
from triage.knowledge.wording.matching import Matcher
from triage.knowledge.wording.words import load_words
from triage.listening.listener import Listener
from triage.listening.phrasebook import load_phrasebook
from triage.practice.exercise import Setting
from triage.practice.wording import load_practice_words
from triage.record.prices import Prices
from triage.record.weights import Weights


@pytest.fixture(scope="session")
def setting(knowledge: Knowledge) -> Setting:
    words = load_practice_words(trees_folder())
    return Setting(knowledge, words, accuracies(knowledge, Shop()), Weights(), Prices())


@pytest.fixture(scope="session")
def listener(knowledge: Knowledge) -> Listener:
    folder = trees_folder()
    return Listener(knowledge, load_phrasebook(folder), Matcher(load_words(folder), knowledge.trees))
