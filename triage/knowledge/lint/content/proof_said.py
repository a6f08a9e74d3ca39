"""Every outcome of a check that is used as proof says what it proves.

**Why.** What is normal for a vehicle is not what shows that a complaint is gone: a soft whirr is the sound of a healthy
clutch, and a rotor that coasts means the opposite behind a solid pulley. Nobody may have to lie to sign a cure off.

**Passes.** Where no tree says how its complaint is met (`complaint:`), everything. Otherwise `as_proof: proves`,
`disproves` or `nothing` at each outcome of a check that a tree or a remedy repeats; or
one of these for each specified pulley type. `says_nothing: true` is enough where it proves nothing either.

**Fails.** An outcome without it; one that leaves a pulley type out; a check that can prove nothing on some pulley.
"""

from collections.abc import Iterator

from triage.errors import Fault
from triage.knowledge.models import PULLEYS, Check, Knowledge, Outcome
from triage.knowledge.origins import Origins

_HINT = "Add 'as_proof: proves', 'disproves' or 'nothing', or one of these for each pulley type."


def find(knowledge: Knowledge, origins: Origins) -> Iterator[Fault]:
    """Name every outcome that leaves open what it proves, and every proof that proves nothing."""
    for check_id in _used(knowledge):
        check = knowledge.checks.get(check_id)
        if check is None:
            continue
        for position, outcome in enumerate(check.outcomes):
            lacking = _lacking(outcome)
            if lacking:
                place = origins.place("checks", check.id, "outcomes", position)
                yield Fault(place, f"Outcome '{outcome.id}' of {check.id} does not say {lacking}.", _HINT)
        yield from _never(check, origins)


def _used(knowledge: Knowledge) -> dict[str, None]:
    asking = [(tree.repeat, tree.complaint.now) for tree in knowledge.trees.values() if tree.complaint]
    if not asking:
        return {}
    repeated = [one for remedy in knowledge.remedies.values() for one in remedy.repeat]
    return dict.fromkeys((*repeated, *(check for pair in asking for check in pair)))


def _lacking(outcome: Outcome) -> str:
    if outcome.as_proof is None:
        return "" if outcome.says_nothing else "what it proves"
    left_out = [kind for kind in PULLEYS if isinstance(outcome.as_proof, dict) and kind not in outcome.as_proof]
    return f"what it proves with a pulley '{left_out[0]}'" if left_out else ""


def _never(check: Check, origins: Origins) -> Iterator[Fault]:
    fitting = check.only_for or tuple(kind for kind in PULLEYS if kind != "unknown")
    for pulley in fitting:
        if all(check.proof(outcome.id, pulley) != "proves" for outcome in check.outcomes):
            place = origins.place("checks", check.id)
            yield Fault(place, f"No outcome of {check.id} proves anything with a pulley '{pulley}'.", _HINT)
