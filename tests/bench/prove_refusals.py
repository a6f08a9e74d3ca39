"""Go to every check of every tree, from wherever the one before left the vehicle, and say no to each thing on the way.

    python tests/bench/prove_refusals.py [--every 1]

Each place of a tree is reached once for each check in front of it, whether that told something or could not be done,
and for each pulley type as far as it leads elsewhere. On the way to its check every thing is confirmed; at each of them
a second session says no instead, and a third says that it is so after all. What follows is left out, check by check.
The watcher looks at every step, and once more when everything has aged. Ends with 0 when no step stood that must not.
"""

import argparse
import copy
import sys
import time
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from tests.bench.walk_ledger import Moment
from tests.bench.walk_watcher import Watcher
from tests.bench.walk_worlds import shipped
from triage.knowledge.groups import arrives_so
from triage.knowledge.models import PULLEYS, Knowledge
from triage.knowledge.vehicle import LATER_FACTS
from triage.knowledge.walk import walk
from triage.record import events as e
from triage.session import commands as c
from triage.session.deciding import decide
from triage.session.evolving import fold
from triage.session.interlocks import ended, is_pressed
from triage.session.state import State
from triage.session.taking_off import BY_PICTURE

Findings = dict[str, tuple[str, ...]]
START_MS, SECOND_MS, HOUR_MS = 10**9, 1000, 3_600_000
DEAD = (12.6, 0.0)
IN_EACH_RUN = {"belt-tracking": "runs-true", "complaint-now": "there"}
"""What is asked in each run before others, and the answer that lets them be made."""
LEFT_OUT = 4
"""How many checks are left out after a no; behind them comes what any session comes to."""
LONGEST_WAY = 200


@dataclass(frozen=True)
class Place:
    """A check of a tree and what was found before it, the last one in front of it last."""

    symptom: str
    pulley: str
    findings: Findings
    check: str


def places(knowledge: Knowledge) -> Iterator[Place]:
    """Every check of every tree, once for each check and kind of finding in front of it."""
    reached: set[tuple[str, str, bool, str]] = set()
    for symptom, tree in knowledge.trees.items():
        for pulley in PULLEYS:
            seen: set[tuple[str, bool, str]] = set()
            waiting: list[Findings] = [{}]
            while waiting:
                findings = waiting.pop()
                last = next(reversed(findings), "")
                told = bool(findings.get(last))
                at = walk(knowledge, tree, findings, pulley)
                if at.node.check is None or (last, told, at.node_id) in seen:
                    continue
                seen.add((last, told, at.node_id))
                check = knowledge.checks[at.node.check]
                if (symptom, last, told, check.id) not in reached:
                    reached.add((symptom, last, told, check.id))
                    yield Place(symptom, pulley, findings, check.id)
                waiting += [{**findings, check.id: (outcome.id,)} for outcome in check.outcomes]
                waiting.append({**findings, check.id: ()})


