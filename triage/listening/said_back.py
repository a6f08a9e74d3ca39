"""What was understood, in plain words, to be accepted before it counts."""

from collections.abc import Sequence
from typing import Final, assert_never

from triage.knowledge.models import Knowledge
from triage.listening import items as i
from triage.units import say_quantity

NOT_UNDERSTOOD: Final = "I did not get that."
ASK_OR_SAY: Final = "Answer in your own words, ask me something, or say why it cannot be done."
_ASKED: Final[dict[i.About, str]] = {
    "why": "why this step",
    "why-not": "why not something else",
    "where": "where it is",
    "how": "how it is done",
    "what-if": "what that would mean",
    "how-long": "how long it still takes",
    "how-sure": "how sure I am",
    "what-likely": "what I think it is",
    "what-found": "what was found so far",
    "meaning": "what a word means",
    "next": "what comes next",
}
_PULLEYS: Final = {
    "solid": "solid",
    "isolator": "isolator",
    "one-way-clutch": "one-way clutch",
    "decoupler": "decoupler",
    "unknown": "not known",
}
_REPLIES: Final = {"yes": "yes", "no": "no", "not-sure": "not sure"}


def said_back(knowledge: Knowledge, items: Sequence[i.Item], near: Sequence[i.Finding] = ()) -> str:
    """What the items say, in one line; where that is nothing, or a doubt, what may have been meant.

    Args:
        knowledge: gives names and words.
        items: what was understood.
        near: what may have been meant, the likelier first.
    """
    offered = " / ".join(_said(knowledge, one) for one in near)
    if items == (i.Nothing(),):
        return f"{NOT_UNDERSTOOD} {f'Did you mean: {offered}?' if offered else ASK_OR_SAY}"
    if items == (i.Reply("not-sure"),) and offered:
        return f"You are not sure. Was it: {offered}?"
    asked = [one for one in items if isinstance(one, i.Asked)]
    taken = [_said(knowledge, one) for one in items if not isinstance(one, i.Asked)]
    lines = [f"I take that as: {'; '.join(taken)}."] if taken else []
    lines += [f"You ask {' and '.join(_ASKED[one.about] for one in asked)}."] if asked else []
    return " ".join(lines)


def _said(knowledge: Knowledge, item: i.Item) -> str:
    match item:
        case i.Finding() | i.Reading() | i.Cannot():
            return f"{knowledge.checks[item.check].name}{_told(knowledge, item)}"
        case i.ToolMissing():
            return f"not at hand: {knowledge.tools[item.tool].name}"
        case i.WordFact() | i.MeasuredFact():
            return _fact(item)
        case i.Symptom():
            return knowledge.trees[item.symptom].name
        case i.Do():
            return f"you want: {item.word.replace('-', ' ')}"
        case i.Reply():
            return _REPLIES[item.kind]
        case i.Asked() | i.Nothing():
            return ""
    assert_never(item)


def _told(knowledge: Knowledge, item: i.Finding | i.Reading | i.Cannot) -> str:
    match item:
        case i.Finding():
            outcome = knowledge.checks[item.check].outcome(item.outcome)
            return f": {outcome.words if outcome else item.outcome}"
        case i.Reading():
            return f": {item.text.strip()}"
        case i.Cannot():
            return f" cannot be done{f' ({item.reason})' if item.reason else ''}"
    assert_never(item)


def _fact(item: i.WordFact | i.MeasuredFact) -> str:
    if isinstance(item, i.MeasuredFact):
        return f"odometer {say_quantity(item.value_si, 'distance')}"
    if item.fact == "cylinders":
        return f"{item.value} cylinders"
    return f"the maker's pulley: {_PULLEYS.get(str(item.value), str(item.value))}"
