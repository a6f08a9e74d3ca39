"""Why checks cannot be made now: a tool that is lent out, or what would hurt somebody.

In practice the order is free but for safety. Asking for what is unsafe is a safety error, is not carried out, and what
would have hurt is named. What was seen counts, whatever the learner took it for.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from triage.practice.exercise import Exercise
from triage.practice.safety import Missed

MOST_NAMED = 3
HANDS_FIRST = "What leaks, hangs or is loose meets a hand."


@dataclass(frozen=True)
class Refused:
    """Why checks cannot be made.

    Args:
        why: in words.
        unsafe: the safety error that asking for it was; None where it was none.
        not_done: the checks that are noted as could not be done.
    """

    why: str
    unsafe: Missed | None = None
    not_done: tuple[str, ...] = ()


def refusal(exercise: Exercise, checks: Sequence[str]) -> Refused | None:
    """Why a go cannot be made now; None where it can."""
    lent = _lent_out(exercise, checks)
    if lent:
        return lent
    states = [state for state in (exercise.target([one]) for one in checks) if state is not None]
    if any(state.engine == "running" for state in states):
        return _shut(exercise) or _too_early(exercise, checks)
    if any(state.battery == "isolated" for state in states) and (fuel := _shut(exercise, fuel=True)):
        return fuel
    return _untorched(exercise, checks)


def _lent_out(exercise: Exercise, checks: Sequence[str]) -> Refused | None:
    wanted = {one: set(exercise.knowledge.checks[one].tools) & set(exercise.vehicle.lacking) for one in checks}
    tools = sorted(set[str]().union(*wanted.values()))
    if not tools:
        return None
    names = " and ".join(exercise.knowledge.tools[one].name for one in tools)
    return Refused(f"Lent out today: {names}.", not_done=tuple(one for one, lacks in wanted.items() if lacks))


def _shut(exercise: Exercise, *, fuel: bool = False) -> Refused | None:
    """Why the engine must not be started, or nothing disconnected, by what was seen."""
    for shown in (one for gone in exercise.course for one in gone.shown):
        check = exercise.knowledge.checks[shown.check]
        for outcome in map(check.outcome, shown.outcomes):
            if outcome is None or not outcome.closes_running or (fuel and not outcome.fuel):
                continue
            seen = outcome.id in exercise.made.get(check.id, ())
            taken = "" if seen else f" You took it for something else. Look again: {check.name}."
            wanted = "to disconnect the battery" if fuel else "to start the engine"
            why = f"This must not be: {outcome.words}. {outcome.closes_running}{taken}"
            return Refused(why, Missed(f"Wanted {wanted}: {outcome.words}.", outcome.closes_running))
    return None


def _too_early(exercise: Exercise, checks: Sequence[str]) -> Refused | None:
    """Why the engine does not run yet: what the author of the tree looks at first. A round is open with one line."""
    if exercise.precautions.open_after(exercise.first_judged()) & set(checks):
        return None
    first = ", ".join(exercise.knowledge.checks[one].name for one in exercise.of_tree() if one not in checks)
    why = f"The engine does not run yet. First comes: {first or 'what the tree asks first'}."
    return Refused(why, _unlooked(exercise))


def _unlooked(exercise: Exercise) -> Missed:
    """The safety error of a start before the looks that can forbid it."""
    left = [one for one in exercise.precautions.guards.values() if one.id not in exercise.made]
    looks = [one for one in left if one.untouched] or left
    names = ", ".join(one.name for one in looks) or "every look"
    harms = dict.fromkeys(str(out.closes_running) for one in looks for out in one.outcomes if out.closes_running)
    return Missed(f"Wanted to start the engine before: {names}.", " ".join(harms) or "Nobody has looked.")


def _untorched(exercise: Exercise, checks: Sequence[str]) -> Refused | None:
    """Why no hand goes in yet: nobody has looked from outside, and the tree does not ask for it so."""
    looks = [one for one in exercise.checks if exercise.knowledge.checks[one].untouched]
    hands = {one for one in checks if _hands_in(exercise, one)}
    if not hands or not looks or set(looks) & set(exercise.made) or hands & set(exercise.of_tree()):
        return None
    names = ", ".join(exercise.knowledge.checks[one].name for one in looks[:MOST_NAMED])
    why = f"No hand goes in yet. First by torch, touching nothing: {names}."
    return Refused(why, Missed("Wanted hands in before anybody had looked by torch.", HANDS_FIRST))


def _hands_in(exercise: Exercise, check: str) -> bool:
    place = exercise.target([check])
    return place is not None and place.near == "hands-in" and not exercise.knowledge.checks[check].untouched
