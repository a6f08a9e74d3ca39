"""A session's step as a frozen view: what every face shows, in the order to show it."""

from dataclasses import replace
from typing import Final

from triage.knowledge.models import Knowledge, Remedy
from triage.knowledge.vehicle import SEVERAL, WORDS
from triage.present.shapes import ENDS, Choice, StepView
from triage.present.steps.check_facts import check_facts, tools_line
from triage.present.steps.costs_line import costs_line
from triage.present.steps.ending import why_off
from triage.present.steps.left_open import left_choices, left_lines
from triage.present.steps.limits import units_of
from triage.present.steps.making_safe import card_view, why_view
from triage.present.steps.own_route import own_lines
from triage.present.steps.proof import PENDING, closed_view, now_lines, prove_view, so_far
from triage.present.steps.rounds import round_view
from triage.present.steps.shares import beside_conclusion
from triage.present.steps.tightening import loosening_lines, torque_lines
from triage.present.steps.worth import checks_beside
from triage.record.steps import Step
from triage.session.interlocks import START_TRIED, closing_finding, tells_of_fuel
from triage.session.own_route import one_more
from triage.session.state import State
from triage.session.stepping import remedies_of

GATE = "Does the drive carry, or sit near, any of these?"
GATE_CHOICES = (
    ("none", "None of these: a plain alternator, no hybrid, no high voltage near"),
    ("starter-generator", "A belt-driven starter-generator, of any voltage"),
    ("hybrid", "The vehicle is a hybrid"),
    ("high-voltage", "High-voltage parts or orange cables near the drive"),
    ("dont-know", "I do not know"),
)
PULLEY_CHOICES = (
    ("solid", "Solid pulley"),
    ("isolator", "Isolator: rubber or spring both ways, no free-wheel"),
    ("one-way-clutch", "One-way clutch: free one way, holds the other"),
    ("decoupler", "Decoupler: one-way clutch with a spring"),
    ("unknown", "Not known"),
)
PART_CHOICES = (
    ("renewed", "Renewed"),
    ("found-good", "Checked and found good"),
    ("repaired", "Repaired, cleaned or adjusted"),
    ("left", "Left as it is"),
)


def step_view(knowledge: Knowledge, state: State) -> StepView:
    """The view of the step on screen."""
    view = _view(knowledge, state, state.step)
    return replace(view, lines=(*own_lines(state), *view.lines))


def _view(knowledge: Knowledge, state: State, step: Step) -> StepView:
    if step.kind == "round":
        return round_view(knowledge, state, step)
    if step.kind in ("check", "result", "run", "run-ready"):
        return _check_view(knowledge, state, step)
    if step.kind == "which":
        return _which_view(knowledge, step)
    if step.kind in ("part", "torque"):
        return _work_view(knowledge, state, step)
    if step.kind == "set-up":
        return _set_up_view(knowledge, step)
    if step.kind in ("confirm", "why", "held", "blocked", "run-over", "switch-off"):
        return _interlock_view(knowledge, state, step)
    return _stage_view(knowledge, state, step)


def line_view(knowledge: Knowledge, state: State, check_id: str) -> StepView:
    """The view of one line of the round on screen, once it was picked."""
    attempt = 2 if check_id in state.first_readings else 1
    step = state.step.model_copy(update={"kind": "check", "check": check_id, "attempt": attempt})
    return _check_view(knowledge, state, step)


def choices_of(pairs: tuple[tuple[str, str], ...]) -> tuple[Choice, ...]:
    """Pairs of id and words as numbered answers."""
    return tuple(Choice(*pair) for pair in pairs)


def _stage_view(knowledge: Knowledge, state: State, step: Step) -> StepView:
    if step.kind == "gate":
        return StepView("Before anything else", GATE, choices=choices_of(GATE_CHOICES))
    if step.kind == "fact":
        return fact_view(step.fact)
    if step.kind == "paused":
        pending = (PENDING,) if step.proof else ()
        lines = (*pending, f"{state.holder} has this session. Every confirmation has ended.")
        title = "Proof pending" if step.proof else "Paused"
        return StepView(title, "Who is at the vehicle now? Give your name to go on.", lines=lines)
    if step.kind == "conclusion":
        return _conclusion_view(knowledge, state)
    if step.kind == "prove":
        return prove_view(knowledge, state, step)
    return closed_view(state)


