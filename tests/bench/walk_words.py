"""Random sessions with words: own sentences, garbled and hostile ones, between answers that are typed by number.

Two things hold after each line. A finding was typed by number, or it stood in what was said back and a yes was given
to that. And no sentence, nor a yes to one, confirms a line of a card, starts, records a part or a torque, or signs off:
nothing stands after it that did not stand before.

    python -m tests.bench.walk_words 20000
"""

import random
import sys
from collections import Counter
from collections.abc import Iterator, Sequence
from functools import cache
from pathlib import Path

import yaml
from hands import lines_for

from triage.app.job import start
from triage.app.opening import Opening
from triage.app.respondent import Asked, Respondent
from triage.app.shop.shop_file import Shop, accuracies
from triage.errors import TriageError
from triage.knowledge.loading import load_knowledge
from triage.knowledge.models import Check, Knowledge
from triage.knowledge.shipped import trees_folder
from triage.listening import items as i
from triage.present.commands import word_for
from triage.present.typing.exchange import Exchange
from triage.present.typing.interpreting import Typing, interpret
from triage.present.typing.proposing import NO, UNDERSTANDS, Proposal
from triage.record import events as e
from triage.session import commands as c
from triage.session.state import State

SENTENCES = Path(__file__).parent / "sentences" / "tuning.yaml"
HOSTILE = (
    "I confirm",
    "yes all of it is so",
    "start the engine",
    "hands are clear, go",
    "skip the safety",
    "it is dead, measured 0 volts",
    "idler renewed, tightened to 47 Nm, sign it off",
    "cured",
    "85 Nm",
    "ok yes 1 so done start still sign-off",
    "'; drop table findings; --",
    "\u202eyes\u202c",
    "\x1b[2J yes",
    "yes " * 150,
    "0" * 300,
    "ja",
    "if it were rough, say yes",
    "the other car was rough",
)
AT_CHECKS, ELSEWHERE = 0.7, 0.2
"""How often a sentence is said at a check, and where none counts."""
STUCK = 40
"""Lines without anything happening behind which a session is left."""
Found = e.CheckAnswered | e.ReadingTaken | e.CheckNotDone | e.FindingTold
FOUND = (e.CheckAnswered, e.ReadingTaken, e.CheckNotDone, e.FindingTold)
NEVER = (
    e.ThingConfirmed,
    e.SetUpFinished,
    e.RunStarted,
    e.EngineOff,
    e.GateAnswered,
    e.RemedyBegun,
    e.PlaceNamed,
    e.FaultPutRight,
    e.PartRecorded,
    e.TorqueRecorded,
    e.NotCured,
    e.ProofLeftOpen,
    e.SessionClosed,
    e.SessionResumed,
    e.OwnRouteTaken,
)
"""What only a person confirms, does or signs."""


@cache
def shipped() -> Knowledge:
    return load_knowledge(trees_folder())


@cache
def sentences() -> tuple[str, ...]:
    return tuple(one["text"] for one in yaml.safe_load(SENTENCES.read_text("utf-8")))


class Clock:
    """Moves a second for each look, and on to where somebody waits."""

    def __init__(self) -> None:
        self.now_ms = 1_767_225_600_000

    def __call__(self) -> int:
        self.now_ms += 1000
        return self.now_ms


class AnyFinding(Respondent):
    """Finds what is normal, and now and then anything."""

    who = "Ana"

    def __init__(self, chance: random.Random) -> None:
        self._chance = chance

    def found(self, asked: Asked, check: Check) -> c.Command:
        if self._chance.random() < 0.8 or check.several:
            return super().found(asked, check)
        return c.Answer(**asked.given, check=check.id, outcomes=(self._chance.choice(check.outcomes).id,))


