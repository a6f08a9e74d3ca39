"""A small sound folder of knowledge, and a way to change one thing in it."""

from pathlib import Path

import pytest

from triage.errors import DocumentFaulty, Place
from triage.knowledge.loading import load_knowledge
from triage.knowledge.shipped import trees_folder

FILES = {
    "sources.yaml": """\
sources:
  - id: trade-practice
    kind: common-practice
    title: Common practice, no source
""",
    "tools.yaml": """\
tools:
  - id: lamp
    name: Inspection lamp
  - id: torque-wrench
    name: Low-range torque wrench
    measures: torque
    relative: {text: 4 %, source: trade-practice}
    absolute: {text: 0.1 N·m, source: trade-practice}
""",
    "interlocks.yaml": """\
hazards:
  - id: moving-belt
    harm: A moving belt draws hands in.
confirmations:
  - id: key-out
    ask: Is the key out?
    why: Nobody can start the engine.
    hazard: moving-belt
    after: {engine: running}
  - id: hands-out
    ask: Is everybody clear?
    why: The belt is about to move.
    hazard: moving-belt
states:
  - id: stopped
    words: Engine stopped
    engine: stopped
    belt: fitted
    battery: connected
    near: hands-in
    confirmations: [key-out]
    lives: {text: 15 min, source: trade-practice}
  - id: running
    words: Engine running
    engine: running
    belt: fitted
    battery: connected
    near: outside-bay
    confirmations: [hands-out]
    lives: {text: 5 min, source: trade-practice}
    run_limit: {text: 30 s, source: trade-practice}
""",
    "causes.yaml": """\
causes:
  - id: torn-belt
    name: Torn belt
    part: belt
    meaning: The belt is coming apart.
    commonness: common
    remedy: renew-belt
  - id: dry-bearing
    name: Dry bearing
    part: idler
    meaning: The grease is gone.
    commonness: occasional
    remedy: renew-belt
""",
    "signs.yaml": """\
signs:
  - id: belt-torn
    name: Torn belt
    produced_by:
      torn-belt: {present: usually}
  - id: drag
    name: Drag
    levels: [free, stiff, stuck]
    leak: {stiff: seldom}
    produced_by:
      dry-bearing: {stiff: often, stuck: sometimes}
  - id: whine
    name: Whine
    produced_by:
      dry-bearing: {present: often}
  - id: whine-driving
    name: Whine while driving
    produced_by:
      torn-belt: {present: seldom}
      dry-bearing: {present: often}
""",
    "checks/belt.yaml": """\
checks:
  - id: complaint
    name: Complaint
    way: ask
    question: When does it whine?
    why: It narrows the search.
    minutes: 1
    state: anywhere
    outcomes:
      - {id: none, words: Never}
      - {id: always, words: All the time, sign: whine}
      - {id: not-sure, words: Not sure, says_nothing: true}
  - id: belt-condition
    name: Belt condition
    way: look
    question: How does the belt look?
    why: A torn belt must not run.
    tools: [lamp]
    minutes: 2
    state: stopped
    outcomes:
      - {id: sound, words: Sound}
      - {id: torn, words: Torn, sign: belt-torn, closes_running: The belt may come apart.}
      - {id: cannot-tell, words: Cannot tell, says_nothing: true}
  - id: whine-running
    name: Whine with the engine running
    way: listen
    question: Does it whine?
    why: The bearing is heard when it turns.
    minutes: 3
    state: running
    outcomes:
      - {id: quiet, words: Quiet}
      - {id: whines, words: It whines, sign: whine}
""",
    "checks/idler.yaml": """\
checks:
  - id: idler-drag
    name: Drag of the idler
    way: measure
    question: What torque turns it?
    why: A dry bearing drags.
    minutes: 5
    state: stopped
    consumes: [a new cap]
    only_for: [solid, decoupler]
    sign: drag
    outcomes:
      - {id: free, words: Free}
      - {id: stiff, words: Stiff}
      - {id: stuck, words: Will not turn}
    reading:
      kind: torque
      parts:
        - {id: steady, kind: torque, ask: Steady torque}
      instrument: torque-wrench
      zones:
        - outcome: free
          below: {text: 1 N·m, source: trade-practice}
        - outcome: stiff
          below: {text: 2 N·m, source: trade-practice}
        - outcome: stuck
      words: {will not turn: stuck}
""",
    "remedies.yaml": """\
remedies:
  - id: renew-belt
    name: Renew the belt
    state: stopped
    parts:
      - {id: belt, name: Belt, todo: renew, why: It is torn.}
    steps: [Fit the belt., Tighten to 80 N·m at most.]
    torques:
      - {id: idler-bolt, what: Idler bolt, typical: {text: 40 to 50 N·m, source: trade-practice}, tool: torque-wrench}
    if_left: The belt comes off.
    repeat: [belt-condition]
    sources: [trade-practice]
""",
    "symptoms/whine.yaml": """\
symptom: whine-driving
name: Whine while driving
phrases: [it whines]
repeat: whine-running
start: ask
nodes:
  ask:
    check: complaint
    next: {none: quiet, always: look, not-sure: look}
    cannot: look
  look:
    check: belt-condition
    next: {sound: listen, torn: belt, cannot-tell: unclear}
    cannot: unclear
  listen:
    check: whine-running
    next: {quiet: quiet, whines: turn}
    cannot: turn
  turn:
    by_pulley: {solid: drag, isolator: unclear, one-way-clutch: unclear, decoupler: drag, unknown: drag}
  drag:
    check: idler-drag
    next: {free: elsewhere, stiff: bearing, stuck: bearing}
    cannot: unclear
    skip: unclear
  belt: {conclude: [torn-belt]}
  bearing: {conclude: [dry-bearing]}
  quiet: {end: not-reproduced}
  elsewhere: {end: not-from-drive}
  unclear: {end: undecided, because: Too little is known.}
""",
}


