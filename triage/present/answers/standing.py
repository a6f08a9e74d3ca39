"""Where the search stands: what is likely, how sure that is, and what was found."""

from triage.knowledge.models import Knowledge
from triage.present.pages.any_moment import path_page
from triage.present.steps.shares import TURNED_AWAY, share
from triage.session.state import State

MOST = 3
JUDGED = "Behind the figures stand worded strengths from memory: judgement, not counted vehicles."
NOTHING_FITS = "The findings contradict each other: no cause can have made them all. Read them with path, amend one."


def likely_lines(knowledge: Knowledge, state: State) -> list[str]:
    """The likeliest causes, and what they were before anything was known."""
    if state.closed == "turned-away":
        return [TURNED_AWAY]
    told = [
        f"{knowledge.causes[one.cause].name} {share(one.probability)} (at the start {share(one.before)})"
        for one in state.likely[:MOST]
    ]
    return [f"{'; '.join(told)}.", 'Several can be true at once. Why: "likely".'] if told else [NOTHING_FITS]


def sure_lines(knowledge: Knowledge, state: State) -> list[str]:
    """How sure that is: the likeliest cause, how far the next one is behind, and what stands behind the figure."""
    if not state.likely:
        return likely_lines(knowledge, state)
    first, *others = state.likely
    name = knowledge.causes[first.cause].name
    lines = [f"{name}: {share(first.probability)} likely to have made the complaint."]
    if others:
        lines.append(f"Next to it {knowledge.causes[others[0].cause].name}, {share(others[0].probability)}.")
    close = [
        knowledge.checks[one.check].name for one in state.known.values() if one.verdict and not one.verdict.settled
    ]
    if close:
        lines[-1] += f" Too close to a limit: {', '.join(close)}."
    return [*lines, JUDGED]


def found_lines(knowledge: Knowledge, state: State) -> list[str]:
    """What was found last; the page has it all."""
    page = path_page(knowledge, state)
    more = len(page) - MOST + 1
    return [*page[-MOST + 1 :], f'And {more} before: "path".'] if len(page) > MOST else page
