"""The session's own route in words: always said to be its own and not the tree's."""

from triage.knowledge.models import Knowledge
from triage.record.events import OwnRouteEnded, OwnRouteTaken
from triage.session.own_route import own_step
from triage.session.state import State

OWN = "Own route, not the tree's"
NEXT = "this check comes next. What it is worth: worth"
ENDED = "it ends here: none of the checks that may be made is worth its minutes."


def own_lines(state: State) -> tuple[str, ...]:
    """What stands above a step that the session chose itself, none above the tree's."""
    if state.step.kind == "conclusion":
        ended = state.concluded is not None and state.concluded.own
        return (f"{OWN}: {ENDED}",) if ended else ()
    own = own_step(state)
    if own is None or own.check != state.step.check:
        return ()
    return (f"{OWN}: {NEXT}",)


def own_words(knowledge: Knowledge, event: OwnRouteTaken | OwnRouteEnded) -> str:
    """An event of the own route as a line of the page."""
    if isinstance(event, OwnRouteTaken):
        return f"{OWN}: {knowledge.checks[event.check].name}, about {event.minutes:g} min with the way there"
    names = " and ".join(knowledge.causes[cause].name for cause in event.causes)
    return f"Conclusion ({OWN[0].lower()}{OWN[1:]}): {names or 'undecided'}"
