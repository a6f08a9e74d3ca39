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
FLOOR = "triage/knowledge/safety_floor.py"
MUTANTS = (
    # 1: a no ends the thing in every state that lists it
    Mutant(1, INTERLOCKS, "return listed or said or bool", "return said or bool", "a no leaves what lists the thing"),
    Mutant(1, INTERLOCKS, "return listed or said or bool", "return listed or bool", "a no leaves what it was said for"),
    Mutant(
        1,
        INTERLOCKS,
        'bool(live.carried) or state.condition.engine == "running"',
        "bool(live.carried)",
        "a no does not end a running engine",
    ),
    Mutant(1, INTERLOCKS, "said or bool(live.carried) or", "said or", "a no leaves what was carried"),
    Mutant(
        1,
        INTERLOCKS,
        "    if confirmation_id in state.denied:\n        return True\n",
        "",
        "what was said not to be so is asked like anything else",
    ),
    Mutant(1, EVOLVING, "denied=state.denied | said", "denied=state.denied", "nobody keeps what was said not to be so"),
    Mutant(
        1,
        INTERLOCKS,
        'return state.condition.engine == "running" and state.live is None',
        "return False",
        "an engine that nothing allows is left running",
    ),
    # 2: time does not wait for the disk
    Mutant(2, JOB, "ENDING = (c.Tick, ", "ENDING = (", "time waits for the disk"),
    Mutant(2, JOB, "ENDING = (c.Tick, ", "ENDING = (c.Tick, c.Confirm, ", "a confirmation is taken that is not saved"),
    Mutant(
        2,
        KEEPING,
        '    return (*ended, e.InterlockLapsed(**command.stamp, state=live.state, because="not-saved"))',
        "    return ended",
        "a running step stays while nothing can be saved",
    ),
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
        EVOLVING,
        "event.confirmation: event.clock_ms}",
        "event.confirmation: event.at_ms}",
        "a confirmation is dated by the wall clock",
    ),
    Mutant(
        4,
        INTERLOCKS,
        "    now_ms = command.clock_ms\n",
        "    now_ms = command.at_ms\n",
        "all ages go by the wall clock",
    ),
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
    Mutant(6, FLOOR, "return not thing.after and (", "return (", "what is asked of no vehicle counts for the floor"),
    Mutant(
        6,
        FLOOR,
        "(not thing.once or thing.hazard in ONCE)",
        "True",
        "everything may be asked once",
    ),
    Mutant(
        6,
        FLOOR,
        "if not SHORTEST_S <= _seconds(state.lives)",
        "if not 0 <= 0 * _seconds(state.lives)",
        "any life will do",
    ),
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
        "if any(now_ms - confirmed_ms >= lives_ms",
        "if all(now_ms - confirmed_ms >= lives_ms",
        "one old confirmation ages nothing",
    ),
    Mutant(
        0, INTERLOCKS, "        and confirmed_ms > state.refused_ms\n", "", "things are carried from before a refusal"
    ),
    Mutant(
        0, INTERLOCKS, "        and knowledge.confirmations[confirmation_id].carries\n", "", "everything is carried"
    ),
    Mutant(
        0,
        INTERLOCKS,
        'if "running" in (knowledge.states[live.state].engine, target.engine):\n        return {}\n',
        'if "running" == knowledge.states[live.state].engine:\n        return {}\n',
        "things are carried into the running engine",
    ),
    Mutant(0, INTERLOCKS, "        and 2 * (now_ms - confirmed_ms) < lives_ms\n", "", "old things are carried"),
    Mutant(
        0, INTERLOCKS, 'if state.run == "running" and now_ms >= state.run_until_ms:', "if False:", "a run has no end"
    ),
    Mutant(0, INTERLOCKS, "*(knowledge.states[begun] for begun in state.approached)", "", "half a way counts as none"),
    Mutant(
        0,
        INTERLOCKS,
        "for finding in latest.values() if finding.check not in state.put_right)",
        "for finding in latest.values() if finding.check in state.known)",
        "a finding that is taken back opens running again",
    ),
    Mutant(
        0,
        STEPPING,
        "closing = interlocks.closing_check(knowledge, state) or unseen(knowledge, state)",
        "closing = interlocks.closing_check(knowledge, state)",
        "the engine runs although nobody could look",
    ),
    Mutant(0, STEPPING, "if spent or not interlocks.is_cold", "if not interlocks.is_cold", "runs are not counted"),
    Mutant(
        0, STEPPING, "if spent or not interlocks.is_cold(state, target, now_ms):", "if spent:", "runs with a hot engine"
    ),
    Mutant(
        0,
        EVOLVING,
        '            return replace(state, held="", prepared=None)\n',
        '            return replace(state, held="")\n',
        "a set-up stands after what was refused was put right",
    ),
    Mutant(
        0,
        EVOLVING,
        "        state = replace(state, prepared=None)\n    inside",
        "        pass\n    inside",
        "a set-up stands after another state was begun",
    ),
    Mutant(
        0,
        CONFIRMING,
        "if name.casefold().split() == command.who.casefold().split():",
        "if False:",
        "who watches is at the key",
    ),
    Mutant(
        0,
        FINDING,
        '        events.append(e.InterlockLapsed(**command.stamp, state=state.live.state, because="corrected"))',
        "        pass",
        "a correction ends nothing",
    ),
    Mutant(
        0,
        FINDING,
        '    if state.run == "running":\n        events.append(e.RunEnded',
        "    if False:\n        events.append(e.RunEnded",
        "a correction leaves a run running",
    ),
    Mutant(
        0,
        DECIDING,
        "    if ended and not isinstance(command, _EVEN_WHEN_AGED):\n        raise",
        "    if False:\n        raise",
        "an answer is taken after its confirmations have aged",
    ),
    Mutant(
        0,
        INTERLOCKS,
        "    if check and check.consumes and IN_HAND + check.id not in confirmed:\n        return IN_HAND + check.id\n",
        "",
        "nobody asks for what is used up",
    ),
    Mutant(
        0,
        CONFIRMING,
        'engine = "stopped" if target.run_limit else target.engine',
        'engine = "stopped"',
        "an engine that runs counts as stopped",
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
)
