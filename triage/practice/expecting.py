"""What each answer to a check would have told, from a place of a course."""

from triage.knowledge.models import Knowledge
from triage.practice.policy import Findings
from triage.reasoning.advice.outcomes_ahead import outlooks
from triage.reasoning.inference.evidence import Found
from triage.record.counsel import Outlook


def expected_outlooks(
    knowledge: Knowledge, symptom: str, findings: Findings, pulley: str, check: str
) -> tuple[Outlook, ...]:
    """Each answer to a check with how often to expect it, and what then."""
    found = [Found(one, outcomes) for one, outcomes in findings.items()]
    return outlooks(knowledge, symptom, found, pulley, check)