def fact_view(fact: str) -> StepView:
    """The question for one fact of the vehicle."""
    if fact == "pulley":
        ask = "Which alternator pulley does the vehicle maker specify? Look it up; do not judge by what is fitted."
        return StepView("The vehicle", ask, choices=choices_of(PULLEY_CHOICES))
    if fact == "odometer":
        return StepView("The vehicle", 'What does the odometer show? A number (km), "95k miles", or "unknown".')
    if fact in WORDS:
        choices = tuple(Choice(word, said[0].upper() + said[1:]) for word, said in WORDS[fact].items())
        more = " Several numbers or words, with blanks between them." if fact in SEVERAL else ""
        return StepView("The vehicle", f"{ASKS[fact]}{more}", choices=(*choices, Choice("unknown", "I do not know")))
    return StepView("The vehicle", f'{ASKS[fact]} A number, or "unknown".')


ASKS: Final = {
    "cylinders": "How many cylinders?",
    "tightening": "What keeps this belt tight? A stretch belt has neither arm nor screw; taking it off destroys it.",
    "drives": "What does this belt drive?",
    "belts": "How many belts are there in front of the engine?",
    "managed_charging": "Does the engine computer manage the charging? A sensor at the negative clamp says so.",
    "system_voltage": "What is the system voltage?",
}
"""How each fact is asked for that is no pulley and no odometer."""


def _conclusion_view(knowledge: Knowledge, state: State) -> StepView:
    found = state.concluded
    node = knowledge.trees[state.symptom].nodes.get(found.node) if found else None
    because = (
        *so_far(knowledge, state),
        *((node.because,) if node and node.because else ()),
        *((f"Tell the customer: {node.tell}",) if node and node.tell else ()),
        *beside_conclusion(knowledge, state),
        *checks_beside(knowledge, state),
    )
    if found is None or not found.causes:
        title = ENDS.get(found.end if found else "", "No cause found")
        ways = (
            ("close", "Close, with a reason"),
            *left_choices(knowledge, state),
            *_one_more(knowledge, state),
            ("pause", "Leave it open, and look again later"),
        )
        lines = (*because, *left_lines(knowledge, state))
        return StepView(title, "How does it go on?", lines=lines, choices=choices_of(ways))
    names = [f"{knowledge.causes[cause].name}. {knowledge.causes[cause].meaning}" for cause in found.causes]
    close = [
        f"Close to a limit: {knowledge.checks[check].name}. Treat the conclusion as likely, not proved."
        for check in found.close_calls
    ]
    left = [f"If it is left: {knowledge.remedies[knowledge.causes[cause].remedy].if_left}" for cause in found.causes]
    choices = (
        ("repair", "Put it right"),
        ("close", "Close without repair, with a reason"),
        *_one_more(knowledge, state),
    )
    title = "Conclusion: " + " and ".join(knowledge.causes[cause].name for cause in found.causes)
    lines = (*because, *names, *close, *left, *costs_line(knowledge, state))
    return StepView(title, "How does it go on?", lines=lines, choices=choices_of(choices))


def _one_more(knowledge: Knowledge, state: State) -> tuple[tuple[str, str], ...]:
    one = one_more(state)
    return (("one-more", f"Make one more check: {knowledge.checks[one.check].name}"),) if one else ()


def _interlock_view(knowledge: Knowledge, state: State, step: Step) -> StepView:
    if step.kind == "why":
        return why_view(knowledge, state, step)
    if step.kind == "blocked":
        return _blocked_view(knowledge, state)
    if step.kind == "run-over":
        ask = "Switch off now. Engine off, key out, everything still?"
        if state.ended in ("", "run-over"):
            return StepView("TIME IS UP", ask, choices=OFF)
        return _off_view(knowledge, state, ask)
    if step.kind == "switch-off":
        ask = "Switch the engine off now. Is it off, and everything still?"
        return _off_view(knowledge, state, ask)
    if step.kind == "held":
        return _held_view(knowledge, state, step)
    return card_view(knowledge, state, step)


