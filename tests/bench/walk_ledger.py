"""What was said of each thing at a vehicle, kept from the events of a session alone.

The definition that it holds a session to: for each thing, what was said of it last, and whether anything has happened
since that ends it. A line of a card says every thing that it lists. A step may stand only while every thing that its
vehicle state lists was last said to be so and nothing has ended it. While the engine counts as running, only a step
that it serves may be on screen, or "switch it off".

What ends which thing stands here once more, thing by thing, as the hazard log says it. It shares no code with the rules
that it is held against, it never judges what happened, and a forged trace does not make it stumble.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from functools import cache
from types import MappingProxyType
from typing import NamedTuple

from triage.knowledge.models import Confirmation, Knowledge, VehicleState
from triage.record import events as e
from triage.record.steps import Step
from triage.units import parse_quantity

SECOND_MS = 1000
MINUTE_MS = 60 * SECOND_MS
JUMP_MS = 60 * SECOND_MS
"""A wall clock that moves by more ends everything."""
LONGEST_RUN_MS = 15 * MINUTE_MS
SILENT_MS, HANDS_IN_MS, UNANSWERED_MS = 30 * MINUTE_MS, 60 * MINUTE_MS, 10 * MINUTE_MS
IN_HAND = "in-hand-"
FOUND = ("check-answered", "reading-taken")
AT_THE_VEHICLE = ("check", "round", "run", "run-ready", "set-up", "part", "torque")
"""Steps for which somebody stands at the vehicle, in the state that the step names."""
HANDS = ("check", "round", "set-up", "part", "torque")
WHILE_IT_RUNS_ON = ("switch-off", "run-over", "paused", "closed")
"""What may be on screen while the engine runs and something that allows it is lacking."""
MOVED = ("driven", "lifted")
STARTED = ("driven", "engine-ran", "ignition-on")
KEY = (*STARTED, "key-left", "key-found", "lead-on")
SEAT = ("driven", "stop", "joined", "hands-in", "left-seat")
ENDS: Mapping[str, tuple[str, ...]] = MappingProxyType(
    {
        "parking-brake": (*MOVED, "brake-touched"),
        "wheels-chocked": (*MOVED, "brake-touched"),
        "park-or-neutral": (*MOVED, "brake-touched"),
        "raised-and-secured": MOVED,
        "nobody-under": MOVED,
        "exhaust-extraction": ("driven", "another-bay"),
        "fire-extinguisher": ("driven", "another-bay"),
        "no-fuel-smell": ("driven", "another-bay"),
        "eyes-and-ears": ("joined",),
        "nothing-loose": ("joined",),
        "bare-hands": ("joined",),
        "ignition-off": (*STARTED, "turned", "fan-started"),
        "all-at-rest": (*STARTED, "turned", "fan-started"),
        "hot-parts": (*STARTED, "turned", "fan-started"),
        "key-kept": KEY,
        "tag-on": KEY,
        "start-tried": KEY,
        "remote-start-off": ("driven", "key-found", "lead-on"),
        "stop-start-off": ("driven", "key-found", "lead-on"),
        "spare-keys": ("driven", "key-found", "lead-on"),
        "no-fuel-vapour": ("driven", "lead-on"),
        "codes-saved": ("driven", "lead-on"),
        "access-before-isolation": ("driven", "lead-on"),
        "every-battery-isolated": ("driven", "lead-on"),
        "no-supply": ("driven", "lead-on"),
        "restraint-wait": ("driven", "lead-on"),
        "live-before": ("driven", "lead-on"),
        "dead-now": ("driven", "lead-on"),
        "meter-reads": ("driven", "lead-on"),
        "terminal-covered": ("lead-off",),
        "leads-on": ("lead-off",),
        "belt-seated": ("belt-moved",),
        "tensioner-released": ("belt-moved",),
        "bar-off": ("belt-moved",),
        "things-out": ("driven", "hands-in"),
        "clip-ons-tied": ("driven", "hands-in"),
        "bonnet-held": ("driven", "hands-in"),
        "nobody-in": ("driven", "stop", "joined", "hands-in", "stepped-in"),
        "extraction-draws": ("driven", "stop"),
        "at-the-key": (*SEAT, "key-left", "key-found"),
        "alone": SEAT,
        "maker-allows": ("driven", "stop", "hands-in"),
        "engine-cold": ("driven", "stop", "hands-in"),
        "belt-out": ("driven", "stop", "hands-in"),
        "short-idle-only": ("driven", "stop", "hands-in"),
        "clip-ons-off": ("hands-in",),
        "tag-off": ("hands-in",),
        "pin-and-bar-off": ("hands-in",),
        "same-as-before": ("long-silent", "long-hands-in"),
    }
)
"""What ends each thing, whatever an interlock says of it."""
ARRIVES_SO: Mapping[str, tuple[str, str]] = MappingProxyType(
    {
        "terminal-covered": ("battery", "isolated"),
        "leads-on": ("battery", "isolated"),
        "belt-seated": ("belt", "removed"),
        "tensioner-released": ("belt", "removed"),
        "bar-off": ("belt", "removed"),
        "clip-ons-off": ("", ""),
        "tag-off": ("", ""),
        "pin-and-bar-off": ("", ""),
        "same-as-before": ("", ""),
    }
)
"""What a vehicle arrives with in order, and where it stands while it is not."""


ACTS = (
    "thing-confirmed",
    "thing-refused",
    "refusal-explained",
    "held-tried-again",
    "set-up-finished",
    "run-started",
    "check-answered",
    "reading-taken",
    "check-not-done",
    "fault-put-right",
    "engine-off",
    "remedy-begun",
    "part-recorded",
    "torque-recorded",
    "not-cured",
)
"""What is done at the vehicle: whoever does it under a name that was not heard there before has joined."""


@cache
def lasts_ms(text: str) -> float:
    """A period of the knowledge in milliseconds."""
    return parse_quantity(text, "time").value * SECOND_MS


class Moment(NamedTuple):
    """A reading of the clock that only goes forward, and which start of that clock it belongs to."""

    boot: int
    clock_ms: int


@dataclass(frozen=True)
class Said:
    """What was said of a thing last; `order` is the place among the events."""

    so: bool
    at: Moment
    order: int


@dataclass
class Ledger:
    """Takes events and says what stands against a step.

    Args:
        knowledge: what the session uses.
    """

    knowledge: Knowledge
    said: dict[str, Said] = field(default_factory=dict)
    ended: dict[str, str] = field(default_factory=dict)
    undone: set[str] = field(default_factory=set)
    stopped: set[str] = field(default_factory=set)
    inside: str = ""
    engine_on: bool = False
    since: Moment | None = None
    belt: str = "fitted"
    battery: str = "connected"
    alone: bool = False
    there: set[str] = field(default_factory=set)
    named_for: dict[str, str] = field(default_factory=dict)
    before: str = ""
    work: tuple[str, ...] = ()
    recap: Moment | None = None
    asked: bool = False
    order: int = 0
    now: Moment | None = None
    wall_ms: int = 0

    # --- what may be on screen

    def objection(self, step: Step, now: Moment) -> str:
        """Why a step must not be on screen now, or ""."""
        if self.engine_on and step.kind not in WHILE_IT_RUNS_ON:
            wrong = self._beside_the_engine(step, now)
            if wrong:
                return f"{step.kind} is offered, and the engine runs: {wrong}"
        if step.kind == "switch-off" and not self.engine_on:
            return "an engine that is off is to be switched off"
        if step.kind not in AT_THE_VEHICLE or step.state not in self.knowledge.states:
            return ""
        if self.inside != step.state:
            return f"{step.kind} is offered outside of {step.state}"
        lacking = "; ".join(self._lacking(step, now))
        return f"{step.kind} is offered in {step.state}: {lacking}" if lacking else ""

    def _beside_the_engine(self, step: Step, now: Moment) -> str:
        place = self.knowledge.states.get(step.state)
        if step.kind not in ("check", "round", "run") or place is None or place.engine != "running":
            return "it asks for something else than to switch off"
        if self.since is None or self.since.boot != now.boot:
            return "nobody knows since when"
        limit_ms = min(LONGEST_RUN_MS, lasts_ms(place.longest.text) if place.longest else LONGEST_RUN_MS)
        return "it has run for too long" if now.clock_ms - self.since.clock_ms >= limit_ms else ""

    def _lacking(self, step: Step, now: Moment) -> Iterator[str]:
        place = self.knowledge.states[step.state]
        check = self.knowledge.checks.get(step.check)
        in_hand = [IN_HAND + step.check] if check and check.consumes and step.kind != "set-up" else []
        from_outside = self._from_outside(step)
        for thing in (*self.needed(place, from_outside=from_outside), *in_hand):
            last = self.said.get(thing)
            if last is None:
                yield f"{thing} was never said"
            elif not last.so:
                yield f"{thing} was last said not to be so"
            elif thing in self.ended:
                yield f"{thing} was ended: {self.ended[thing]}"
            elif last.at.boot != now.boot or now.clock_ms < last.at.clock_ms:
                yield f"{thing} was said by another clock"
        if not self.engine_on and self.recap and not self.asked:
            yield from self._waited(now)

    def _waited(self, now: Moment) -> Iterator[str]:
        if self.recap and self.recap.boot == now.boot and now.clock_ms - self.recap.clock_ms >= HANDS_IN_MS:
            yield "hands are in for an hour, and nobody said that all is as before"

    def needed(self, place: VehicleState, *, from_outside: bool = False) -> Iterator[str]:
        """The things that must have been said for a vehicle state."""
        for line in place.confirmations:
            for thing in things_of(self.knowledge.confirmations[line]):
                denied = thing in self.said and not self.said[thing].so
                if thing == "alone" and not self.alone:
                    continue
                if thing == "start-tried" and from_outside and not denied:
                    continue
                if thing not in ARRIVES_SO or thing in self.undone or denied or self._stands_apart(thing):
                    yield thing

    def _stands_apart(self, thing: str) -> bool:
        what, was = ARRIVES_SO[thing]
        return bool(what) and getattr(self, what) == was

    def counting(self) -> list[str]:
        """The things that were said to be so, and nothing has ended."""
        return [thing for thing, last in self.said.items() if last.so and thing not in self.ended]

    # --- what happens

    def see(self, event: e.Event) -> None:
        """Take one event into account."""
        moment = Moment(event.boot, event.clock_ms)
        if self.now and (moment.boot != self.now.boot or moment.clock_ms < self.now.clock_ms):
            self.end_all("another clock")
        if abs(self.shift_ms(event)) > JUMP_MS:
            self.end_all("the wall clock jumped")
        # What puts a finding right on paper is done at no vehicle: it comes at the same moment as what it replaces.
        on_paper = self.before == "finding-taken-back" and event.kind in FOUND and moment == self.now
        self.now, self.wall_ms, self.order = moment, event.at_ms, self.order + 1
        if event.kind in ACTS and not on_paper:
            self._meet(event.who)
        self.before = event.kind
        taken = getattr(self, "_" + event.kind.replace("-", "_"), None)
        if taken:
            taken(event)

    def _meet(self, *names: str) -> None:
        new = {" ".join(name.casefold().split()) for name in names if name.strip()} - self.there
        if new and self.counting():
            self._end("joined")
            self.alone = False
        self.there |= new

    def shift_ms(self, event: e.Event) -> int:
        """How far the wall clock moved against the other one since the event before."""
        if self.now is None or event.boot != self.now.boot:
            return 0
        return (event.at_ms - self.wall_ms) - (event.clock_ms - self.now.clock_ms)

    def end_all(self, why: str) -> None:
        """Nothing counts any more; what was put together again has to be said again."""
        self.undone |= ARRIVES_SO.keys() & set(self.counting()) - {"same-as-before"}
        self.undone.discard("same-as-before")
        for thing in self.said:
            self.ended.setdefault(thing, why)
        self.inside, self.alone, self.stopped, self.asked, self.there = "", False, set(), False, set()

    def _end(self, *happened: str) -> None:
        """End every thing that any of these ends."""
        for thing, endings in ENDS.items():
            struck = set(endings) & set(happened)
            if struck and thing in ARRIVES_SO:
                self.undone.add(thing)
            if not struck:
                continue
            if thing in self.counting():
                self.ended[thing] = min(struck)
                # What only the stop has ended may be said again in one line.
                self.stopped = self.stopped | {thing} if happened == ("stop",) else set()
            elif happened != ("stop",) and thing in self.stopped:
                self.stopped = set()

    def _lines_ended(self, lines: Iterable[str], why: str) -> None:
        for line in lines:
            for thing in things_of(self.knowledge.confirmations.get(line), line):
                if thing in self.counting():
                    self.ended[thing] = why
                    self.stopped = self.stopped | {thing} if why in ("stop", "run-over") else set()
                if thing in ARRIVES_SO and (thing != "same-as-before" or why.startswith("long-")):
                    self.undone.add(thing)

    def _thing_confirmed(self, event: e.ThingConfirmed) -> None:
        moment = Moment(event.boot, event.clock_ms)
        if not self.counting():
            self.recap = moment
        before = self.named_for.get(event.confirmation, event.name)
        if " ".join(before.casefold().split()) != " ".join(event.name.casefold().split()):
            self._meet(event.name)
        if event.name:
            self.named_for[event.confirmation] = event.name
            self.there.add(" ".join(event.name.casefold().split()))
        for thing in things_of(self.knowledge.confirmations.get(event.confirmation), event.confirmation):
            self.said[thing] = Said(so=True, at=moment, order=self.order)
            self.ended.pop(thing, None)
            self.undone.discard(thing)
            self.stopped.discard(thing)
            if thing in ("leads-on", "belt-seated"):
                self._end("hands-in")
            if thing == "same-as-before":
                self.recap, self.asked = moment, False

    def _thing_refused(self, event: e.ThingRefused) -> None:
        moment = Moment(event.boot, event.clock_ms)
        line = self.knowledge.confirmations.get(event.confirmation)
        for other in self.knowledge.confirmations.values():
            grouped = line is not None and other.group == line.group and not other.instead_of
            if grouped or (line and line.group == "same-as-before"):
                self._lines_ended([other.id], "something of it was refused")
        for thing in things_of(line, event.confirmation):
            self.said[thing] = Said(so=False, at=moment, order=self.order)
        self.stopped = set()

    def _things_ended(self, event: e.ThingsEnded) -> None:
        if event.because in ("clock-jumped", "no-answer", "paused", "handed-over"):
            self.end_all(event.because)
        self._lines_ended(event.things, event.because)
        if event.because in ("long-silent", "long-hands-in"):
            self.asked, self.recap = True, self.now

    def _something_changed(self, event: e.SomethingChanged) -> None:
        self._end(event.what)
        self.alone = self.alone and event.what != "joined"
        self.there |= {" ".join(event.who.casefold().split())} if event.what == "joined" else set()

    def _alone_said(self, event: e.AloneSaid) -> None:
        self.alone = event.alone
        self._end("left-seat" if event.alone else "joined")

    def _state_entered(self, event: e.StateEntered) -> None:
        place = self.knowledge.states.get(event.state)
        if place is not None and not self.engine_on and place.engine == "running" and event.engine == "running":
            self._start()
        self.engine_on = event.engine != "stopped"
        if (self.belt, event.belt) == ("fitted", "removed"):
            self._end("belt-moved")
        elif self.belt != event.belt:
            self._end("hands-in")
        if self.battery != event.battery:
            self._end("lead-off" if event.battery == "isolated" else "lead-on")
        self.inside, self.belt, self.battery = event.state, event.belt, event.battery

    def _vehicle_turned(self, event: e.VehicleTurned) -> None:
        if (self.battery, event.battery) == ("isolated", "connected"):
            self._end("lead-on")
        self.inside, self.belt, self.battery = "", event.belt, event.battery

    def _start(self) -> None:
        self.engine_on, self.since = True, self.now
        self._end("engine-ran", "ignition-on")

    def _run_started(self, _event: e.RunStarted) -> None:
        self._start()

    def _run_ended(self, event: e.RunEnded) -> None:
        if event.because == "switched-off":
            self._stop()

    def _alarm_raised(self, _event: e.Event) -> None:
        self._end("stop")

    def _engine_off(self, _event: e.Event) -> None:
        self._stop()

    def _stop(self) -> None:
        self.engine_on, self.since, self.recap = False, None, self.now
        self._end("stop")

    def _did(self, check: str, *, left_out: bool = False) -> None:
        known = self.knowledge.checks.get(check)
        for one in known.does if known else ():
            if one == "stop" or not left_out:
                self._end(one)
        self.said.pop(IN_HAND + check, None)

    def _check_answered(self, event: e.CheckAnswered) -> None:
        self._did(event.check)

    def _reading_taken(self, event: e.ReadingTaken) -> None:
        in_hand = self.said.get(IN_HAND + event.check)
        self._did(event.check)
        if in_hand and not event.outcome:
            self.said[IN_HAND + event.check] = in_hand

    def _check_not_done(self, event: e.CheckNotDone) -> None:
        self._did(event.check, left_out=True)

    def _remedy_begun(self, event: e.RemedyBegun) -> None:
        self.work = event.remedies

    def _work_finished(self, _event: e.Event) -> None:
        for remedy in self.work:
            self._end(*self.knowledge.remedies[remedy].does)

    def _fault_put_right(self, _event: e.FaultPutRight) -> None:
        self._end("hands-in", "belt-moved")

    def _step_offered(self, event: e.StepOffered) -> None:
        place = self.knowledge.states.get(event.step.state)
        if place is None or place.near != "hands-in" or event.step.kind not in HANDS:
            return
        if not self._from_outside(event.step):
            self._end("hands-in")

    def _from_outside(self, step: Step) -> bool:
        """Whether nobody touches anything for a step: each of its checks is a look from outside."""
        lines = {"check": (step.check,), "round": step.open}.get(step.kind, ())
        return bool(lines) and all(
            one in self.knowledge.checks and self.knowledge.checks[one].untouched for one in lines
        )

    def _session_paused(self, _event: e.SessionPaused) -> None:
        self.end_all("the vehicle was left")

    def _session_handed_over(self, _event: e.SessionHandedOver) -> None:
        self.end_all("the session was handed over")

    def _session_resumed(self, _event: e.SessionResumed) -> None:
        self.end_all("the session was taken up")

    def _rules_installed(self, event: e.RulesInstalled) -> None:
        names = ("hazards", "confirmations", "states")
        new = {name: {**getattr(self.knowledge, name), **getattr(event.interlocks, name)} for name in names}
        self.knowledge = self.knowledge.model_copy(update=new)
        self.end_all("other rules were installed")
        self.undone |= ARRIVES_SO.keys() - {"same-as-before"}


def things_of(line: Confirmation | None, name: str = "") -> tuple[str, ...]:
    """Every thing that a yes to a line says."""
    if line is None:
        return (name,)
    return tuple(line.things) or (line.id,)
