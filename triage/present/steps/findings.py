"""A finding in words."""

from triage.knowledge.models import Check


def say_finding(check: Check, finding: object) -> str:
    """A finding in words."""
    outcomes = getattr(finding, "outcomes", None)
    if outcomes is None:
        return "not checked"
    if not outcomes:
        return f"could not be done ({getattr(finding, 'reason', '')})"
    told = [check.outcome(outcome) for outcome in outcomes]
    words = ", ".join(outcome.words for outcome in told if outcome)
    said = getattr(finding, "said", "")
    return f"{words} [{said}]" if said else words
