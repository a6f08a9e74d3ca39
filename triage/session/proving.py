"""What is proved of the complaint after a repair: gone, not provable here, or not cured.

Gone is what was met before, under a condition that somebody named, and is not there after under the same. A check that
was normal before proves nothing by being normal again, and nothing is proved without the engine having run.
"""

from typing import Literal

from triage.knowledge.models import AsProof, Knowledge, Outcome
from triage.session.state import Finding, State

Proof = Literal["", "proved-gone", "not-provable", "not-cured"]


def proof_of(knowledge: Knowledge, state: State) -> Proof:
    """What the findings after the repair prove of the complaint."""
    if disproving(knowledge, state):
        return "not-cured"
    if gone_by_repeat(knowledge, state) or (gone_now(knowledge, state) and met_under(knowledge, state)):
        return "proved-gone"
    return "not-provable"


def disproving(knowledge: Knowledge, state: State) -> tuple[str, ...]:
    """The checks after the repair that speak against a cure."""
    return tuple(check for check, found in state.after.items() if says(knowledge, state, found) == "disproves")


def says(knowledge: Knowledge, state: State, finding: Finding | None) -> AsProof:
    """What a finding says as proof; of several outcomes one that disproves is enough."""
    if finding is None:
        return "nothing"
    check = knowledge.checks[finding.check]
    told = {check.proof(outcome, state.pulley) for outcome in finding.outcomes}
    return "disproves" if "disproves" in told else "proves" if "proves" in told else "nothing"


def gone_by_repeat(knowledge: Knowledge, state: State) -> bool:
    """Whether the running check of the complaint itself was bad before and is good now."""
    repeat = knowledge.trees[state.symptom].repeat
    place = knowledge.states.get(knowledge.checks[repeat].state)
    runs = place is not None and place.engine == "running"
    before, after = state.findings.get(repeat), state.after.get(repeat)
    if before and before.told_by:
        # Nobody here has heard it: its absence proves nothing.
        return False
    if any(one.waits for one in _named(knowledge, state)):
        # Met on a cold morning, it is not proved gone on a warm engine.
        return False
    return runs and says(knowledge, state, before) == "disproves" and says(knowledge, state, after) == "proves"


def gone_now(knowledge: Knowledge, state: State) -> bool:
    """Whether somebody has said, after the repair and with the engine running, that the complaint is not there."""
    complaint = knowledge.trees[state.symptom].complaint
    return complaint is not None and _complaint(knowledge, state.after.get(complaint.now)) == {"absent"}


def met_under(knowledge: Knowledge, state: State) -> str:
    """The condition under which the complaint was met before the repair, in words; "" where it never was."""
    complaint = knowledge.trees[state.symptom].complaint
    met = (one for one in state.findings.values() if not one.told_by)
    if complaint is None or not any("there" in _complaint(knowledge, one) for one in met):
        return ""
    return next((one.words for one in _named(knowledge, state)), "")


def _named(knowledge: Knowledge, state: State) -> tuple[Outcome, ...]:
    complaint = knowledge.trees[state.symptom].complaint
    under = state.findings.get(complaint.under) if complaint else None
    told = (knowledge.checks[under.check].outcome(one) for one in under.outcomes) if under else ()
    return tuple(one for one in told if one)


def is_absent(knowledge: Knowledge, state: State) -> bool:
    """Whether it was said, with the engine running, that the complaint is not there now."""
    complaint = knowledge.trees[state.symptom].complaint
    now = state.known.get(complaint.now) if complaint else None
    return now is not None and "there" not in _complaint(knowledge, now)


def _complaint(knowledge: Knowledge, finding: Finding | None) -> set[str]:
    if finding is None:
        return set()
    told = (knowledge.checks[finding.check].outcome(outcome) for outcome in finding.outcomes)
    return {one.complaint for one in told if one and one.complaint}
