"""What must be so while a step stands: the definition of safety, on the account of an audit."""

from collections.abc import Iterator

from triage.knowledge.models import Check, VehicleState
from triage.knowledge.vehicle import FIRST_FACTS, LATER_FACTS
from triage.record.steps import Step
from triage.session.audit.account import BY_PICTURE, NEW_BELT, NO_PUMP
from triage.session.audit.ledger import FIRST_RULES, Ledger
from triage.session.audit.naming import ANYWHERE, IN_HAND

AT_THE_VEHICLE = ("check", "round", "set-up", "run-ready", "run", "part", "torque")
"""Steps that need the vehicle state that they name."""
IN_FUEL_VAPOUR = ("gate", "fact", "why", "blocked", "switch-off", "run-over")
"""Steps that may stand where fuel leaks."""
TOWARD_RUNNING = ("check", "round", "confirm", "held", "set-up", "run-ready", "run")
"""Steps on the way to a check that may need the running engine."""


def unfounded(ledger: Ledger, step: Step) -> Iterator[str]:
    """Say why a step may not stand, as the end of a sentence that begins with the step; nothing where it may.

    Args:
        ledger: the account so far; what time has ended is ended in it.
        step: what is asked.
    """
    if ledger.closed or ledger.paused:
        where = "closed" if ledger.closed else "paused"
        if step.kind != where:
            yield f"although the session is {where}"
        return
    if step.kind in ("closed", "paused"):
        yield f"although the session is not {step.kind}"
        return
    if step.kind not in ("run-over", "switch-off"):
        yield from _of_beginning(ledger, step)
    if ledger.fuel - ledger.put_right and step.kind not in IN_FUEL_VAPOUR:
        yield "although fuel was found, and was not put right"
    yield from _of_run(ledger, step)
    yield from _of_stage(ledger, step)
    if step.kind == "round" and step.check not in step.open:
        yield "although its first line is not open"
    if step.kind == "confirm":
        yield from _of_question(ledger, step)
    for line in step.open if step.kind == "round" else (step.check,):
        yield from _of_line(ledger, step, ledger.knowledge.checks.get(line))


def _of_line(ledger: Ledger, step: Step, check: Check | None) -> Iterator[str]:
    """What must be so for the check of a step, or for each line of a round."""
    if check and step.kind in TOWARD_RUNNING:
        yield from _of_running(ledger, step, check)
    if check and step.kind == "check" and ledger.running and ledger.untracked(check):
        yield "although nobody saw the belt run true in this run"
    if step.kind in AT_THE_VEHICLE and step.state != ANYWHERE:
        yield from _of_state(ledger, step, check)
        yield from _of_check(ledger, step, check)


def _of_beginning(ledger: Ledger, step: Step) -> Iterator[str]:
    if ledger.gate != "none":
        if step.kind != "gate":
            yield "although the first question has not let the vehicle pass"
        return
    untold = [fact for fact in FIRST_FACTS if fact not in ledger.facts]
    if step.kind == "gate":
        yield "although it is answered"
    elif untold and step.fact != untold[0]:
        yield f'although the fact "{untold[0]}" of the vehicle was not asked for yet'
    elif step.kind == "fact" and not untold and (step.fact not in LATER_FACTS or step.fact in ledger.facts):
        yield "although every fact of the vehicle is told"
    elif step.kind == "fact" and ledger.running:
        yield "although nothing is asked of the vehicle beside a running engine"


def _of_stage(ledger: Ledger, step: Step) -> Iterator[str]:
    stages = {
        "conclusion": ("finding",),
        "which": ("working",),
        "part": ("working",),
        "torque": ("working",),
        "prove": ("proving",),
    }
    if ledger.stage not in stages.get(step.kind, (ledger.stage,)):
        yield "although the session has not come so far, or is past it"
    elif step.check and step.proving != (ledger.stage == "proving"):
        yield (
            "as a proof of the repair although none is proved" if step.proving else "although a repair is being proved"
        )
    elif step.kind == "conclusion" and ledger.causes is None:
        yield "although nothing was concluded"


def _of_run(ledger: Ledger, step: Step) -> Iterator[str]:
    wanted = {"running": "run", "overdue": "run-over"}.get(ledger.run, "")
    if wanted and step.kind != wanted:
        yield "although nobody said that the engine of the timed run is off"
    elif step.kind in ("run", "run-over") and step.kind != wanted:
        yield "although no timed run is under way"
    elif step.kind == "result" and (ledger.run != "result" or ledger.run_check != step.check):
        yield "although no timed run was made for it"
    elif ledger.grouped and ledger.running and not wanted:
        if step.kind != "switch-off" and not _allowed(ledger, step):
            yield "although nobody said that the engine is off"
    elif not ledger.grouped and ledger.rules > FIRST_RULES and ledger.running and not ledger.live and not wanted:
        if step.kind != "switch-off":
            yield "although nobody said that the engine is off"
    elif step.kind == "switch-off":
        yield "although nothing says that the engine runs on"


def _allowed(ledger: Ledger, step: Step) -> bool:
    """Whether a running engine serves this step, and everything that allows it stands."""
    place = ledger.knowledge.states.get(step.state)
    if step.kind not in ("check", "round", "run") or place is None or place.engine != "running":
        return False
    return ledger.account.inside == place.id and not ledger.lacking(place.id, None)


