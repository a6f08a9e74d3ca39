"""What a check that has not been made would do to the ranking: each outcome, how often to expect it, and what then."""

from collections.abc import Sequence

from triage.knowledge.models import Knowledge
from triage.reasoning.inference.evidence import Found, evidence_of, meaning, together
from triage.reasoning.inference.making import believed
from triage.reasoning.inference.network import NO_SHIFTS, Shifts, network_of
from triage.reasoning.inference.rounding import recorded
from triage.record.counsel import Outlook


def outlooks(
    knowledge: Knowledge,
    symptom: str,
    findings: Sequence[Found],
    pulley: str,
    check_id: str,
    shifts: Shifts = NO_SHIFTS,
) -> tuple[Outlook, ...]:
    """What each outcome of a check would do to the ranking; outcomes that say nothing are left out.

    Args:
        knowledge: causes, signs and checks.
        symptom: the complaint.
        findings: what was found; one of this check itself is passed over.
        pulley: the specified pulley type.
        check_id: the check.
        shifts: what circumstances do to the odds of causes before anything is found.

    Returns:
        One for each outcome in the order of the check; none where the findings contradict each other.
    """
    network = network_of(knowledge, pulley, shifts)
    others = [found for found in findings if found.check != check_id]
    so_far = evidence_of(knowledge, symptom, others, pulley)
    now = believed(network, symptom, so_far)
    if not now.chance:
        return ()
    expected = []
    for outcome in knowledge.checks[check_id].outcomes:
        if outcome.says_nothing:
            continue
        more = meaning(knowledge, Found(check_id, (outcome.id,)), pulley)
        then = believed(network, symptom, together((so_far, more)))
        after = {cause: recorded(probability) for cause, probability in then.deciding.items()}
        cause = max(after, key=after.__getitem__, default="")
        before, chance = recorded(now.deciding.get(cause, 0.0)), recorded(then.chance / now.chance)
        expected.append(
            Outlook(outcome=outcome.id, chance=chance, cause=cause, before=before, after=after.get(cause, 0.0))
        )
    return tuple(expected)