class Branch:
    """One session on its way, that can be left standing while another goes on from the same place."""

    def __init__(self, knowledge: Knowledge, place: Place, steps: Counter[str]) -> None:
        self.knowledge, self.steps = knowledge, steps
        self.now_ms, self.state, self.watcher, self.check = START_MS, State(), Watcher(knowledge), place.check
        self.play(c.Start, knowledge=knowledge, symptom=place.symptom, job="J")
        self.play(c.AnswerGate, answer="none")
        told = None if place.pulley == "unknown" else place.pulley
        self.play(c.TellFact, fact="pulley", value=told).play(c.TellFact, fact="odometer", value=1e8)
        self.play(c.TellFact, fact="cylinders", value=4.0)
        for fact in LATER_FACTS if knowledge.rounds else ():
            self.play(c.TellFact, fact=fact, value="arm" if fact == "tightening" else None)
        self._found(place.findings)

    def _found(self, findings: Findings) -> None:
        """Let the findings have been made, and the vehicle be as the last one that told anything left it."""
        left = next((one for one in reversed(findings) if findings[one] and self._target(one)), "")
        for check, outcomes in findings.items():
            stamp = c.Tick(at_ms=self.now_ms, who="Kim").stamp
            if check == left:
                self._enter(check)
            self._take(
                e.CheckAnswered(**stamp, check=check, proving=False, outcomes=outcomes)
                if outcomes
                else e.CheckNotDone(**stamp, check=check, proving=False, reason="no access")
            )
            self._did(check, told=bool(outcomes))
        self.play(c.Tick)

    def _did(self, check: str, *, told: bool) -> None:
        """Let have ended what making a check ends."""
        does = [one for one in self.knowledge.checks[check].does if told or one == "stop"]
        command = c.Tick(at_ms=self.now_ms, who="Kim")
        for event in ended(self.knowledge, self.state, command, *does) if does else ():
            self._take(event)

    def _target(self, check: str) -> Any:
        return self.knowledge.states.get(self.knowledge.checks[check].state)

    def _enter(self, check: str) -> None:
        target, stamp = self._target(check), c.Tick(at_ms=self.now_ms, who="Kim").stamp
        if target.asks and target.belt == "removed":
            self._take(e.ThingConfirmed(**stamp, state=target.id, confirmation=BY_PICTURE, name=""), said=True)
        for thing in (one for one in target.confirmations if not arrives_so(self.knowledge.confirmations[one])):
            name = "Robin" if self.knowledge.confirmations[thing].proof == "name" else ""
            self._take(e.ThingConfirmed(**stamp, state=target.id, confirmation=thing, name=name), said=True)
        engine = "stopped" if target.run_limit else target.engine
        where = {"engine": engine, "belt": target.belt, "battery": target.battery}
        self._take(e.StateEntered(**stamp, state=target.id, **where))

    def _take(self, event: e.Event, *, said: bool = False) -> None:
        # What is only let have been said was on no card.
        (self.watcher.ledger if said else self.watcher).see(event)
        self.watcher.named = getattr(event, "name", "") or self.watcher.named
        self.state = fold((event,), self.state)

    def play(self, kind: type[c.Command], **given: Any) -> "Branch":
        """Give a command and let the watcher look."""
        self.now_ms += SECOND_MS
        happened = decide(self.knowledge, self.state, kind(at_ms=self.now_ms, who="Kim", **given))
        for event in happened:
            self.watcher.see(event)
        self.state = fold(happened, self.state)
        self.watcher.look(Moment(1, self.now_ms))
        self.steps[self.state.step.kind] += 1
        return self

    def branched(self) -> "Branch":
        """Another session that stands where this one stands."""
        other = copy.copy(self)
        other.watcher = copy.deepcopy(self.watcher, {id(self.knowledge): self.knowledge})
        return other

    def go_on(self) -> bool:
        """Do what is asked on the way to a check; False where it has come there, or to an end."""
        step = self.state.step
        if step.kind == "confirm":
            line = next(one for one in step.lines if not is_pressed(self.knowledge, self.state, one))
            self.play(c.Confirm, confirmation=line, name="Robin", volts=DEAD)
        elif step.kind == "why":
            self.play(c.SayWhy, reason="not so")
        elif step.kind == "set-up":
            self.play(c.FinishSetUp, check=step.check)
        elif step.kind in ("switch-off", "run-over"):
            self.play(c.EndRun)
        elif step.kind == "held" and not step.confirmation and not step.open and self.state.runs == 0:
            self.now_ms += 3 * HOUR_MS
            self.play(c.Tick)
        elif step.kind == "run-ready":
            self.play(c.StartRun)
        elif step.kind in ("check", "round") and step.check in IN_EACH_RUN and self.check not in IN_EACH_RUN:
            self.play(c.Answer, check=step.check, outcomes=(IN_EACH_RUN[step.check],))
        else:
            return False
        return True

    def refuse(self) -> None:
        """Say no to the line that is open, and then why."""
        step = self.state.step
        line = next(one for one in step.lines if not is_pressed(self.knowledge, self.state, one))
        self.play(c.RefuseConfirmation, confirmation=line)
        if self.state.step.kind == "switch-off":
            self.play(c.EndRun)
        self.play(c.SayWhy, reason="not so")

    def leave_out(self) -> None:
        """Leave out one check after another."""
        for _ in range(LEFT_OUT):
            if self.state.step.kind == "switch-off":
                self.play(c.EndRun)
            if self.state.step.kind == "why":
                self.play(c.SayWhy, reason="not so")
            if self.state.step.kind not in ("check", "round", "result", "held", "confirm", "set-up", "run-ready"):
                return
            self.play(c.CannotDo, check=self.state.step.check, reason="no access")


def prove(knowledge: Knowledge, every: int = 1) -> Counter[str]:
    """Go to the places, or to every so many of them, and say no on the way.

    Returns:
        how many places there were, how often a no was said, and each kind of step that the watcher looked at.

    Raises:
        AssertionError: a step stood that must not; it names the place.
    """
    steps: Counter[str] = Counter()
    counts: Counter[str] = Counter()
    for number, place in enumerate(places(knowledge)):
        if number % every:
            continue
        counts["places"] += 1
        try:
            counts["refused"] += _say_no_everywhere(Branch(knowledge, place, steps))
        except AssertionError as error:
            raise AssertionError(f"{place}: {error}") from error
    return counts + Counter({f"step {kind}": times for kind, times in steps.items()})


def _say_no_everywhere(branch: Branch) -> int:
    refused = 0
    for _ in range(LONGEST_WAY):
        if branch.state.step.kind == "confirm":
            refused += 1
            no = branch.branched()
            no.refuse()
            after_all = no.branched()
            no.leave_out()
            if after_all.state.step.kind == "held":
                after_all.play(c.TryAgain)
                after_all.go_on()
                after_all.leave_out()
        if not branch.go_on():
            break
    else:
        raise AssertionError("the way has no end")
    aged = branch.branched()
    aged.now_ms += 3 * HOUR_MS
    aged.play(c.Tick)
    branch.leave_out()
    return refused


def main() -> int:
    """Prove it, print the counts, and say how it went."""
    parser = argparse.ArgumentParser(description="Say no to each thing on the way to every check of every tree.")
    parser.add_argument("--every", type=int, default=1, help="only every so many places")
    options = parser.parse_args()
    began = time.monotonic()
    try:
        counts = prove(shipped(), options.every)
    except AssertionError as error:
        print(error)
        return 1
    for name, times in sorted(counts.items()):
        print(f"{name:<20}{times:>10}")
    print(f"\nin {time.monotonic() - began:.0f} s, nothing wrong")
    return 0


if __name__ == "__main__":
    sys.exit(main())