def _off_view(knowledge: Knowledge, state: State, ask: str) -> StepView:
    return StepView("SWITCH OFF", ask, lines=(why_off(knowledge, state),), warnings=(NOBODY_IN,), choices=OFF)


WHOSE = "whose figure is it tightened to, and where does it stand? Such as: part's sheet."
NOBODY_IN = "Nobody goes in until all is still."
OFF = (Choice("still", "Off, and all is still"),)


def _set_up_view(knowledge: Knowledge, step: Step) -> StepView:
    check = knowledge.checks[step.check]
    set_up = check.set_up
    return StepView(
        f"Set up: {check.name}",
        "Is it set up, and are all hands out of the bay?",
        lines=("The engine stays off meanwhile. What it needs to run is confirmed afterwards.",),
        steps=set_up.steps if set_up else (),
        warnings=set_up.hazards if set_up else (),
        facts=tools_line(knowledge, check),
        choices=choices_of((("done", "Set up, hands out"), ("cannot", "It cannot be set up like this"))),
        vehicle=knowledge.states[step.state].words,
    )


def _blocked_view(knowledge: Knowledge, state: State) -> StepView:
    check = knowledge.checks[state.step.check]
    finding = closing_finding(knowledge, state)
    told = finding.outcomes if finding else ()
    reasons = tuple(o.closes_running for o in check.outcomes if o.id in told and o.closes_running)
    reasons = reasons or ("Nobody has been able to look.",)
    choices = (("put-right", "It is put right now: check again"), ("close", "Close without repair, with a reason"))
    fuel = finding is not None and tells_of_fuel(knowledge, finding)
    title = "FUEL: HANDS OUT, KEEP AWAY" if fuel else "THE ENGINE MUST NOT RUN"
    ask = "Nothing goes on until this is put right." if fuel else "The engine stays off until this is put right."
    return StepView(title, ask, lines=(check.name, *reasons), choices=choices_of(choices))


def _held_view(knowledge: Knowledge, state: State, step: Step) -> StepView:
    target = knowledge.states[step.state]
    thing = knowledge.confirmations.get(step.confirmation)
    if step.open:
        seen = ", ".join(knowledge.checks[one].name for one in step.open)
        why = f'Not before this was seen to be so: {seen}. "amend" puts that answer right, "back" takes it back.'
    elif thing and thing.group == "alone" and step.confirmation not in state.denied:
        why = 'Not by somebody who is alone: only what can be done from the seat, at idle. Somebody came? "alone".'
    elif step.confirmation == START_TRIED and step.confirmation not in state.denied:
        why = "The start may not be tried: nobody has looked from outside yet, or what was found forbids it."
    elif thing:
        why = f"Not confirmed: {thing.ask}"
    elif step.confirmation:
        why = "What is used up is not in hand."
    elif target.runs is not None and state.runs >= target.runs:
        why = f"All {target.runs} runs are used."
    else:
        cold = target.cold_after.text if target.cold_after else "some time"
        why = f'The engine must have been stopped for {cold}. Type "pause" and come back then: what was found stays.'
    choices = [("again", "It is so now: ask again")] if step.confirmation in state.denied else []
    if step.check:
        choices.append(("cannot", "This check cannot be done"))
    choices.append(("close", "Close without repair, with a reason"))
    return StepView("Held", "How does it go on?", lines=(why,), choices=choices_of(tuple(choices)))