def _of_running(ledger: Ledger, step: Step, check: Check) -> Iterator[str]:
    place = ledger.knowledge.states.get(check.state)
    if place is None or place.engine != "running":
        return
    names = ledger.knowledge.checks
    closing = ledger.closing - ledger.put_right
    if closing:
        yield f"although a finding keeps the engine off: {_listed(names[one].name for one in sorted(closing))}"
    blind = ledger.blind() if ledger.rules > FIRST_RULES else set()
    again = ledger.looks_due
    if again:
        before = _listed(names[one].name for one in sorted(again))
        yield f"although this was looked at before it was driven, left or worked on: {before}"
    if ledger.account.alone and not check.from_seat and step.kind != "held":
        yield "although nobody else is there, and it cannot be made from the seat"
    if blind:
        yield f"although nobody could look at this yet: {_listed(names[one].name for one in sorted(blind))}"


def _of_question(ledger: Ledger, step: Step) -> Iterator[str]:
    place = ledger.knowledge.states.get(step.state)
    listed = place.confirmations if place else ()
    if ledger.grouped:
        known = ledger.knowledge.confirmations
        again = [one.id for one in known.values() if one.instead_of and set(one.instead_of) <= set(listed)]
        leaving = [one.id for one in known.values() if one.group == "leaving"]
        own = (*_own_lines(place), IN_HAND + step.check)
        if not step.lines or not set(step.lines) <= {*listed, *again, *leaving, *own}:
            yield "although this vehicle state does not ask for it"
        return
    if step.confirmation not in (*listed, IN_HAND + step.check):
        yield "although this vehicle state does not ask for it"


def _own_lines(place: VehicleState | None) -> Iterator[str]:
    """The lines of the program's own that may stand before a vehicle state."""
    if place and place.cold_after:
        yield NO_PUMP
    if place and "tightening" in place.asks:
        yield from (NEW_BELT, BY_PICTURE)


def _of_state(ledger: Ledger, step: Step, asked: Check | None) -> Iterator[str]:
    place = ledger.knowledge.states[step.state]
    if ledger.grouped:
        check = asked if step.kind in ("check", "round") else None
        lacking = ledger.lacking(place.id, check)
        if ledger.account.inside != place.id or lacking:
            things = (ledger.knowledge.confirmations[one].ask for one in lacking)
            what = _listed(things) if lacking else place.words
            yield f"although what it needs was not confirmed, or no longer held: {what}"
        if step.kind in ("set-up", "part", "torque") and place.engine == "running":
            yield "although hands may not go in while the engine runs"
        return
    if ledger.live != place.id or not ledger.entered:
        yield f"although what it needs was not confirmed, or no longer held: {place.words}"
        return
    denied = [one for one in place.confirmations if ledger.said.get(one) is False]
    if denied and ledger.rules > FIRST_RULES:
        things = (ledger.knowledge.confirmations[one].ask for one in denied)
        yield f"although this was last said not to be so: {_listed(things)}"
    if step.kind in ("set-up", "part", "torque") and place.engine == "running":
        yield "although hands may not go in while the engine runs"


def _of_check(ledger: Ledger, step: Step, check: Check | None) -> Iterator[str]:
    if check is None or step.kind in ("part", "torque"):
        return
    yield from _of_vehicle(ledger, step, check)
    needed = check.set_up.state if step.kind == "set-up" and check.set_up else check.state
    if step.state != needed and not _isolated_too(ledger, check, needed, step.state):
        yield "although it is made in another vehicle state"
    in_hand = ledger.account.standing if ledger.grouped else ledger.since
    if check.consumes and IN_HAND + check.id not in in_hand and step.kind != "set-up":
        yield "although nobody said that what it uses up is in hand"
    if check.set_up and step.kind != "set-up":
        done = ledger.ready if ledger.grouped else {ledger.set_up} - {""}
        ready = [ledger.knowledge.checks[one] for one in done]
        if (check.set_up, check.state) not in [(one.set_up, one.state) for one in ready]:
            yield "although it was not set up with the engine stopped"
    limited = ledger.knowledge.states[step.state].run_limit is not None
    if step.kind != "set-up" and limited == (step.kind in ("check", "round")):
        yield "although such a check is made in a timed run" if limited else "although no timed run is needed for it"


def _of_vehicle(ledger: Ledger, step: Step, check: Check) -> Iterator[str]:
    """What was told of the vehicle, where the check hangs on it."""
    place = ledger.knowledge.states.get(check.state)
    unasked = [fact for fact in (*check.needs, *(place.asks if place else ())) if fact not in ledger.facts]
    if unasked and not ledger.running and step.kind != "set-up":
        yield f'although the fact "{unasked[0]}" of the vehicle was not asked for yet'
    for fact, words in check.needs.items():
        told = ledger.facts.get(fact)
        if isinstance(told, str) and not set(words) & set(told.split()):
            yield "although it makes no sense on this vehicle"


def _isolated_too(ledger: Ledger, check: Check, needed: str, state: str) -> bool:
    """Whether it is made with the battery isolated, which satisfies whatever takes no voltage."""
    wanted, place = ledger.knowledge.states.get(needed), ledger.knowledge.states[state]
    if not ledger.grouped or wanted is None or check.takes_voltage or "running" in (wanted.engine, place.engine):
        return False
    return wanted.belt == place.belt and place.battery == "isolated"


def _listed(things: Iterator[str]) -> str:
    first, *others = things
    return f"{first} (and {len(others)} more)" if others else first
