"""The account of what stands: kept from events alone, by what ends each group, whatever an event says of it.

It shares no code with the rules that write events. What those end by an event of its own this ends by itself: an event
that is left out of a trace leaves nothing standing.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field

from triage.knowledge.groups import LASTING_S, arrives_so, ended_by
from triage.knowledge.models import Check, Confirmation, Knowledge, VehicleState

BY_STOP = ("stop", "run-over")
WAITING = ("long-silent", "long-hands-in")
START_TRIED = "start-tried"
NO_PUMP = "pump-not-driven"
NEW_BELT = "new-belt-in-hand"
BY_PICTURE = "tightening-by-picture"


@dataclass
class Account:
    """What was said of each line, and whether it still stands.

    Args:
        knowledge: the lines and vehicle states.
        standing: lines that stand.
        due: lines that a vehicle arrives with in order, and that were undone.
        denied: lines that were last said not to be so.
        stopped: what nothing but the stop of the engine has ended.
        ever: what was confirmed since the vehicle was taken up.
        named: who was named for what.
        present: who has acted or was named since the vehicle was taken up.
        inside: the vehicle state entered last.
        alone: whether nobody else is there.
        waiting: what was asked after a long while.
        said_ms: when it was last said that all is as it was.
        running_ms: when the engine was started.
    """

    knowledge: Knowledge
    standing: set[str] = field(default_factory=set)
    due: set[str] = field(default_factory=set)
    denied: set[str] = field(default_factory=set)
    stopped: set[str] = field(default_factory=set)
    ever: set[str] = field(default_factory=set)
    named: dict[str, str] = field(default_factory=dict)
    present: set[str] = field(default_factory=set)
    inside: str = ""
    alone: bool = False
    waiting: set[str] = field(default_factory=set)
    said_ms: int = 0
    running_ms: int = 0

    def end_all(self) -> None:
        """The vehicle was left, or nobody knows how much time has passed."""
        self.due = (self.due | self.standing) - self.waiting
        self.standing, self.stopped, self.ever, self.waiting = set(), set(), set(), set()
        self.inside, self.alone, self.present = "", False, set()

    def install(self, knowledge: Knowledge) -> None:
        """Other interlocks: what they ask only of a vehicle that was apart is asked now."""
        self.end_all()
        self.knowledge = knowledge
        lines = knowledge.confirmations.values()
        self.due = {one.id for one in lines if arrives_so(one) and one.group != "same-as-before"}

    def end(self, *endings: str) -> None:
        """End what any of these happenings ends."""
        happened = set(endings)
        lines = self.knowledge.confirmations.values()
        over = {one.id for one in lines if ended_by(one) & happened}
        again = self.stopped & over
        self.due |= {one for one in over if arrives_so(self.knowledge.confirmations[one])}
        if happened <= set(BY_STOP):
            self.stopped |= self.standing & over
        elif again or self.standing & over:
            self.stopped = set()
        self.standing -= over

    def end_lines(self, things: Iterable[str], because: str, at_ms: int) -> None:
        """End lines by name."""
        ended = set(things)
        self.stopped = self.stopped | (ended & self.standing) if because in BY_STOP else set()
        self.standing -= ended
        self.due |= ended
        if because in WAITING:
            self.waiting |= ended
            self.said_ms = at_ms

    def say(self, line: str, says: tuple[str, ...], name: str, who: str, at_ms: int) -> None:
        """Take a yes."""
        lines = {*(says or (line,))}
        if not self.standing or (lines & self.waiting):
            self.said_ms = at_ms
        self.standing |= lines - self.waiting
        for kept in (self.due, self.stopped, self.waiting):
            kept -= {line, *lines}
        self.denied -= {line, *lines}
        self.ever |= {line, *lines}
        self.present |= {_person(one) for one in (who, name) if one}
        if not says:
            self.named[line] = name

    def join(self, who: str) -> None:
        """Somebody has come."""
        self.alone = False
        self.present.add(_person(who))

    def meet(self, who: str) -> None:
        """Somebody acts at the vehicle: who was not there when it was made safe has joined."""
        if self.standing and _person(who) not in self.present:
            self.end("joined")
            self.join(who)

    def doubt(self) -> None:
        """Nothing is as it was: neither what was confirmed, nor what the vehicle arrived with in order."""
        lines = self.knowledge.confirmations.values()
        self.due |= {one.id for one in lines if arrives_so(one) and one.group != "same-as-before"}
        self.standing, self.stopped = set(), set()

    def deny(self, line: str) -> None:
        """Take a no."""
        self.denied.add(line)
        self.standing.discard(line)
        self.ever.discard(line)
        self.stopped = set()

    def lacking(self, place: VehicleState, check: Check | None, *, belt: str, battery: str) -> Iterator[str]:
        """What a vehicle state needs and does not stand."""
        for name in place.confirmations:
            line = self.knowledge.confirmations[name]
            if name not in self.standing and self._counts(line, check, {"belt": belt, "battery": battery}):
                yield name

    def _counts(self, line: Confirmation, check: Check | None, now: dict[str, str]) -> bool:
        if line.group == "alone":
            return self.alone
        if line.id == START_TRIED and check is not None and check.untouched:
            return line.id in self.denied
        if line.id in self.denied or line.id in self.due:
            return True
        return not arrives_so(line) or any(now.get(what) == was for what, was in line.after.items())

    def may_be_said_again(self, line: Confirmation) -> bool:
        """Whether one line may stand for others: each was said before, and between tries only the stop has ended it."""
        again = set(line.instead_of)
        return again <= (self.stopped if line.proof == "word" else self.ever) and not again & self.denied

    def outlived(self, at_ms: int, last_ms: int, *, running: bool, longest_s: float) -> str:
        """What time has ended by now, and nothing says so; "" where nothing."""
        if not self.standing:
            return ""
        if running:
            over = self._allows_running() and at_ms - self.running_ms >= longest_s * 1000
            return "the time of a run is up" if over else ""
        if self.waiting:
            return "nobody answered for long" if at_ms - self.said_ms >= LASTING_S["no-answer"] * 1000 else ""
        silent = at_ms - last_ms >= LASTING_S["long-silent"] * 1000
        return "nobody said for long that all is as before" if silent or self._too_long(at_ms) else ""

    def _too_long(self, at_ms: int) -> bool:
        return at_ms - self.said_ms >= LASTING_S["long-hands-in"] * 1000

    def _allows_running(self) -> bool:
        return any(
            self.knowledge.confirmations[one].group == "at-the-key"
            for one in self.standing & {*self.knowledge.confirmations}
        )


def _person(name: str) -> str:
    return " ".join(name.casefold().split())
