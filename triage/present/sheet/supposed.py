"""What another answer would have changed, in a few lines."""

from typing import TYPE_CHECKING, Final

from triage.present.shapes import ENDS
from triage.present.steps.shares import share

if TYPE_CHECKING:
    from triage.app.advising.supposing import Supposed
    from triage.knowledge.models import Knowledge, Node
    from triage.record.counsel import LikelyCause

MOST: Final = 4


def supposed_lines(knowledge: "Knowledge", said: str, supposed: "Supposed") -> tuple[str, ...]:
    """Before, after, and where the tree would lead."""
    check, _, outcome = said.partition("=")
    one = knowledge.checks[check.strip()]
    answer = one.outcome(outcome.strip())
    return (
        f"If {one.name} had been: {answer.words if answer else outcome}",
        f"  As found:  {_likely(knowledge, supposed.before)}",
        f"  Then:      {_likely(knowledge, supposed.after)}",
        f"  The tree:  {_leads(knowledge, supposed.leads_to)}",
        "Supposed, from what is in the trace; nothing of it was recorded.",
    )


def _likely(knowledge: "Knowledge", likely: "tuple[LikelyCause, ...]") -> str:
    told = [f"{knowledge.causes[one.cause].name} {share(one.probability)}" for one in likely[:MOST]]
    return ", ".join(told) or "the findings contradict each other"


def _leads(knowledge: "Knowledge", node: "Node") -> str:
    if node.check:
        return f"would ask next: {knowledge.checks[node.check].name}"
    if node.conclude:
        return f"would conclude: {' and '.join(knowledge.causes[one].name for one in node.conclude)}"
    return f"would end: {ENDS.get(node.end or '', node.end or '')}"
