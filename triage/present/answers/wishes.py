"""Why not something else: another check, or another cause."""

from collections.abc import Iterable

from triage.knowledge.models import Check, Knowledge
from triage.knowledge.walk import fits
from triage.present.steps.findings import say_finding
from triage.present.steps.shares import share
from triage.session.choosing import may_be_asked
from triage.session.state import State
from triage.session.stepping import place_of

_IDLE = frozenset({"the", "and", "for", "not", "why", "you", "can", "could", "with", "was", "are", "what", "about"})


def why_not_lines(knowledge: Knowledge, state: State, text: str) -> list[str]:
    """Why the check or the cause that a question names does not come now; else what comes instead, and why."""
    check = knowledge.checks.get(_named(text, ((one.id, one.name) for one in knowledge.checks.values())))
    cause = _named(text, ((one.id, one.name) for one in knowledge.causes.values()))
    lines = [_of_check(knowledge, state, check)] if check else []
    likely = {one.cause: one.probability for one in state.likely}
    if cause in likely:
        lines.append(f"{knowledge.causes[cause].name} stands at {share(likely[cause])}.")
    elif cause and state.likely:
        lowest = min(likely.values())
        lines.append(f"{knowledge.causes[cause].name} stands below {share(lowest)}, the least of those I list.")
    return [*lines, *_instead(knowledge, state)]


def _of_check(knowledge: Knowledge, state: State, check: Check) -> str:
    if check.id in state.known:
        return f"{check.name} was made: {say_finding(check, state.known[check.id])}."
    if not fits(knowledge, check.id, state.vehicle):
        return f"{check.name} does not fit this vehicle's pulley."
    if check.id in (state.step.check, *state.step.open):
        return f"{check.name} is on screen now."
    if state.stage == "finding" and check.id in may_be_asked(knowledge, state):
        return f'{check.name} may be made now, if you want it: "check".'
    return f"{check.name} may not be made yet: others come before it."


def _instead(knowledge: Knowledge, state: State) -> list[str]:
    node = place_of(knowledge, state).node if state.stage == "finding" else None
    if node is None or node.check is None:
        return []
    return [f"First comes {knowledge.checks[node.check].name}. {node.because or knowledge.checks[node.check].why}"]


def _named(text: str, names: Iterable[tuple[str, str]]) -> str:
    """The id whose name shares most words with a text, at least half of its own; "" where none does."""
    said = _words(text)
    shares = [(len(_words(name) & said) / len(_words(name)), one) for one, name in names if _words(name)]
    best = max(shares, default=(0.0, ""), key=lambda one: one[0])
    return best[1] if best[0] >= 0.5 else ""


def _words(text: str) -> frozenset[str]:
    """The words of a text by their first letters, so that "idlers" and "idler" are one."""
    plain = "".join(letter if letter.isalpha() else " " for letter in text.lower()).split()
    return frozenset(word[:5] for word in plain if len(word) > 2 and word not in _IDLE)