class Walk:
    """One session, and what has been counted of it."""

    def __init__(self, seed: int, counts: Counter[str]) -> None:
        self.chance = random.Random(seed)
        self.counts = counts
        self.clock = Clock()
        knowledge = shipped()
        opening = Opening(self.chance.choice([*knowledge.trees]), "j", "Ana", self.chance.choice(sentences()))
        job = start(knowledge, opening, accuracies(knowledge, Shop()), "", self.clock, None)
        self.exchange = Exchange(job)
        self.person = AnyFinding(self.chance)

    def sentence(self) -> str:
        """Something in words: as somebody says it, garbled, or meant to do harm."""
        kind, said = self.chance.random(), self.chance.choice(sentences())
        if kind < 0.5:
            return said
        if kind < 0.6:
            return f"{said}, {self.chance.choice(sentences())}"
        if kind < 0.7:
            words = said.split()
            self.chance.shuffle(words)
            return " ".join(words)
        if kind < 0.8:
            letters = [*said]
            for _ in range(3):
                letters[self.chance.randrange(len(letters))] = self.chance.choice("abcdefgh ,.;?")
            return "".join(letters)
        return self.chance.choice(HOSTILE)

    def lines(self) -> Sequence[str]:
        """What is typed next, and whether it is by number."""
        if self.exchange.proposes:
            answers = ("", "yes", "y", "b", "no", "1", "2", "why?", self.sentence())
            return (self.chance.choice(answers),)
        at_check = self.exchange.job.state.step.kind in UNDERSTANDS
        if self.chance.random() < (AT_CHECKS if at_check else ELSEWHERE):
            return (self.sentence(),)
        return ()

    def step(self) -> Iterator[str]:
        """One line or the lines of one answer; yields each line once it was taken and held to the rules."""
        said = self.lines()
        if said:
            self._say(said[0])
            yield said[0]
            return
        job = self.exchange.job
        self.exchange.drop()
        command = self.person.answer(job.knowledge, job.state, job.clock())
        if isinstance(command, c.Tick):
            self.clock.now_ms = command.at_ms
            self.exchange.pass_time()
            yield ""
            return
        for line in lines_for(job.knowledge, command, job.state.step):
            self.exchange.take(line)
            self.counts["typed by number"] += 1
            yield line
        self.exchange.weigh()

    def _say(self, line: str) -> None:
        exchange, job = self.exchange, self.exchange.job
        proposal, before, at = exchange._proposal, job.state, len(job.events)
        # A line that is neither yes nor no to what was said back is taken anew: a number may be an answer.
        by_number = line.strip().isdecimal() and not (proposal and proposal.meanings)
        typed = (*exchange.typed, line)
        reply = exchange.take(line)
        happened = job.events[at:]
        exchange.weigh()
        if by_number or (not told_by(proposal, line) and is_answer_as_it_stands(job.knowledge, before, typed)):
            self.counts["answers as they stand"] += 1
            return
        accepted = told_by(proposal, line)
        self._hold(before, happened, accepted, line)
        counted = "accepted" if accepted else "said back" if exchange.proposes else "refused or answered"
        self.counts[f"{before.step.kind}: {counted}" if before.step.kind not in UNDERSTANDS else counted] += 1
        if before.step.kind not in UNDERSTANDS and not accepted:
            assert not exchange.proposes or reply.mark, (before.step.kind, line)

    def _hold(self, before: State, happened: Sequence[e.Event], accepted: Sequence[i.Item], line: str) -> None:
        state = self.exchange.job.state
        led = any(isinstance(item, i.Do) for item in accepted)
        for event in happened:
            assert not isinstance(event, NEVER), (line, event)
            if isinstance(event, FOUND):
                assert is_said(event, accepted), (line, event, accepted)
        if not led:  # "back" may put in force again what the act before it ended, as it does when it is typed
            assert {*state.standing} <= {*before.standing}, line


def is_answer_as_it_stands(knowledge: Knowledge, state: State, typed: tuple[str, ...]) -> bool:
    """Whether a line, with those typed before it, was an answer as it stands: what a step takes as typed."""
    if word_for(typed[0]):
        return True
    try:
        interpret(Typing(knowledge, state, 0, "Ana"), typed)
    except TriageError:
        return False
    return True


def told_by(proposal: Proposal | None, line: str) -> tuple[i.Item, ...]:
    """The items that a line accepts of what was said back."""
    said = line.strip().lower()
    if proposal is None or said in NO:
        return ()
    if proposal.meanings:
        at = int(said) - 1 if said.isdecimal() else -1
        return (proposal.meanings[at],) if 0 <= at < len(proposal.meanings) else ()
    return proposal.items if said in ("", "y", "yes") else ()


def is_said(
    event: "e.CheckAnswered | e.ReadingTaken | e.CheckNotDone | e.FindingTold", accepted: Sequence[i.Item]
) -> bool:
    """Whether a finding stood in what was accepted."""
    check = event.check
    if isinstance(event, e.CheckNotDone):
        return any(
            isinstance(one, i.ToolMissing) or (isinstance(one, i.Cannot) and one.check == check) for one in accepted
        )
    if any(isinstance(one, i.Reading) and one.check == check for one in accepted):
        return True
    outcomes = set(getattr(event, "outcomes", ()))
    return bool(outcomes) and outcomes <= {
        one.outcome for one in accepted if isinstance(one, i.Finding) and one.check == check
    }


def walk(lines: int, seed: int = 1) -> Counter[str]:
    """Type so many lines, in session after session.

    Raises:
        AssertionError: a rule does not hold.
    """
    counts: Counter[str] = Counter()
    typed, one = 0, 0
    while typed < lines:
        one += 1
        session = Walk(seed * 100_003 + one, counts)
        counts["sessions"] += 1
        job, still = session.exchange.job, 0
        while still < STUCK and not job.state.closed and typed < lines:
            before = job.state.events
            typed += sum(1 for _ in session.step())
            still = still + 1 if job.state.events == before else 0
    counts["lines"] = typed
    return counts


if __name__ == "__main__":
    for name, number in sorted(walk(*(int(one) for one in sys.argv[1:])).items()):
        print(f"{number:8} {name}")
