"""How people say things: the wording in `listening/` of a folder of knowledge; it travels in no trace."""

from pathlib import Path
from typing import Annotated, Final, Self

from pydantic import Field, StringConstraints, model_validator

from triage.documents import Model, build
from triage.documents.reading import read_document
from triage.knowledge.models import Id, PulleyType
from triage.listening.items import About, Control

FOLDER: Final = "listening"
CHECKS: Final = "checks.yaml"
SPEECH: Final = "speech.yaml"
Pattern = Annotated[str, StringConstraints(pattern=r"^[a-z0-9.]+-?([ |][a-z0-9.]+-?)*$", max_length=400)]
Named = Annotated[str, StringConstraints(pattern=r"^@[a-z]+(-[a-z]+)*$", max_length=60)]
"""@ and the name of a set of patterns."""
Phrase = Pattern | Named
Patterns = tuple[Pattern, ...]


class CheckWords(Model):
    """How the outcomes of one check are said."""

    about: Patterns = ()
    """What names the check where it is not on screen; its phrases count for it only together with one of these."""
    covers: Patterns = ()
    """What it is about besides while it is on screen: every pulley, every bracket."""
    outcomes: dict[Id, tuple[Phrase, ...]]
    on_screen: dict[Id, tuple[Phrase, ...]] = Field(default_factory=dict)
    """Further phrases that say enough only as an answer to the check on screen."""
    told: bool = False
    """Whether a complaint may tell it, with a word about it; else a complaint tells only what was felt by hand."""
    complaint_only: bool = False
    """Whether it is only answered unasked while the complaint is being said."""
    freely: bool = False
    """Whether its phrases say enough without a word about the check: moments, and what was done before."""
    together: bool = False
    """Whether several of its outcomes are said in one breath; else of two in one clause the longer is meant."""
    moment: bool = False
    """Whether it asks when something comes: without a symptom a moment says nothing."""
    yes: Id | None = None
    """The outcome that a yes to its question is; none where a yes says nothing or too little."""
    no: Id | None = None
    good: Id | None = None
    """The outcome that "fine" is."""
    bad: Id | None = None
    unsure: Id | None = None
    """The outcome that a doubt is."""

    @property
    def meant(self) -> dict[str, Id]:
        """What a plain word means here, by the word."""
        named = {"yes": self.yes, "no": self.no, "good": self.good, "bad": self.bad, "unsure": self.unsure}
        return {word: outcome for word, outcome in named.items() if outcome}


class AllChecks(Model):
    """The wording of every check."""

    sets: dict[Id, Patterns] = Field(default_factory=dict)
    """Patterns that several outcomes share, by a name."""
    checks: dict[Id, CheckWords]

    @model_validator(mode="after")
    def _sets_exist(self) -> Self:
        words = [words for check in self.checks.values() for words in (check.outcomes, check.on_screen)]
        phrases = (phrase for one in words for listed in one.values() for phrase in listed)
        named = {phrase[1:] for phrase in phrases if phrase.startswith("@")}
        if strange := sorted(named - set(self.sets)):
            raise ValueError(f"There is no set '{strange[0]}'.")
        return self

    def patterns(self, check: str, outcome: str) -> tuple[str, ...]:
        """Every pattern of an outcome as an answer to its check, sets among them."""
        return (*self.free(check, outcome), *self._spelled(self.checks[check].on_screen.get(outcome, ())))

    def free(self, check: str, outcome: str) -> tuple[str, ...]:
        """The patterns of an outcome that count where its check is not on screen too."""
        return self._spelled(self.checks[check].outcomes.get(outcome, ()))

    def _spelled(self, phrases: tuple[str, ...]) -> tuple[str, ...]:
        sets = (self.sets[phrase[1:]] if phrase.startswith("@") else (phrase,) for phrase in phrases)
        return tuple(pattern for listed in sets for pattern in listed)


class Speech(Model):
    """What is said whatever the check: moods, questions, words that lead, tools, facts."""

    short_forms: dict[str, str]
    """What a word stands for, such as "isnt": "is not"."""
    plain: Patterns
    """Ordinary words that must not be taken for a misspelling."""
    recognised: Patterns
    """Words that are recognised when they are misspelled, besides those of the patterns."""
    joins: Patterns
    """Words that begin a clause."""
    passing: Patterns
    """Words that go with any sentence, whatever it is about."""
    filler: Patterns
    """Words that say nothing."""
    negating: Patterns
    no_negation: Patterns
    """What looks like a negation and is none: "not only", "no doubt"."""
    restarting: Patterns
    """What begins anew behind something denied: "not fuel, it is coolant"."""
    ends_negation: Patterns
    """Words behind which a negation no longer holds: "not rough but notchy"."""
    doubting: Patterns
    supposing: Patterns
    """What makes all that follows a thought: "if", "I hope"."""
    elsewhere: Patterns
    """What makes a clause one about another time, another vehicle or what should be."""
    printed: Patterns
    """What makes a number one that stands on a sheet."""
    hearsay: Patterns
    """What makes a sentence what somebody else said."""
    beside: Patterns
    """Other subjects: "the coffee is smooth"."""
    correcting: Patterns
    """What takes back the words before: "no wait"."""
    good: Patterns
    bad: Patterns
    plainly: Patterns
    """What goes with "fine" and "bad" without a word about the check: "all of it", "far as I can tell"."""
    yes: Patterns
    no: Patterns
    unsure: Patterns
    denying: Patterns
    """What denies the words before it: "does not bother it"."""
    echoing: Patterns
    """What says the same of another part: "so is"."""
    cannot: Patterns
    obstacle: Patterns
    """What stands in the way of a check."""
    lacking: Patterns
    """What says that a tool is not at hand."""
    tools: dict[Id, Patterns]
    questions: Patterns
    """What a question begins with."""
    asking: Patterns
    """What begins a question wherever it stands."""
    turned: Patterns
    """The same, where verb and subject change places; later in a sentence they only go on: "…, does it when cold"."""
    no_question: Patterns
    """What looks like a question and is none."""
    by_hand: Patterns
    """What says that a part was felt and not heard."""
    ask: dict[About, Patterns]
    do: dict[Control, Patterns]
    pulleys: dict[PulleyType, Patterns]
    specified: Patterns
    """What makes a pulley type that of the maker."""
    fitted: Patterns
    """The same, where the pulley is not what is being looked at."""
    odometer: Patterns
    cylinders: dict[str, Patterns]
    """Counts that are said in a way of their own, by the count."""
    recorded: Patterns
    """What is recorded by hand, wherever it is said: torques, parts that were fitted."""
    refused: Patterns
    """What only a person confirms, one by one: starts, parts, torques, signing off."""


class Phrasebook(Model):
    """All of it."""

    wording: AllChecks
    speech: Speech


def load_phrasebook(folder: Path) -> Phrasebook:
    """Read the wording of a folder of knowledge.

    Raises:
        DocumentFaulty: a file cannot be read or has not the right shape.
    """
    wording = build(read_document(folder / FOLDER / CHECKS), AllChecks)
    return Phrasebook(wording=wording, speech=build(read_document(folder / FOLDER / SPEECH), Speech))
