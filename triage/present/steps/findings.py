"""Findings in words, before and after a repair."""

from triage.knowledge.models import Check, Knowledge
from triage.session.state import State


def before_after(knowledge: Knowledge, state: State) -> list[str]:
    """Each repeated check with what it was before and what it is now."""
    lines = []
    for check_id, now in state.after.items():
        check = knowledge.checks[check_id]
        before = state.findings.get(check_id)
        lines.append(f"{check.name}: before {say_finding(check, before)}, now {say_finding(check, now)}")
    return lines


def say_finding(check: Check, finding: object) -> str:
    """A finding in words."""
    outcomes = getattr(finding, "outcomes", None)
    if outcomes is None:
        return "not checked"
    if not outcomes:
        return f"could not be done ({getattr(finding, 'reason', '')})"
    told = [check.outcome(outcome) for outcome in outcomes]
    words = ", ".join(outcome.words for outcome in told if outcome)
    said, by = getattr(finding, "said", ""), getattr(finding, "told_by", "")
    marks = (f"[{said}]" if said else "", f"[told by {by}]" if by else "")
    return " ".join(filter(None, (words, *marks)))
