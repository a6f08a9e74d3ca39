"""What is made of a sentence: it is said back and waits for a yes, or the nearest meanings are offered, or it is asked.

Only at checks: a line of a card, a start, a part, a torque and a sign-off are never answered by a sentence, nor is
anything else proposed there.
"""

from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING, Final

from triage.app.sentences import listener_of
from triage.knowledge.gates import lets_run
from triage.listening.items import Asked, Cannot, Finding, Item, Nothing, Reply, ToolMissing
from triage.listening.said_back import said_back
from triage.present.answers.answering import Question
from triage.present.steps.findings import say_finding
from triage.present.typing.accepting import MISSING, Told, is_asked, needs, told_in
from triage.record.events import NoteAdded

if TYPE_CHECKING:
    from collections.abc import Iterator

    from triage.app.job import Job
    from triage.knowledge.models import Check, Knowledge
    from triage.listening.listener import Listener

UNDERSTANDS: Final = ("check", "round", "result")
"""Kinds of steps at which a sentence may say something."""
ANSWERS: Final = ("conclusion",)
"""Kinds of steps at which a sentence may only ask."""
YES: Final = ("", "y", "yes")
NO: Final = ("n", "no", "b", "back")
ENTER: Final = "Enter: yes, b: no."
CUSTOMER: Final = "the customer"
WHICH: Final = "Its number; Enter: none of these."


@dataclass(frozen=True)
class Proposal:
    """What waits for a yes, or for the number of what was meant.

    Args:
        text: what was typed.
        on_screen: the check that it was typed at; "" where none was.
        question: what is asked.
        items: what counts on a yes.
        meanings: what may have been meant; empty where a yes is asked for.
        by: who says so, where that is not whoever types.
    """

    text: str
    on_screen: str
    question: str
    items: tuple[Item, ...] = ()
    meanings: tuple[Finding, ...] = ()
    by: str = ""


@dataclass(frozen=True)
class Heard:
    """What came of a sentence.

    Args:
        lines: what to say at once.
        asked: the questions in it.
        supposed: the outcomes that were only thought of.
        proposal: what waits for a yes.
    """

    lines: tuple[str, ...] = ()
    asked: tuple[Asked, ...] = ()
    proposal: Proposal | None = None
    supposed: tuple[Finding, ...] = ()

    def questions(self, knowledge: "Knowledge", text: str, on_screen: str) -> tuple[Question, ...]:
        """What is asked, at the check on screen or none."""
        check = knowledge.checks.get(on_screen)
        return tuple(Question(one.about, text, check, self.supposed) for one in self.asked)


