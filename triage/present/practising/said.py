"""What is said in practice: where one stands, what was missed, how it came out."""

from collections.abc import Iterable, Iterator

from triage.knowledge.models import Check, Knowledge
from triage.practice.chance import picked
from triage.practice.exercise import Exercise
from triage.practice.hints import Hint
from triage.practice.levels import LEVELS
from triage.practice.safety import Missed, Named
from triage.practice.vehicle import KM_M
from triage.practice.wording import Complaining

MARK = "PRACTICE: touch no vehicle"
"""Stands on every screen of practice."""
LEVEL_WORDS = (
    "Level 1: one fault, every tool, plain words",
    "Level 2: one fault or none, vague words",
    "Level 3: one or two faults, words that lead astray",
    "Level 4: it may come and go, a tool may be lent out, the customer waits",
    "Level 5: two faults or none, somebody has been at it before",
)
PULLEYS = {
    "solid": "a solid pulley",
    "isolator": "an isolator",
    "one-way-clutch": "a one-way clutch",
    "decoupler": "a decoupler",
}


def customer(exercise: Exercise) -> tuple[str, ...]:
    """What the customer says, and what is known of the vehicle."""
    vehicle, words = exercise.vehicle, exercise.setting.words.customers
    level, key = LEVELS[vehicle.level - 1], vehicle.key
    tree = exercise.knowledge.trees[vehicle.symptom]
    own = words.symptoms.get(vehicle.symptom, Complaining())
    plain = own.says if vehicle.level == 1 else own.vague
    said = picked(plain or own.says or tree.phrases, key, "says")
    lines = [f"The customer: “{said}”"]
    for holds, some, what in (
        (level.misleading, own.misleading, "misleading"),
        (not vehicle.there and not vehicle.sound, words.comes_and_goes, "comes and goes"),
        (level.worked_on, words.looked_before, "looked before"),
        (level.hurry, words.hurry, "hurry"),
    ):
        if holds and some:
            lines.append(f"“{picked(some, key, what)}”")
    pulley = PULLEYS.get(vehicle.pulley, "what nobody knows")
    lines.append(f"The papers: {vehicle.driven_m / KM_M:,.0f} km; the maker's alternator pulley is {pulley}.")
    if vehicle.lacking:
        tools = ", ".join(exercise.knowledge.tools[one].name for one in vehicle.lacking)
        lines.append(f"Lent out today: {tools}.")
    return tuple(lines)


def so_far(exercise: Exercise) -> str:
    """Minutes, money and starts in one line."""
    cost, prices = exercise.cost, exercise.setting.prices
    money = f" · {cost:,.2f} {prices.currency}".rstrip() if cost is not None else ""
    starts = f"engine started {exercise.starts} ×"
    errors = len(exercise.missed)
    safety = f" · safety errors {errors}" if errors else ""
    return f"{exercise.minutes:.0f} min{money} · {starts}{safety}"


def found_lines(exercise: Exercise) -> Iterator[str]:
    """What was judged so far."""
    for check, outcomes in exercise.made.items():
        yield f"{exercise.knowledge.checks[check].name}: {outcome_words(exercise.knowledge, check, outcomes)}"


def outcome_words(knowledge: Knowledge, check: str, outcomes: Iterable[str]) -> str:
    """Outcomes of a check in words."""
    words = [one.words for one in map(knowledge.checks[check].outcome, outcomes) if one]
    return "; ".join(words) or "says nothing, or could not be done"


def missed_lines(missed: Iterable[Missed]) -> Iterator[str]:
    """Safety errors with what would have hurt."""
    for one in missed:
        yield f"SAFETY: {one.what}"
        yield f"  What would have hurt: {one.harm}"


def named_lines(named: Named) -> Iterator[str]:
    """What naming what must be so came to."""
    if named.good:
        yield f"Rightly named: {named.good}."
    yield from (f"Not needed: {one}" for one in named.needless)
    if named.missed:
        yield "Missed, or wrongly taken for safe:"
        yield from missed_lines(named.missed)
    yield "The rest of the card is seen to before anything goes on."


def check_line(check: Check) -> str:
    """A check in a list."""
    return f"{check.name} ({check.minutes:g} min)"


def hint_lines(knowledge: Knowledge, hint: Hint, step: int) -> Iterator[str]:
    """A hint in words."""
    if step == 0:
        yield f"Still open, the likeliest first: {', '.join(knowledge.causes[one].name for one in hint.causes)}."
    elif hint.ends or not hint.checks:
        yield "By what was found, no check pays any more: conclude."
    else:
        names = ", ".join(knowledge.checks[one].name for one in hint.checks)
        yield f"What tells them apart best: {names}." if step == 1 else f"The reference would make: {names}."


def truth_lines(exercise: Exercise) -> Iterator[str]:
    """What was hidden, what was made of it, and whether it helped."""
    vehicle, causes = exercise.vehicle, exercise.knowledge.causes
    if vehicle.sound:
        yield "Hidden in it: nothing. What the customer hears is no fault of the drive."
    for one in vehicle.faults:
        made = "it made the complaint" if one in vehicle.made else "it is there, and made nothing of the complaint"
        yield f"Hidden in it: {causes[one].name} ({made})."
    ended = exercise.ended
    if ended is None:
        return
    named = ", ".join(causes[one].name for one in ended.causes) or "nothing"
    yield f"You concluded: {named}."
    done = ", ".join(exercise.knowledge.remedies[one].name for one in ended.remedies) or "nothing"
    yield f"You had put right: {done}."
    gone = {True: "The complaint is gone.", False: "The complaint is still there.", None: "There was no fault to cure."}
    yield gone[ended.gone]
    yield "You made the proof." if ended.proved else "You made no proof: nobody knew whether it was gone."


def misjudged_lines(exercise: Exercise) -> Iterator[str]:
    """What was taken for something else than it showed."""
    for gone in exercise.course:
        for shown in gone.shown:
            judged = gone.judged.get(shown.check, ())
            if shown.outcomes and set(judged) != set(shown.outcomes):
                name = exercise.knowledge.checks[shown.check].name
                took = outcome_words(exercise.knowledge, shown.check, judged)
                was = outcome_words(exercise.knowledge, shown.check, shown.outcomes)
                yield f"{name}: you took it for “{took}”; it was “{was}”."


def harm_lines(exercise: Exercise) -> Iterator[str]:
    """Safety errors and parts renewed for nothing: counted apart, never against time."""
    for one in exercise.for_nothing():
        yield f"For nothing: {exercise.knowledge.remedies[one].name}. No fault that it puts right was there."
    if exercise.missed:
        yield f"Safety errors: {len(exercise.missed)}. No time is worth one of them."
        yield from missed_lines(exercise.missed)
    else:
        yield "Safety errors: none."
