"""What the checks come to: outcomes, readings, what could not be done, and corrections."""

from triage.errors import CommandRefused
from triage.knowledge.models import Check, Knowledge
from triage.knowledge.rounds import TRACKING
from triage.record import events as e
from triage.record.readings import TypedPart
from triage.session import commands as c
from triage.session.doubting import doubts_of
from triage.session.evolving import evolve
from triage.session.judging import Judged, judged, taken_together, way_of
from triage.session.rounds import is_it_there, tracking_due
from triage.session.rules.asking import expect_step, words
from triage.session.state import State

ASKING = ("check", "round", "result")


def answer(knowledge: Knowledge, state: State, command: c.Answer) -> tuple[e.Event, ...]:
    """Take the outcome of the check on screen."""
    check = _on_screen(knowledge, state, command.check)
    return (_answered(check, command, command.outcomes, proving=state.step.proving),)


def read(knowledge: Knowledge, state: State, command: c.Read) -> tuple[e.Event, ...]:
    """Judge a reading of the check on screen."""
    check = _on_screen(knowledge, state, command.check)
    attempt = len(state.first_readings.get(check.id, ())) + 1
    return (_taken(knowledge, check, state, command, attempt=attempt, proving=state.step.proving),)


def throw_away(knowledge: Knowledge, state: State, command: c.ThrowAway) -> tuple[e.Event, ...]:
    """Leave one reading of the check on screen out; where those that are left decide, they do so at once."""
    check = _on_screen(knowledge, state, command.check)
    readings = state.first_readings.get(check.id, ())
    if not 1 <= command.number <= len(readings):
        raise CommandRefused("There is no such reading to throw away.", "Answer the check on screen.")
    reason = words(command.reason, "The reason")
    thrown = command.as_event(e.ReadingThrownAway, text=readings[command.number - 1].said, reason=reason)
    after = evolve(state, thrown)
    left = taken_together(check, after)
    if left is None:
        return (thrown,)
    last = after.first_readings[check.id][-1]
    attempt = len(readings) + 1
    anew = _reading_taken(command, check, left, last.parts, attempt=attempt, proving=state.step.proving)
    return (thrown, anew)


def cannot_do(knowledge: Knowledge, state: State, command: c.CannotDo) -> tuple[e.Event, ...]:
    """Take the word that a check cannot be done, also where its interlock is held or the engine must not run."""
    expect_step(state, *ASKING, "held", "confirm", "set-up", "blocked", "run-ready")
    check = command.check
    if state.step.kind == "blocked":
        raise CommandRefused(
            "The engine stays off until this is put right.", "Put it right, or close the session without repair."
        )
    if check not in _asked(state) or check not in knowledge.checks:
        raise CommandRefused("That is not the check on screen.", "Name the check on screen.")
    reason = words(command.reason, "The reason")
    return (command.as_event(e.CheckNotDone, reason=reason, proving=state.step.proving),)


def take_back(knowledge: Knowledge, state: State, command: c.TakeBack) -> tuple[e.Event, ...]:
    """Take a finding back, so that it is asked again."""
    _correctable(knowledge, state, command.check)
    return (*corrected(state, command), command.as_event(e.FindingTakenBack))


def correct(knowledge: Knowledge, state: State, command: c.Correct) -> tuple[e.Event, ...]:
    """Put another outcome or reading in the place of a finding."""
    check = _correctable(knowledge, state, command.check)
    taken_back = e.FindingTakenBack(**command.stamp, check=command.check)
    proving = state.stage == "proving"
    by = (state.after if proving else state.findings)[check.id].told_by
    if by and state.condition.engine == "running":
        raise CommandRefused("What was told is not put right beside a running engine.", "Switch off, then correct it.")
    if by:
        anew: e.Event = told(check, state, command, by)
    elif command.parts:
        anew = _taken(knowledge, check, state, command, attempt=1, proving=proving)
    else:
        anew = _answered(check, command, command.outcomes, proving=proving)
    return (*corrected(state, command), taken_back, anew, *_without_complaint(knowledge, state, command))


def _without_complaint(knowledge: Knowledge, state: State, command: c.Correct) -> tuple[e.Event, ...]:
    """A test in whose run the complaint was not there after all says nothing: it is taken back too."""
    complaint = knowledge.trees[state.symptom].complaint
    told = [knowledge.checks[command.check].outcome(outcome) for outcome in command.outcomes]
    if complaint is None or command.check != complaint.now or any(one and one.complaint == "there" for one in told):
        return ()
    findings = state.after if state.stage == "proving" else state.findings
    tests = (one for one in findings if one in state.in_run and knowledge.checks[one].needs_complaint)
    return tuple(e.FindingTakenBack(**command.stamp, check=one) for one in tests)


