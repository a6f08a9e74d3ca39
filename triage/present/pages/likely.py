"""The page that says which causes are likely, and what speaks for and against each.

Source: from-memory. Steps of half a power of ten, after Jeffreys.
"""

from triage.app.advising.advice import looked_at
from triage.knowledge.models import Knowledge
from triage.present.steps.findings import say_finding
from triage.present.steps.shares import TURNED_AWAY, share
from triage.record.counsel import LikelyCause, Reason
from triage.session.state import State
from triage.units import say_quantity

MOST_SHOWN = 3
STRONG, CLEAR = 10.0, 10.0**0.5
"""From these ratios of odds on, either way, a reason is called strong or clear. Source: after Jeffreys, from memory."""
FAINT = 1.1
"""Factors below this, either way, are left out."""
HOW_FAR = (
    "A fault can be there without having made the complaint. Several can have made it together, so the figures need "
    "not add up to 100 %. Behind them stand worded strengths from memory: judgement, not counted vehicles."
)

NEARLY = (
    "Each finding by itself, with everything else that was found. A look can miss what is there: think of these causes "
    "again where the complaint comes back."
)


def likely_page(knowledge: Knowledge, state: State) -> list[str]:
    """Who is likely and why: as recorded with the conclusion or when it was asked."""
    if state.closed == "turned-away":
        return [TURNED_AWAY]
    unlikely = unlikely_lines(knowledge, state)
    unlisted = state.counsel.unlisted if state.counsel else None
    nothing = [f"Nothing that is listed: {share(unlisted)} likely to have made it"] if unlisted is not None else []
    ruled_out = ["Ruled out, or nearly:", *unlikely] if unlikely else []
    return [*likely_lines(knowledge, state, state.likely), *nothing, *ruled_out] or [
        "The findings contradict each other, so that no cause can have made them all. Read them with path, amend one."
    ]


def likely_lines(knowledge: Knowledge, state: State, likely: tuple[LikelyCause, ...]) -> list[str]:
    """The likeliest causes with their reasons; nothing where there are none."""
    lines = []
    for one in likely[:MOST_SHOWN]:
        name = knowledge.causes[one.cause].name
        lines.append(f"{name}: {_how_likely(one)}; {share(one.before)} before anything was known")
        lines.extend(f"  {_reason(knowledge, state, reason)}" for reason in one.reasons if _counts(reason.factor))
    return [*lines, HOW_FAR] if lines else []


def _how_likely(one: LikelyCause) -> str:
    """Whether it made the complaint, and whether it is there; older traces tell the latter alone."""
    if one.present is None:
        return f"{share(one.probability)} likely"
    return f"{share(one.probability)} likely to have made the complaint, {share(one.present)} to be there"


def unlikely_lines(knowledge: Knowledge, state: State) -> list[str]:
    """The causes that a recorded conclusion leaves hardly any room for, each with the look that speaks most against it.

    Traces from before only looks counted name other reasons too: those are left out.
    """
    lines = []
    recorded = state.counsel.unlikely if state.concluded and state.counsel else ()
    for one in (one for one in recorded if looked_at(knowledge, one.against)):
        against = _said(knowledge, state, one.against.check)
        odds = f"odds ÷ {1 / one.against.factor:.3g}" if one.against.factor else "ruled out"
        name = knowledge.causes[one.cause].name
        lines.append(f"{name}: {share(one.before)} before, {share(one.probability)} now, by {against} ({odds})")
    return [*lines, NEARLY] if lines else []


def _counts(factor: float) -> bool:
    return factor > FAINT or factor < 1 / FAINT


def _reason(knowledge: Knowledge, state: State, reason: Reason) -> str:
    said = _holding(knowledge, state, reason.circumstance) or _said(knowledge, state, reason.check)
    return f"{_speaks(reason.factor)}: {said}"


def _speaks(factor: float) -> str:
    if factor == 0:
        return "ruled out by"
    size, side = max(factor, 1 / factor), "for" if factor > 1 else "against"
    word = "strongly " if size >= STRONG else "" if size >= CLEAR else "a little "
    return f"{word}{side} it, odds {'×' if factor > 1 else '÷'} {size:.3g}"


def _holding(knowledge: Knowledge, state: State, circumstance_id: str) -> str:
    """What holds of the vehicle; "" where a finding is the reason."""
    circumstance = knowledge.circumstances.get(circumstance_id)
    if circumstance is None or circumstance.life is None:
        return circumstance.words if circumstance else ""
    odometer = state.facts.get("odometer")
    renewed_m = state.renewed_at_m.get(circumstance.part or "")
    driven = say_quantity(odometer, "distance") if isinstance(odometer, float) else "distance not known"
    since = f", renewed at {say_quantity(renewed_m, 'distance')}" if renewed_m is not None else ""
    return f"{driven} driven{since}. {circumstance.words} is expected to last {circumstance.life.text}"


def _said(knowledge: Knowledge, state: State, check_id: str) -> str:
    if not check_id:
        return f"the complaint, {knowledge.trees[state.symptom].name}"
    check = knowledge.checks[check_id]
    return f"{check.name}: {say_finding(check, state.findings.get(check_id))}"
