"""A round on one screen: a line a check, each with its number, which it keeps until all are answered."""

from triage.knowledge.models import Check, Knowledge
from triage.present.shapes import Choice, StepView
from triage.present.steps.findings import say_finding
from triage.record.steps import Step
from triage.session.rounds import closing, pointed_at, tracking_due
from triage.session.state import State

ANSWERED, OPEN = "[x] ", "[ ] "
PICK = "The number of a line, in any order."
REST = '"rest": nothing else found.'
APART = '"apart": one by one.'
ALARM = 'Thrown, smoke, spray, a new knock, a warning lamp: "alarm", F10.'


def round_view(knowledge: Knowledge, state: State, step: Step) -> StepView:
    """Every line of the round, open or answered."""
    place = knowledge.states[step.state]
    checks = [knowledge.checks[one] for one in step.lines]
    waiting = [knowledge.checks[one] for one in step.open]
    running = place.engine == "running"
    rest = (REST,) if closing(knowledge, step.open) else ()
    hazards = (*(hazard for check in waiting for hazard in check.hazards), *((ALARM,) if running else ()))
    return StepView(
        f"{knowledge.rounds[step.round].name}: {len(step.open)} of {len(checks)} open",
        " ".join((PICK, *rest, APART)),
        warnings=tuple(dict.fromkeys(hazards)),
        facts=tuple(place.shown.values()),
        choices=tuple(Choice(check.id, _line(knowledge, state, step, check)) for check in checks),
        vehicle=place.words,
        until_ms=step.until_ms,
    )


def _line(knowledge: Knowledge, state: State, step: Step, check: Check) -> str:
    if check.id not in step.open:
        return f"{ANSWERED}{check.name}: {say_finding(check, state.known.get(check.id))}"
    later = " (once the belt was seen to run true)" if tracking_due(knowledge, state, check) else ""
    again = " (measure once more)" if check.id in state.first_readings else ""
    said = pointed_at(knowledge, state).get(check.id) if knowledge.states[step.state].engine == "stopped" else None
    first = f" (first: {said[0].lower()}{said[1:]})" if said else ""
    return f"{OPEN}{check.name}{first}{again}{later}"
