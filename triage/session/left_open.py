"""What could not be made, and what that keeps closed: nobody comes to an end without being told the way on."""

from triage.knowledge.gates import is_gate
from triage.knowledge.models import Knowledge
from triage.knowledge.walk import fits
from triage.session.proving import is_absent
from triage.session.state import State


def not_made(knowledge: Knowledge, state: State) -> tuple[str, ...]:
    """The checks that could not be made or told nothing, those that keep the engine off first."""
    mute = [
        check
        for check, finding in state.known.items()
        if fits(knowledge, check, state.vehicle) and (not finding.outcomes or _blind(knowledge, state, check))
    ]
    return tuple(sorted(mute, key=lambda check: not keeps_engine_off(knowledge, check)))


def keeps_engine_off(knowledge: Knowledge, check: str) -> bool:
    """Whether it is a look without which no engine is started."""
    return is_gate(knowledge, knowledge.checks[check])


def not_tested(knowledge: Knowledge, state: State) -> tuple[str, ...]:
    """The tests of the tree that were not made because the complaint was not there."""
    if not is_absent(knowledge, state):
        return ()
    named = dict.fromkeys(node.check for node in knowledge.trees[state.symptom].nodes.values() if node.check)
    return tuple(one for one in named if one not in state.known and knowledge.checks[one].needs_complaint)


def _blind(knowledge: Knowledge, state: State, check: str) -> bool:
    told = (knowledge.checks[check].outcome(outcome) for outcome in state.known[check].outcomes)
    return keeps_engine_off(knowledge, check) and all(one and one.says_nothing for one in told)