class SmallWorld:
    """A folder of knowledge that tests change one thing in."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        for name, text in FILES.items():
            self.write(name, text)

    def write(self, name: str, text: str) -> None:
        path = self.folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")

    def change(self, name: str, old: str, new: str) -> None:
        text = (self.folder / name).read_text(encoding="utf-8")
        assert text.count(old) == 1, f"{old!r} stands {text.count(old)} times in {name}"
        self.write(name, text.replace(old, new))

    def keep_floor(self) -> None:
        """Take the shipped interlocks, without which no folder is sound for a session."""
        shipped = {
            name: (trees_folder() / name).read_text(encoding="utf-8") for name in ("interlocks.yaml", "sources.yaml")
        }
        self.write("interlocks.yaml", shipped["interlocks.yaml"])
        self.write("sources.yaml", FILES["sources.yaml"] + shipped["sources.yaml"].partition("sources:\n")[2])

    def faults(self) -> list[str]:
        """Every fault of the folder as a line, with file names relative to it."""
        try:
            load_knowledge(self.folder)
        except DocumentFaulty as error:
            return [str(fault).removeprefix(f"{self.folder}/") for fault in error.faults]
        return []

    def passes(self, name: str, old: str, new: str) -> None:
        self.change(name, old, new)
        assert self.faults() == []

    def fails(self, name: str, old: str, new: str, message: str) -> None:
        """Change one thing and expect this one fault, at the place marked with ¦ in the new text."""
        self.change(name, old, new)
        text = (self.folder / name).read_text(encoding="utf-8")
        before, mark, _ = text.partition("¦")
        assert mark, "the new text marks no place"
        place = Place(name, before.count("\n") + 1, len(before) - before.rfind("\n"))
        self.write(name, text.replace("¦", ""))
        assert self.faults() == [f"{place}: {message}"]


@pytest.fixture
def world(tmp_path: Path) -> SmallWorld:
    return SmallWorld(tmp_path)