def corrected(state: State, command: c.Command) -> tuple[e.Event, ...]:
    """A correction moves nothing at the vehicle and ends nothing; but nobody types beside a timed run."""
    return (e.RunEnded(**command.stamp, because="interrupted"),) if state.run == "running" else ()


def _on_screen(knowledge: Knowledge, state: State, check_id: str) -> Check:
    expect_step(state, *ASKING)
    if check_id not in _asked(state):
        raise CommandRefused("That is not the check on screen.", "Answer the check on screen.")
    check = knowledge.checks[check_id]
    if state.step.kind == "round" and is_it_there(knowledge, state, check):
        raise CommandRefused(
            "Nobody has said in this run whether the complaint is there.",
            "A test of what is not there says nothing: say first whether it is there now.",
        )
    if state.step.kind == "round" and tracking_due(knowledge, state, check):
        raise CommandRefused(
            "Nobody has seen the belt run true in this run.",
            f"No load, no blip and no raised speed before that: {knowledge.checks[TRACKING].name} first.",
        )
    return check


def _asked(state: State) -> tuple[str, ...]:
    """What may be answered: the check on screen, or any open line of a round."""
    return state.step.open if state.step.kind == "round" else (state.step.check,)


def _correctable(knowledge: Knowledge, state: State, check_id: str) -> Check:
    if state.stage == "working":
        raise CommandRefused("The repair is under way.", "Write a note; what was found stays as it was.")
    findings = state.after if state.stage == "proving" else state.findings
    if check_id not in findings:
        raise CommandRefused("There is no such finding to correct.", "Choose one of the findings so far.")
    return knowledge.checks[check_id]


def _answered(check: Check, command: c.Command, outcomes: tuple[str, ...], *, proving: bool) -> e.CheckAnswered:
    return e.CheckAnswered(**command.stamp, check=check.id, outcomes=outcomes_of(check, outcomes), proving=proving)


def told(check: Check, state: State, command: c.TellFinding | c.Correct, by: str) -> e.FindingTold:
    """What somebody found before, or that put right; of a reading what it comes to by itself."""
    found = judged(check, state, command.parts) if command.parts else None
    if found and not found.outcome:
        raise CommandRefused("That is too close to a limit to be told.", "Measure it when it is asked for.")
    outcomes = outcomes_of(check, (found.outcome,) if found else command.outcomes)
    verdict = found.verdict if found else None
    return e.FindingTold(
        **command.stamp, check=check.id, outcomes=outcomes, by=by, parts=command.parts, verdict=verdict
    )


def outcomes_of(check: Check, outcomes: tuple[str, ...]) -> tuple[str, ...]:
    """Outcomes that a check can have together, each once.

    Raises:
        CommandRefused: none, an unknown one, or some that do not go together.
    """
    known = [check.outcome(outcome) for outcome in dict.fromkeys(outcomes)]
    if not known or None in known:
        allowed = ", ".join(outcome.id for outcome in check.outcomes)
        raise CommandRefused("That is not an answer to this check.", f"Answer with one of: {allowed}.")
    if len(known) > 1 and (not check.several or any(o and (o.says_nothing or not o.sign) for o in known)):
        raise CommandRefused("These answers do not go together.", "Give one of them.")
    return tuple(outcome.id for outcome in known if outcome)


def _taken(
    knowledge: Knowledge, check: Check, state: State, command: c.Read | c.Correct, *, attempt: int, proving: bool
) -> e.ReadingTaken:
    found = judged(check, state, command.parts)
    taken = _reading_taken(command, check, found, command.parts, attempt=attempt, proving=proving)
    doubts = tuple(dict.fromkeys(one.doubt for one in doubts_of(knowledge, check, command.parts, found)))
    return taken.model_copy(update={"doubts": doubts})


def _reading_taken(
    command: c.Command, check: Check, found: Judged, parts: tuple[TypedPart, ...], *, attempt: int, proving: bool
) -> e.ReadingTaken:
    way = way_of(check.reading, parts) if check.reading else None
    return e.ReadingTaken(
        **command.stamp,
        check=check.id,
        way=way.id if way else "",
        parts=parts,
        verdict=found.verdict,
        outcome=found.outcome,
        attempt=attempt,
        proving=proving,
        by_itself=found.by_itself if attempt > 1 else None,
        weighed=found.weighed,
        apart=found.apart,
    )