@dataclass
class Words:
    """What was said in a session, besides its answers.

    Args:
        job: the session.
        waiting: what was told and accepted before its step came, by its check.
        missing: the tools that are not at hand.
        offered: the checks for which it was said that a tool is missing.
        complaint: what of the complaint is still to be offered; None before anything was.
    """

    job: "Job"
    waiting: dict[str, Told] = field(default_factory=dict)
    missing: set[str] = field(default_factory=set)
    offered: set[str] = field(default_factory=set)
    complaint: list[Proposal] | None = None

    def __post_init__(self) -> None:
        """Know again which tools were not at hand."""
        names = {f"{MISSING}{tool.name}": tool.id for tool in self.job.knowledge.tools.values()}
        notes = (event.text for event in self.job.events if isinstance(event, NoteAdded))
        self.missing = {names[text] for text in notes if text in names}

    @property
    def _listener(self) -> "Listener":
        return listener_of(self.job.knowledge)

    def heard(self, line: str, on_screen: str) -> Heard:
        """What a line says that was no answer as it stands; nothing where it says nothing here.

        Args:
            line: as it was typed.
            on_screen: the check that it may answer; "" where several are on screen.
        """
        understood = self._listener.understand(line, on_screen or None)
        asked = tuple(item for item in understood.items if isinstance(item, Asked))
        items = tuple(item for item in understood.items if not isinstance(item, Asked | Nothing | Reply))
        if not items:
            nearest = Heard() if asked else self._nearest(line, on_screen, understood.near)
            return replace(nearest, asked=asked, supposed=understood.near)
        torn = tuple(item for item in items if isinstance(item, Finding) and item.check in self._torn(items))
        if torn:
            return Heard((), asked, self._which(line, on_screen, torn))
        said = self._said_back(items)
        return Heard((), asked, Proposal(line, on_screen, f"{said} {ENTER}", items))

    def _said_back(self, items: tuple[Item, ...]) -> str:
        return " ".join((said_back(self.job.knowledge, items), *self._otherwise(items)))

    def _otherwise(self, items: tuple[Item, ...]) -> list[str]:
        """What was said of the same before, where it was something else."""
        state, lines = self.job.state, []
        for told in told_in(items):
            known, check = state.known.get(told.check), self.job.knowledge.checks[told.check]
            if known and known.outcomes and set(known.outcomes) != set(told.outcomes) and not is_asked(state, check.id):
                lines.append(f"Before, {check.name} was: {say_finding(check, known)}.")
        return lines

    def _torn(self, items: tuple[Item, ...]) -> set[str]:
        """The checks of which one sentence says two things that do not go together."""
        told = told_in(items)
        return {one.check for one in told if len(one.outcomes) > 1 and not self.job.knowledge.checks[one.check].several}

    def _nearest(self, line: str, on_screen: str, near: tuple[Finding, ...]) -> Heard:
        """What may have been meant: by the numbers of the step, where all of it is on screen."""
        if not near:
            return Heard()
        if any(one.check != on_screen for one in near):
            return Heard((), (), self._which(line, on_screen, near))
        check = self.job.knowledge.checks[on_screen]
        order, mark = [outcome.id for outcome in check.outcomes], "#" if check.reading else ""
        rows = (f"{mark}{order.index(one.outcome) + 1} {self._words(one)}" for one in near)
        return Heard((f"I did not get that for sure. Did you mean {' or '.join(rows)}?",))

    def _which(self, line: str, on_screen: str, meanings: tuple[Finding, ...]) -> Proposal:
        names = self.job.knowledge.checks
        rows = (f"{number} {names[one.check].name}: {self._words(one)}" for number, one in enumerate(meanings, 1))
        return Proposal(line, on_screen, "\n".join((f"Which did you mean? {WHICH}", *rows)), meanings=meanings)

    def _words(self, finding: Finding) -> str:
        outcome = self.job.knowledge.checks[finding.check].outcome(finding.outcome)
        return outcome.words if outcome else finding.outcome

    def offer(self) -> Proposal | None:
        """What was said before and is asked now, a tool that is missing for it, or what the customer said."""
        state = self.job.state
        if state.step.kind not in UNDERSTANDS:
            return None
        return self._told_before() or self._tool_missing() or self._customer_said()

    def keep(self, told: tuple[Told, ...]) -> None:
        """Keep what was told until its step comes; looks that let an engine run are made without."""
        for one in told:
            if not lets_run(self.job.knowledge.checks[one.check]) and one.check not in self.job.state.known:
                self.waiting[one.check] = one

    def lack(self, items: tuple[Item, ...]) -> None:
        """Keep which tools are not at hand."""
        self.missing |= {item.tool for item in items if isinstance(item, ToolMissing)}

    def forget(self, proposal: Proposal) -> None:
        """What was proposed is not so: a tool is there after all."""
        checks = [self.job.knowledge.checks[item.check] for item in proposal.items if isinstance(item, Cannot)]
        self.missing -= {tool for check in checks for tool in self.missing if needs(check, {tool})}

    def _told_before(self) -> Proposal | None:
        here = next((check for check in self.waiting if is_asked(self.job.state, check)), "")
        if not here:
            return None
        told = self.waiting.pop(here)
        items: tuple[Item, ...] = (
            (told.reading,) if told.reading else tuple(Finding(here, outcome) for outcome in told.outcomes)
        )
        return Proposal("", here, f"You told me before. {self._said_back(items)} {ENTER}", items)

    def _tool_missing(self) -> Proposal | None:
        step = self.job.state.step
        check: Check | None = self.job.knowledge.checks.get(step.check) if step.kind == "check" else None
        if check is None or check.id in self.offered or not needs(check, self.missing):
            return None
        self.offered.add(check.id)
        names = ", ".join(self.job.knowledge.tools[tool].name for tool in sorted(self.missing) if needs(check, {tool}))
        cannot = Cannot(check.id, f"not at hand: {names}")
        return Proposal("", check.id, f"Not at hand, you said: {names}. So this cannot be done. {ENTER}", (cannot,))

    def _customer_said(self) -> Proposal | None:
        """What the complaint told besides the symptom: each thing once, and never beside a running engine."""
        state = self.job.state
        if not state.words or state.stage != "finding" or state.condition.engine == "running":
            return None
        if self.complaint is None:
            self.complaint = list(self._of_complaint(state.words))
        return self.complaint.pop(0) if self.complaint else None

    def _of_complaint(self, words: str) -> "Iterator[Proposal]":
        """What is plainly said, all together; then which is meant, for each check of which it says two things."""
        knowledge, tree = self.job.knowledge, self.job.knowledge.trees[self.job.state.symptom]
        own = (tree.complaint.met, tree.complaint.under, tree.complaint.now) if tree.complaint else ()
        asked = {node.check for node in tree.nodes.values()} - {*own, *self.job.state.known}
        found = [item for item in self._listener.understand(words, None, "start").items if isinstance(item, Finding)]
        mine = [item for item in found if item.check in asked]
        torn = self._torn(tuple(mine))
        by_hand = [item for item in mine if knowledge.checks[item.check].way != "ask" and item.check not in torn]
        self.keep(told_in(by_hand))
        said = [item for item in mine if knowledge.checks[item.check].way == "ask"]
        plain = tuple(item for item in said if item.check not in torn)
        if plain:
            yield Proposal("", "", f"From the complaint: {self._said_back(plain)} {ENTER}", plain, by=CUSTOMER)
        for check in dict.fromkeys(item.check for item in said if item.check in torn):
            which = self._which("", "", tuple(item for item in said if item.check == check))
            yield replace(which, question=f"From the complaint. {which.question}", by=CUSTOMER)
