"""What is made of a sentence: it is said back and waits for a yes, or the nearest meanings are offered, or it is asked.

Only at checks: a line of a card, a start, a part, a torque and a sign-off are never answered by a sentence, nor is
anything else proposed there.
"""

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Final

from triage.app.sentences import listener_of
from triage.listening.items import Asked, Cannot, Finding, Item, Nothing, Reply, ToolMissing
from triage.listening.said_back import said_back
from triage.present.steps.findings import say_finding
from triage.present.typing.accepting import MISSING, Told, is_asked, lets_run, needs, told_in
from triage.record.events import NoteAdded

if TYPE_CHECKING:
    from triage.app.job import Job
    from triage.knowledge.models import Check
    from triage.listening.listener import Listener

UNDERSTANDS: Final = ("check", "round", "result")
"""Kinds of steps at which a sentence may say something."""
YES: Final = ("", "y", "yes")
NO: Final = ("n", "no", "b", "back")
ENTER: Final = "Enter: yes, b: no."
COMPLAINT: Final = ""
"""Stands for the complaint among the checks that something was offered for."""
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
    """

    text: str
    on_screen: str
    question: str
    items: tuple[Item, ...] = ()
    meanings: tuple[Finding, ...] = ()


@dataclass(frozen=True)
class Heard:
    """What came of a sentence.

    Args:
        lines: what to say at once.
        asked: the questions in it.
        proposal: what waits for a yes.
    """

    lines: tuple[str, ...] = ()
    asked: tuple[Asked, ...] = ()
    proposal: Proposal | None = None


@dataclass
class Words:
    """What was said in a session, besides its answers.

    Args:
        job: the session.
        waiting: what was told and accepted before its step came, by its check.
        missing: the tools that are not at hand.
        offered: whether what the customer said was offered, and the checks that a tool is missing for.
    """

    job: "Job"
    waiting: dict[str, Told] = field(default_factory=dict)
    missing: set[str] = field(default_factory=set)
    offered: set[str] = field(default_factory=set)

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
            return Heard((), asked) if asked else self._nearest(line, on_screen, understood.near)
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
            if not lets_run(self.job.knowledge.checks[one.check]):
                self.waiting[one.check] = one

    def lack(self, items: tuple[Item, ...]) -> None:
        """Keep which tools are not at hand."""
        self.missing |= {item.tool for item in items if isinstance(item, ToolMissing)}

    def settled(self) -> Told | None:
        """What was accepted before and is asked now, where only asking answers it: nobody says it twice."""
        here = next((check for check in self.waiting if is_asked(self.job.state, check)), "")
        if not here or self.job.knowledge.checks[here].way != "ask":
            return None
        return self.waiting.pop(here)

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
        """What the complaint told besides the symptom, once, before anything was found."""
        state = self.job.state
        if COMPLAINT in self.offered or not state.words or state.stage != "finding":
            return None
        self.offered.add(COMPLAINT)
        return self._of_complaint(state.words)

    def _of_complaint(self, words: str) -> Proposal | None:
        knowledge, symptom = self.job.knowledge, self.job.state.symptom
        asked = {node.check for node in knowledge.trees[symptom].nodes.values()}
        asked -= {*self.job.state.known}
        found = [item for item in self._listener.understand(words, None, "start").items if isinstance(item, Finding)]
        mine = [item for item in found if item.check in asked and not lets_run(knowledge.checks[item.check])]
        self.keep(told_in([item for item in mine if knowledge.checks[item.check].way != "ask"]))
        items: tuple[Item, ...] = tuple(item for item in mine if knowledge.checks[item.check].way == "ask")
        torn = self._torn(items)
        items = tuple(item for item in items if isinstance(item, Finding) and item.check not in torn)
        if not items:
            return None
        return Proposal("", "", f"From the complaint: {self._said_back(items)} {ENTER}", items)