def _check_view(knowledge: Knowledge, state: State, step: Step) -> StepView:
    check = knowledge.checks[step.check]
    vehicle = knowledge.states[step.state].words if step.state in knowledge.states else ""
    if step.kind == "run-ready":
        choices = choices_of((("start", "Start the engine now"), ("cannot", "This check cannot be done")))
        limit = knowledge.states[step.state].run_limit
        lines = (f"The run is {limit.text if limit else ''} at most, at idle. Run {state.runs + 1}.",)
        return StepView(
            check.name,
            "Ready?",
            lines=lines,
            steps=check.steps,
            warnings=check.hazards,
            choices=choices,
            vehicle=vehicle,
        )
    if step.kind == "run":
        still = choices_of((("still", "Engine off, and all is still"),))
        return StepView(
            check.name,
            "Switch off as soon as you know.",
            warnings=check.hazards,
            choices=still,
            until_ms=step.until_ms,
        )
    result = step.kind == "result"
    asked = f"{once_more(state, step)}{check.question}"
    return StepView(
        check.name + (" (after the repair)" if step.proving else ""),
        asked,
        lines=now_lines(knowledge, state, step),
        steps=() if result else check.steps,
        warnings=() if result else check.hazards,
        facts=(*check_facts(knowledge, state, check), *(() if result else _conduct(knowledge, step))),
        choices=tuple(Choice(outcome.id, outcome.words) for outcome in check.outcomes),
        vehicle="Engine stopped" if result else vehicle,
        until_ms=step.until_ms,
        timed=check.reading.timed if check.reading else False,
        measured=check.reading is not None,
        units=units_of(check.reading, state) if check.reading else "",
        check=check.id,
    )


def once_more(state: State, step: Step) -> str:
    """Why a check is asked again whose reading did not decide; "" where it is asked for the first time."""
    readings = state.first_readings.get(step.check, ())
    if len(readings) > 1:
        texts = [f"{number}: {one.said}" for number, one in enumerate(readings, 1)]
        return f'These do not agree: {", ".join(texts)}. Measure once more, or "throw away" one of them. '
    return "" if step.attempt == 1 else "Too close to call. Measure once more. "


def _conduct(knowledge: Knowledge, step: Step) -> tuple[str, ...]:
    """How one behaves in a vehicle state: shown while it applies, never asked."""
    place = knowledge.states.get(step.state)
    return tuple(place.shown.values()) if place else ()


def _which_view(knowledge: Knowledge, step: Step) -> StepView:
    remedy = knowledge.remedies[step.remedy]
    places = remedy.which.places if remedy.which else ()
    choices = tuple(Choice(place, place) for place in places)
    return StepView(remedy.name, remedy.which.ask if remedy.which else "Which one?", choices=choices)


def _work_view(knowledge: Knowledge, state: State, step: Step) -> StepView:
    # An edited trace may ask for a part whose repair was not begun.
    begun = (*remedies_of(knowledge, state), *knowledge.remedies.values())
    remedy = next(remedy for remedy in begun if _holds(remedy, step))
    vehicle = knowledge.states[step.state].words
    if step.kind == "torque":
        torque = next(torque for torque in remedy.torques if torque.id == step.torque)
        asked = "what torque was it tightened to?" if step.torque in state.maker else WHOSE
        ask = f'{torque.what}: {asked} Or "none".'
        lines = torque_lines(knowledge, state, step.torque)
        return StepView(remedy.name, ask, lines=lines, warnings=remedy.cautions, vehicle=vehicle)
    part = next(part for part in remedy.parts if part.id == step.part)
    todo = {"renew": "Renew", "inspect": "Check, and renew if worn or near its life", "repair": "Put right"}[part.todo]
    first = part.id == remedy.parts[0].id
    return StepView(
        remedy.name,
        f"{part.name}: what was really done?",
        lines=(f"{todo}: {part.name}. {part.why}",),
        steps=remedy.steps if first else (),
        warnings=(*remedy.cautions, *loosening_lines(remedy)) if first else (),
        choices=choices_of(PART_CHOICES),
        vehicle=vehicle,
    )


def _holds(remedy: Remedy, step: Step) -> bool:
    if step.kind == "torque":
        return any(torque.id == step.torque for torque in remedy.torques)
    return any(part.id == step.part for part in remedy.parts)
