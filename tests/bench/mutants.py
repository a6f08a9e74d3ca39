"""The mutants of mutants_of_rules.py: each a small real weakening of one rule of safety."""

from dataclasses import dataclass


@dataclass(frozen=True)
class Mutant:
    """One weakening.

    Args:
        line: the line of the issue that it goes against, 0 for what held before.
        file: where.
        old: what stands there, once.
        new: what stands there then.
        why: what it does.
        tests: further tests that should notice.
    """

    line: int
    file: str
    old: str
    new: str
    why: str
    tests: tuple[str, ...] = ()


INTERLOCKS = "triage/session/interlocks.py"
EVOLVING = "triage/session/evolving.py"
STEPPING = "triage/session/stepping.py"
DECIDING = "triage/session/deciding.py"
CONFIRMING = "triage/session/rules/confirming.py"
KEEPING = "triage/session/rules/keeping.py"
FINDING = "triage/session/rules/finding.py"
JOB = "triage/app/job.py"
RESUMING = "triage/app/resuming.py"
GROUPS = "triage/knowledge/groups.py"
ENTERING = "triage/session/rules/entering.py"
FLOOR = "triage/knowledge/safety_floor.py"
MUTANTS = (
    # 1: a no ends the thing in every state that lists it
    Mutant(1, EVOLVING, "denied=state.denied | said", "denied=state.denied", "nobody keeps what was said not to be so"),
    # 2: time does not wait for the disk
    Mutant(2, JOB, "ENDING = (c.Tick, ", "ENDING = (", "time waits for the disk"),
    Mutant(2, JOB, "ENDING = (c.Tick, ", "ENDING = (c.Tick, c.Confirm, ", "a confirmation is taken that is not saved"),
    Mutant(
        2,
        JOB,
        "            if self._unsaved:\n                self._save(())\n            self._save(happened)\n",
        "            self._save(happened)\n",
        "what comes after an end that waits is lost behind it",
    ),
    Mutant(
        2,
        JOB,
        'elif self._writer and self.state.condition.engine == "running":',
        "elif False:",
        "a file that is gone beside a running engine is not noticed",
    ),
    # 3: whoever takes a session up confirms everything, under the rules of this program
    Mutant(
        3,
        EVOLVING,
        "return replace(_ended(state), paused=False",
        "return replace(state, paused=False",
        "resuming ends nothing",
    ),
    Mutant(
        3, EVOLVING, "return replace(_ended(state), rules=", "return replace(state, rules=", "new rules end nothing"
    ),
    Mutant(
        3,
        EVOLVING,
        "return replace(_ended(state), boot=event.boot",
        "return replace(state, boot=event.boot",
        "confirmations go across two starts of the clock",
    ),
    Mutant(
        3, JOB, "self._under = interlocks if differs else None", "self._under = None", "a trace keeps its own rules"
    ),
    Mutant(3, RESUMING, "        _expect_floor(job, path)\n", "", "a trace may ask for less than the floor"),
    # 4: ages go by the clock that only goes forward
    Mutant(
        4,
        CONFIRMING,
        "until_ms = command.clock_ms +",
        "until_ms = command.at_ms +",
        "a run is limited by the wall clock",
    ),
    Mutant(
        4,
        INTERLOCKS,
        "or abs(shift_ms(state, command)) > JUMP_MS:",
        ":",
        "a wall clock that jumps ends nothing",
    ),
    Mutant(
        4, INTERLOCKS, "if abs(moved_ms) > SAID_MS:", "if abs(moved_ms) > JUMP_MS:", "a moved wall clock is not said"
    ),
    Mutant(4, INTERLOCKS, "isinstance(command, Tick) and command.lost", "False", "lost time ends nothing"),
    Mutant(
        4,
        EVOLVING,
        "ran_ms = None if state.engine_ran_ms is None else event.clock_ms",
        "ran_ms = None",
        "an engine is cold after a restart",
    ),
    Mutant(
        4,
        EVOLVING,
        "engine_ran_ms=max(event.clock_ms, after.engine_ran_ms or event.clock_ms) if hot",
        "engine_ran_ms=max(event.at_ms, after.engine_ran_ms or event.at_ms) if hot",
        "an engine grows cold by the wall clock",
    ),
    # 6: the floor
    Mutant(
        6, FLOOR, 'and (state is None or state.engine != "running")', "and state is None", "a running check stopped"
    ),
    Mutant(
        6,
        JOB,
        '        raise TriageError(f"No session can begin with this knowledge. {short[0]}", FLOOR)\n',
        "        pass\n",
        "a session begins below the floor",
    ),
    # groups: one carried over each of its ending events
    Mutant(
        0,
        GROUPS,
        '"cannot-roll": ("driven", "lifted", "brake-touched"),',
        '"cannot-roll": ("lifted", "brake-touched"),',
        "cannot-roll is carried over: driven",
    ),
    Mutant(
        0,
        GROUPS,
        '"cannot-roll": ("driven", "lifted", "brake-touched"),',
        '"cannot-roll": ("driven", "brake-touched"),',
        "cannot-roll is carried over: lifted",
    ),
    Mutant(
        0,
        GROUPS,
        '"cannot-roll": ("driven", "lifted", "brake-touched"),',
        '"cannot-roll": ("driven", "lifted"),',
        "cannot-roll is carried over: brake-touched",
    ),
    Mutant(0, GROUPS, '"support": ("driven", "lifted"),', '"support": ("lifted",),', "support is carried over: driven"),
    Mutant(0, GROUPS, '"support": ("driven", "lifted"),', '"support": ("driven",),', "support is carried over: lifted"),
    Mutant(
        0,
        GROUPS,
        '"air-and-fire": ("driven", "another-bay"),',
        '"air-and-fire": ("another-bay",),',
        "air-and-fire is carried over: driven",
    ),
    Mutant(
        0,
        GROUPS,
        '"air-and-fire": ("driven", "another-bay"),',
        '"air-and-fire": ("driven",),',
        "air-and-fire is carried over: another-bay",
    ),
    Mutant(0, GROUPS, '"people": ("joined",),', '"people": (),', "people is carried over: joined"),
    Mutant(
        0,
        GROUPS,
        '"still": ("driven", "engine-ran", "turned", "ignition-on", "fan-started"),',
        '"still": ("engine-ran", "turned", "ignition-on", "fan-started"),',
        "still is carried over: driven",
    ),
    Mutant(
        0,
        GROUPS,
        '"still": ("driven", "engine-ran", "turned", "ignition-on", "fan-started"),',
        '"still": ("driven", "turned", "ignition-on", "fan-started"),',
        "still is carried over: engine-ran",
    ),
    Mutant(
        0,
        GROUPS,
        '"still": ("driven", "engine-ran", "turned", "ignition-on", "fan-started"),',
        '"still": ("driven", "engine-ran", "ignition-on", "fan-started"),',
        "still is carried over: turned",
    ),
    Mutant(
        0,
        GROUPS,
        '"still": ("driven", "engine-ran", "turned", "ignition-on", "fan-started"),',
        '"still": ("driven", "engine-ran", "turned", "fan-started"),',
        "still is carried over: ignition-on",
    ),
    Mutant(
        0,
        GROUPS,
        '"still": ("driven", "engine-ran", "turned", "ignition-on", "fan-started"),',
        '"still": ("driven", "engine-ran", "turned", "ignition-on"),',
        "still is carried over: fan-started",
    ),
    Mutant(
        0,
        GROUPS,
        '"starts-itself": ("driven", "key-found", "lead-on"),',
        '"starts-itself": ("key-found", "lead-on"),',
        "starts-itself is carried over: driven",
    ),
    Mutant(
        0,
        GROUPS,
        '"starts-itself": ("driven", "key-found", "lead-on"),',
        '"starts-itself": ("driven", "lead-on"),',
        "starts-itself is carried over: key-found",
    ),
    Mutant(
        0,
        GROUPS,
        '"starts-itself": ("driven", "key-found", "lead-on"),',
        '"starts-itself": ("driven", "key-found"),',
        "starts-itself is carried over: lead-on",
    ),
    Mutant(
        0, GROUPS, '"isolated": ("driven", "lead-on"),', '"isolated": ("lead-on",),', "isolated is carried over: driven"
    ),
    Mutant(
        0, GROUPS, '"isolated": ("driven", "lead-on"),', '"isolated": ("driven",),', "isolated is carried over: lead-on"
    ),
    Mutant(0, GROUPS, '"reconnected": ("lead-off",),', '"reconnected": (),', "reconnected is carried over: lead-off"),
    Mutant(0, GROUPS, '"belt-on": ("belt-moved",),', '"belt-on": (),', "belt-on is carried over: belt-moved"),
    Mutant(
        0,
        GROUPS,
        '"bay-clear": ("driven", "hands-in"),',
        '"bay-clear": ("hands-in",),',
        "bay-clear is carried over: driven",
    ),
    Mutant(
        0,
        GROUPS,
        '"bay-clear": ("driven", "hands-in"),',
        '"bay-clear": ("driven",),',
        "bay-clear is carried over: hands-in",
    ),
    Mutant(
        0,
        GROUPS,
        '"everyone-out": ("driven", "stop", "joined", "hands-in", "stepped-in"),',
        '"everyone-out": ("stop", "joined", "hands-in", "stepped-in"),',
        "everyone-out is carried over: driven",
    ),
    Mutant(
        0,
        GROUPS,
        '"everyone-out": ("driven", "stop", "joined", "hands-in", "stepped-in"),',
        '"everyone-out": ("driven", "joined", "hands-in", "stepped-in"),',
        "everyone-out is carried over: stop",
    ),
    Mutant(
        0,
        GROUPS,
        '"everyone-out": ("driven", "stop", "joined", "hands-in", "stepped-in"),',
        '"everyone-out": ("driven", "stop", "hands-in", "stepped-in"),',
        "everyone-out is carried over: joined",
    ),
    Mutant(
        0,
        GROUPS,
        '"everyone-out": ("driven", "stop", "joined", "hands-in", "stepped-in"),',
        '"everyone-out": ("driven", "stop", "joined", "stepped-in"),',
        "everyone-out is carried over: hands-in",
    ),
    Mutant(
        0,
        GROUPS,
        '"everyone-out": ("driven", "stop", "joined", "hands-in", "stepped-in"),',
        '"everyone-out": ("driven", "stop", "joined", "hands-in"),',
        "everyone-out is carried over: stepped-in",
    ),
    Mutant(
        0,
        GROUPS,
        '"at-the-key": ("driven", "stop", "joined", "hands-in", "left-seat", "key-left", "key-found"),',
        '"at-the-key": ("stop", "joined", "hands-in", "left-seat", "key-left", "key-found"),',
        "at-the-key is carried over: driven",
    ),
    Mutant(
        0,
        GROUPS,
        '"at-the-key": ("driven", "stop", "joined", "hands-in", "left-seat", "key-left", "key-found"),',
        '"at-the-key": ("driven", "joined", "hands-in", "left-seat", "key-left", "key-found"),',
        "at-the-key is carried over: stop",
    ),
    Mutant(
        0,
        GROUPS,
        '"at-the-key": ("driven", "stop", "joined", "hands-in", "left-seat", "key-left", "key-found"),',
        '"at-the-key": ("driven", "stop", "hands-in", "left-seat", "key-left", "key-found"),',
        "at-the-key is carried over: joined",
    ),
    Mutant(
        0,
        GROUPS,
        '"at-the-key": ("driven", "stop", "joined", "hands-in", "left-seat", "key-left", "key-found"),',
        '"at-the-key": ("driven", "stop", "joined", "left-seat", "key-left", "key-found"),',
        "at-the-key is carried over: hands-in",
    ),
    Mutant(
        0,
        GROUPS,
        '"at-the-key": ("driven", "stop", "joined", "hands-in", "left-seat", "key-left", "key-found"),',
        '"at-the-key": ("driven", "stop", "joined", "hands-in", "key-left", "key-found"),',
        "at-the-key is carried over: left-seat",
    ),
    Mutant(
        0,
        GROUPS,
        '"at-the-key": ("driven", "stop", "joined", "hands-in", "left-seat", "key-left", "key-found"),',
        '"at-the-key": ("driven", "stop", "joined", "hands-in", "left-seat", "key-found"),',
        "at-the-key is carried over: key-left",
    ),
    Mutant(
        0,
        GROUPS,
        '"at-the-key": ("driven", "stop", "joined", "hands-in", "left-seat", "key-left", "key-found"),',
        '"at-the-key": ("driven", "stop", "joined", "hands-in", "left-seat", "key-left"),',
        "at-the-key is carried over: key-found",
    ),
    Mutant(
        0,
        GROUPS,
        '"without-belt": ("driven", "stop", "hands-in"),',
        '"without-belt": ("stop", "hands-in"),',
        "without-belt is carried over: driven",
    ),
    Mutant(
        0,
        GROUPS,
        '"without-belt": ("driven", "stop", "hands-in"),',
        '"without-belt": ("driven", "hands-in"),',
        "without-belt is carried over: stop",
    ),
    Mutant(
        0,
        GROUPS,
        '"without-belt": ("driven", "stop", "hands-in"),',
        '"without-belt": ("driven", "stop"),',
        "without-belt is carried over: hands-in",
    ),
    Mutant(
        0,
        GROUPS,
        '"alone": ("driven", "stop", "joined", "hands-in", "left-seat"),',
        '"alone": ("stop", "joined", "hands-in", "left-seat"),',
        "alone is carried over: driven",
    ),
    Mutant(
        0,
        GROUPS,
        '"alone": ("driven", "stop", "joined", "hands-in", "left-seat"),',
        '"alone": ("driven", "joined", "hands-in", "left-seat"),',
        "alone is carried over: stop",
    ),
    Mutant(
        0,
        GROUPS,
        '"alone": ("driven", "stop", "joined", "hands-in", "left-seat"),',
        '"alone": ("driven", "stop", "hands-in", "left-seat"),',
        "alone is carried over: joined",
    ),
    Mutant(
        0,
        GROUPS,
        '"alone": ("driven", "stop", "joined", "hands-in", "left-seat"),',
        '"alone": ("driven", "stop", "joined", "left-seat"),',
        "alone is carried over: hands-in",
    ),
    Mutant(
        0,
        GROUPS,
        '"alone": ("driven", "stop", "joined", "hands-in", "left-seat"),',
        '"alone": ("driven", "stop", "joined", "hands-in"),',
        "alone is carried over: left-seat",
    ),
    Mutant(0, GROUPS, '"leaving": ("hands-in",),', '"leaving": (),', "leaving is carried over: hands-in"),
    Mutant(
        0,
        GROUPS,
        '("driven", "engine-ran", "ignition-on", "key-left", "key-found", "lead-on")',
        '("engine-ran", "ignition-on", "key-left", "key-found", "lead-on")',
        "key is carried over: driven",
    ),
    Mutant(
        0,
        GROUPS,
        '("driven", "engine-ran", "ignition-on", "key-left", "key-found", "lead-on")',
        '("driven", "ignition-on", "key-left", "key-found", "lead-on")',
        "key is carried over: engine-ran",
    ),
    Mutant(
        0,
        GROUPS,
        '("driven", "engine-ran", "ignition-on", "key-left", "key-found", "lead-on")',
        '("driven", "engine-ran", "key-left", "key-found", "lead-on")',
        "key is carried over: ignition-on",
    ),
    Mutant(
        0,
        GROUPS,
        '("driven", "engine-ran", "ignition-on", "key-left", "key-found", "lead-on")',
        '("driven", "engine-ran", "ignition-on", "key-found", "lead-on")',
        "key is carried over: key-left",
    ),
    Mutant(
        0,
        GROUPS,
        '("driven", "engine-ran", "ignition-on", "key-left", "key-found", "lead-on")',
        '("driven", "engine-ran", "ignition-on", "key-left", "lead-on")',
        "key is carried over: key-found",
    ),
    Mutant(
        0,
        GROUPS,
        '("driven", "engine-ran", "ignition-on", "key-left", "key-found", "lead-on")',
        '("driven", "engine-ran", "ignition-on", "key-left", "key-found")',
        "key is carried over: lead-on",
    ),
    Mutant(
        0,
        KEEPING,
        ", *looks_ended(under, state, command))",
        ")",
        "a look of before a pause lets the engine run",
    ),
    # groups: what else keeps them
    Mutant(
        1, CONFIRMING, "return tuple(one for one in state.standing if one in groups)", "return ()", "a no ends no group"
    ),
    Mutant(
        1,
        CONFIRMING,
        "stood = _everything(knowledge, state) if nothing else",
        "stood = () if nothing else",
        "a no to nothing moved ends nothing",
    ),
    Mutant(
        1,
        INTERLOCKS,
        "return not arrives_so(thing) or apart or line in state.due or line in state.denied",
        "return not arrives_so(thing) or apart or line in state.due",
        "what was said not to be so is asked like anything else",
    ),
    Mutant(
        1,
        STEPPING,
        'if state.condition.engine == "running" and not _may_go_on(knowledge, state, step):',
        "if False:",
        "an engine that nothing allows is left running",
    ),
    Mutant(
        0,
        STEPPING,
        "return state.inside == place.id and interlocks.stands(knowledge, state, place)",
        "return state.inside == place.id",
        "a running check stands although its person is gone",
    ),
    Mutant(
        0,
        INTERLOCKS,
        "return lines <= (state.stopped if word else state.ever) and lines.isdisjoint(state.denied)",
        "return lines <= state.ever and lines.isdisjoint(state.denied)",
        "a start without its person: one line serves although somebody stepped in",
    ),
    Mutant(
        0,
        EVOLVING,
        'stopped=state.stopped | by_stop if event.because in ("stop", "run-over") else frozenset(),',
        "stopped=state.stopped | by_stop,",
        "what comes between two tries is forgotten",
    ),
    Mutant(
        0,
        INTERLOCKS,
        "        return state.alone\n    if line",
        "        return False\n    if line",
        "alone removes a group",
    ),
    Mutant(
        0,
        STEPPING,
        "if state.alone and target.engine",
        "if False and target.engine",
        "somebody alone makes what is not made from the seat",
    ),
    Mutant(
        0,
        STEPPING,
        'if looks and state.run != "running":',
        "if False:",
        "a look older than a drive lets the engine run",
    ),
    Mutant(
        0,
        EVOLVING,
        "return _without(replace(state, concluded=None, own=(), in_run=seen), event.check)",
        "return replace(_without(replace(state, concluded=None, own=(), in_run=seen), event.check), "
        "standing={**state.standing, **dict.fromkeys(state.ever, event.clock_ms)})",
        "an undo revives what had ended",
    ),
    Mutant(
        0,
        INTERLOCKS,
        "return (looked or START_TRIED in state.standing) and not closing_check(knowledge, state)",
        "return True",
        "the start is tried before anybody has looked",
    ),
    Mutant(0, CONFIRMING, "if not abs(now_v) < DEAD_V:", "if False:", "what is live is proved dead"),
    Mutant(0, CONFIRMING, "if not before_v >= LIVE_V:", "if False:", "a meter that reads nothing proves dead"),
    Mutant(
        0,
        INTERLOCKS,
        "return now_ms >= running_until_ms(knowledge, state)",
        "return False",
        "a run with its belt has no end",
    ),
    Mutant(
        0,
        INTERLOCKS,
        'if state.run == "running" and command.clock_ms >= state.run_until_ms:',
        "if False:",
        "a run has no end",
    ),
    Mutant(
        0,
        INTERLOCKS,
        "        if passed_s >= LASTING_S[ending]:",
        "        if False:",
        "nobody asks after an hour",
    ),
    Mutant(
        0,
        ENTERING,
        'return ("hands-in",) if target.near == "hands-in" and not untouched else ()',
        "return ()",
        "hands in end nothing",
    ),
    Mutant(
        0,
        DECIDING,
        "    return tuple(ended(knowledge, after, command, *does)) if does else ()",
        "    return ()",
        "what a check does to the vehicle ends nothing",
    ),
    Mutant(
        0,
        STEPPING,
        "if check.consumes and line not in state.standing else None",
        "if False else None",
        "nobody asks for what is used up",
    ),
    Mutant(
        0,
        DECIDING,
        "    if ran_out and not isinstance(command, _EVEN_WHEN_AGED):\n        raise",
        "    if False:\n        raise",
        "an answer is taken after what it needs has ended",
    ),
    Mutant(
        0,
        ENTERING,
        'engine = "stopped" if target.run_limit else target.engine',
        'engine = "stopped"',
        "an engine that runs counts as stopped",
    ),
    Mutant(
        6,
        FLOOR,
        "always = [thing for thing in things if not arrives_so(thing)]",
        "always = things",
        "everything may arrive in order",
    ),
    Mutant(6, FLOOR, "if not said <= line.things.keys():", "if False:", "one line may stand for more than it says"),
    Mutant(
        7,
        "triage/session/audit/account.py",
        "self.stopped = self.stopped | (ended & self.standing) if because in BY_STOP else set()",
        "self.stopped = self.stopped | ended if because in BY_STOP else set()",
        "an edited trace starts an engine again past somebody who stepped in",
        ("tests/session/audit",),
    ),
    Mutant(
        0,
        DECIDING,
        "person(command.who) not in state.present",
        "False",
        "a colleague who acts has not joined",
    ),
    Mutant(
        0,
        CONFIRMING,
        "new = before and confirmed.name and",
        "new = False and",
        "another person at the key has not joined",
    ),
    Mutant(
        0,
        STEPPING,
        "if closing and interlocks.tells_of_fuel(knowledge, closing):",
        "if False:",
        "hands go in where fuel leaks",
    ),
    # what held before
    Mutant(
        0,
        EVOLVING,
        "return replace(_ended(state), paused=True, step=",
        "return replace(state, paused=True, step=",
        "a pause ends nothing",
    ),
    Mutant(
        0,
        EVOLVING,
        "return replace(_ended(state), paused=True, holder=",
        "return replace(state, paused=True, holder=",
        "a hand-over ends nothing",
    ),
    Mutant(
        0,
        INTERLOCKS,
        "for finding in standing if finding.check not in state.put_right and",
        "for finding in standing if finding.check in state.known and",
        "a finding that is taken back opens running again",
    ),
    Mutant(
        0,
        STEPPING,
        "closing = interlocks.closing_check(knowledge, state) or unseen(knowledge, state)",
        "closing = interlocks.closing_check(knowledge, state)",
        "the engine runs although nobody could look",
    ),
    Mutant(0, STEPPING, "    if spent or not cold:", "    if not cold:", "runs are not counted"),
    Mutant(0, STEPPING, "    if spent or not cold:", "    if spent:", "runs with a hot engine"),
    Mutant(
        0,
        CONFIRMING,
        "if name.casefold().split() == command.who.casefold().split():",
        "if False:",
        "who watches is at the key",
    ),
    # 5: nothing is taken that was not there to be read
    Mutant(
        5,
        "triage/tui/session/unread.py",
        "self._seen |= set(rows)",
        "self._seen |= self._rows",
        "one row in view makes all of a question read",
        ("tests/tui/test_small_windows.py",),
    ),
    Mutant(
        5,
        "triage/tui/session/step_panel.py",
        'self._laid.room != "small" and self._unread',
        "self._unread",
        "a window that is too small takes an answer",
        ("tests/tui/test_small_windows.py",),
    ),
    # 3 and 7: what this program could not have written
    Mutant(
        3,
        RESUMING,
        "        refuse_unsafe(events, path)\n",
        "",
        "a forged trace is gone on with",
        ("tests/app/test_walks.py",),
    ),
    Mutant(
        7,
        "triage/session/audit/standing.py",
        "if ledger.live != place.id or not ledger.entered:",
        "if ledger.live != place.id:",
        "a step may stand half way into its state",
        ("tests/session/audit",),
    ),
    Mutant(
        7,
        "triage/session/audit/timing.py",
        "    if passed_ms < 0:",
        "    if False:",
        "a clock may go back in a trace",
        ("tests/session/audit",),
    ),
    Mutant(
        7,
        "triage/store/marks.py",
        "if mark and not _means(mark, line.seq, digests):",
        "if mark and not mark:",
        "marks inside a trace are not compared",
        ("tests/store/test_marks.py",),
    ),
    Mutant(
        7,
        "triage/store/written.py",
        "        if not self._equals(handle):\n            return False\n",
        "",
        "a change of the same size is not noticed",
        ("tests/store/test_writer.py",),
    ),
    # 8: damaged and odd traces
    Mutant(
        8,
        "triage/present/cleaning.py",
        'return clean(text).replace("\\n", "‹0A›")',
        "return clean(text)",
        "a line feed in a trace forges a line",
        ("tests/present/test_cleaning.py",),
    ),
    Mutant(
        8,
        "triage/app/sound.py",
        'flaw = next(flaws(knowledge), "")',
        'flaw = ""',
        "a session is taken up with knowledge that does not hold together",
        ("tests/app", "tests/cli/saved/test_sessions.py"),
    ),
    # 9: files and readings
    Mutant(
        9,
        "triage/cli/writing.py",
        "    if not overwrite:\n        # A link is made",
        "    if not path:\n        # A link is made",
        "a picture is written over a trace unasked",
        ("tests/cli/test_writing.py",),
    ),
    Mutant(
        9,
        "triage/units/bounds.py",
        "    if furthest > most.si * (1 + _SAID_SHORT):",
        "    if furthest > most.si * 1e30:",
        "999999999999 m is a reading",
        ("tests/units/test_bounds.py",),
    ),
    # 10: rounds
    Mutant(
        10,
        "triage/session/rules/finding.py",
        'if state.step.kind == "round" and is_it_there(knowledge, state, check):',
        "if False:",
        "a test of the complaint is taken before anybody has said that it is there",
        ("tests/session/test_proving.py",),
    ),
    Mutant(
        10,
        "triage/knowledge/rounds.py",
        "    quiet = check.at_idle and not check.needs_complaint",
        "    quiet = check.at_idle",
        "a test of the complaint waits for no belt that runs true",
        ("tests/session/test_set_up.py", "tests/session/test_rounds.py"),
    ),
    Mutant(
        10,
        "triage/knowledge/rounds.py",
        "measured = check.reading is not None or check.way not in FELT",
        "measured = False",
        "a round that is closed records a reading",
        ("tests/session/test_rounds.py",),
    ),
    Mutant(
        10,
        "triage/knowledge/rounds.py",
        "    return not (measured or lets_run(check) or tests)",
        "    return not (measured or tests)",
        "a round that is closed records a look that lets an engine run",
        ("tests/session/test_rounds.py",),
    ),
    Mutant(
        10,
        FINDING,
        'if state.step.kind == "round" and tracking_due(knowledge, state, check):',
        "if False:",
        "a load is taken before the belt was seen to run true",
        ("tests/session/test_rounds.py",),
    ),
    Mutant(
        10,
        EVOLVING,
        "            in_run = {} if started else state.in_run\n",
        "            in_run = state.in_run\n",
        "a belt that ran true in one run counts in the next",
        ("tests/session/test_rounds.py",),
    ),
    Mutant(
        10,
        "triage/session/rounds.py",
        "    return seen is not None and RUNS_TRUE not in seen.outcomes",
        "    return False",
        "a belt that nobody saw holds nothing back",
        ("tests/session/test_rounds.py",),
    ),
    Mutant(
        10,
        "triage/session/rules/going.py",
        '    stop = interlocks.ended(knowledge, state, command, "stop")\n',
        "    stop: tuple[e.Event, ...] = ()\n",
        "an alarm ends nothing",
        ("tests/session/test_rounds.py",),
    ),
    Mutant(
        10,
        STEPPING,
        "    closing = interlocks.closing_check(knowledge, state) or unseen(knowledge, state)\n    if closing:",
        "    closing = unseen(knowledge, state)\n    if closing:",
        "a finding that closes running lets the round go on beside the engine",
        ("tests/session/test_rounds.py",),
    ),
    Mutant(
        10,
        "triage/session/rounds.py",
        "    return one.untouched == other.untouched and next(places) == next(places)",
        "    return True",
        "a look with hands in is offered with one from outside",
        ("tests/session/test_rounds.py",),
    ),
)
