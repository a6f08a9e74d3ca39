"""Which checks are worth their minutes, in words: the sentence when none is, the line of a trace."""

from triage.knowledge.models import Knowledge
from triage.present.steps.shares import share
from triage.record.counsel import CheckWorth
from triage.record.events import AdviceGiven
from triage.record.payloads import Counsel
from triage.session.own_route import one_more
from triage.session.state import State

MOST_NAMED = 2
"""Causes that are named in one line."""
FIRST = "What pays may only be made after what the tree has in front of it: the step on screen comes first."
OUT_OF_REACH = (
    "Another check might pay, but only after others that the search did not come to: none can be made from here."
)
NO_MORE = "More checks would not pay: none that is left is expected to save the minutes that it takes."
CONTRADICTING = "The findings contradict each other, so no check can be weighed. Read them with path, amend one."


def turned(knowledge: Knowledge, advice: AdviceGiven) -> str:
    """What is said when checks have come to pay no more, or to pay again."""
    if advice.pays:
        return f"Checks pay again. {_best(knowledge, advice)}"
    if not advice.likely:
        return CONTRADICTING
    return (
        "More checks no longer pay: none that may be made now is expected to save the minutes that it takes. "
        f"Likeliest: {_likeliest(knowledge, advice)}. The step on screen stays open; the figures: worth"
    )


def advice_words(knowledge: Knowledge, advice: AdviceGiven) -> str:
    """Advice that was given before a conclusion, in one line."""
    begin = f"asked {advice.asked}" if advice.asked else "checks pay again" if advice.pays else "checks no longer pay"
    if not advice.likely:
        return f"{begin}: the findings contradict each other"
    if advice.about:
        return f"{begin}, {knowledge.checks[advice.about].name}: {_outlooks(knowledge, advice)}"
    best = f"; best check: {weighed_words(knowledge, advice.checks[0])}" if advice.checks else ""
    return f"{begin}: {_likeliest(knowledge, advice)}{best}"


def _outlooks(knowledge: Knowledge, advice: AdviceGiven) -> str:
    check = knowledge.checks[advice.about]
    words = {outcome.id: outcome.words for outcome in check.outcomes}
    told = [
        f"{words.get(one.outcome, one.outcome)} ({share(one.chance)}), then {knowledge.causes[one.cause].name} "
        f"{share(one.after)}"
        for one in advice.outlooks
        if one.cause
    ]
    return "; ".join(told) or "no answer tells causes apart"


def checks_beside(knowledge: Knowledge, state: State) -> list[str]:
    """What is said of further checks beside a conclusion, as recorded with it; an own route has said it itself."""
    advice = state.counsel
    if advice is None or advice.pays is None or not advice.likely:
        return []
    if state.concluded and state.concluded.own:
        return _meanwhile(knowledge, advice)
    one = one_more(state)
    still = f"One more check still pays. {weighed_words(knowledge, one)}." if one else OUT_OF_REACH
    return [still if advice.pays else NO_MORE, *_meanwhile(knowledge, advice)]


def _meanwhile(knowledge: Knowledge, advice: Counsel) -> list[str]:
    """What else to look at while the belt is off, for faults that may be there besides."""
    looks = [
        f"{knowledge.checks[one.check].name} ({_min(one.saves_min)} saved for {_min(one.minutes)})"
        for one in advice.meanwhile
    ]
    return [f"Several faults may be there. Worth a look while the belt is off: {'; '.join(looks)}."] if looks else []


def _best(knowledge: Knowledge, advice: AdviceGiven) -> str:
    paying = next((one for one in advice.checks if one.pays), None)
    return f"{weighed_words(knowledge, paying)}." if paying else FIRST


def weighed_words(knowledge: Knowledge, one: CheckWorth) -> str:
    """One check with what it saves, takes and tells."""
    pays = "" if one.pays else ", does not pay"
    told = f"{_min(one.saves_min)} saved for {_min(one.minutes)}{pays}; tells {one.gain_bits:.2f} bit"
    return f"{knowledge.checks[one.check].name}{_and_more(one)}: {told}"


def _and_more(one: CheckWorth) -> str:
    return f" and {len(one.with_checks)} more in the same stand" if one.with_checks else ""


def _min(minutes: float) -> str:
    return "under 1 min" if minutes < 1 else f"{minutes:.0f} min"


def _likeliest(knowledge: Knowledge, advice: AdviceGiven) -> str:
    named = advice.likely[:MOST_NAMED]
    return ", ".join(f"{knowledge.causes[one.cause].name} {share(one.probability)}" for one in named)
