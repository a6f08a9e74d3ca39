"""What a finding says about signs: the one function that turns findings into evidence.

The outcomes of a check stand in an order of precedence. An outcome means that its own sign is present and the signs of
the abnormal outcomes before it are absent; what comes after it was not looked for. The normal outcome means that all of
them are absent. So the outcomes of a check exclude each other and add up to one. Which outcome is normal depends on
the vehicle, and a sign that is normal on it is no evidence of a fault.

Evidence is a set of alternatives, each with a weight and likelihoods for the levels of some signs. A plain finding has
one alternative; a reading near a limit whose zones are signs of their own has one for each zone it may lie in, where
zones that differ in one sign alone are told in one.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from triage.knowledge.models import Check, Knowledge, Outcome, Sign


@dataclass(frozen=True)
class Found:
    """A check with what it came to.

    Args:
        check: id of the check.
        outcomes: outcome ids; none where it could not be done.
        zones: for a reading, the probability of each of its zones in their order; empty without a reading.
    """

    check: str
    outcomes: tuple[str, ...]
    zones: tuple[float, ...] = ()


@dataclass(frozen=True)
class Alternative:
    """One way in which the signs may stand.

    Args:
        weight: its likelihood beside those of the other alternatives.
        signs: for each sign that is known about, the likelihood of each of its levels, the normal one first.
    """

    weight: float
    signs: dict[str, tuple[float, ...]]


Likelihoods = Mapping[str, tuple[float, ...]]
"""For each sign that is known about, the likelihood of each of its levels."""
Evidence = tuple[Alternative, ...]
NOTHING: Evidence = (Alternative(1.0, {}),)
"""What an answer that says nothing is worth."""


def complaint(knowledge: Knowledge, symptom: str) -> Evidence:
    """The symptom as evidence: its own sign is present."""
    sign = knowledge.signs.get(symptom)
    return (Alternative(1.0, {sign.id: _present(sign)}),) if sign else NOTHING


def meaning(knowledge: Knowledge, found: Found, pulley: str) -> Evidence:
    """What a finding says.

    Args:
        knowledge: the checks and signs.
        found: the finding.
        pulley: the specified pulley type, which decides what is normal.

    Returns:
        The evidence; `NOTHING` for what could not be done, or was answered so that it says nothing.
    """
    check = knowledge.checks[found.check]
    if check.reading and found.zones:
        weights: dict[str, float] = {}
        for zone, probability in zip(check.reading.zones, found.zones, strict=True):
            weights[zone.outcome] = weights.get(zone.outcome, 0.0) + probability
        return _weighed(knowledge, check, weights, pulley)
    told = [outcome for outcome in check.outcomes if outcome.id in found.outcomes]
    if not told or any(outcome.says_nothing for outcome in told):
        return NOTHING
    if check.several:
        return (Alternative(1.0, _each(knowledge, check, told, pulley)),)
    return _weighed(knowledge, check, {told[0].id: 1.0}, pulley)


def leading(knowledge: Knowledge, check_id: str, outcome_id: str, pulley: str) -> dict[str, tuple[float, ...]]:
    """What is so where this is the first of the outcomes that show: what a tree goes by, where several may be named.

    Args:
        knowledge: the checks and signs.
        check_id: the check.
        outcome_id: an outcome that shows something, or the normal one, even where its answer says nothing.
        pulley: the specified pulley type.

    Returns:
        The likelihoods of the levels of the signs; over all such outcomes they add up to one.
    """
    (one,) = _weighed(knowledge, knowledge.checks[check_id], {outcome_id: 1.0}, pulley)
    return one.signs


def together(evidence: Iterable[Evidence]) -> Evidence:
    """What several pieces of evidence say at once; empty where they contradict each other."""
    all_of: Evidence = NOTHING
    for one in evidence:
        all_of = tuple(joint for left in all_of for right in one if (joint := _joint(left, right)))
    return all_of


def both(left: Likelihoods, right: Likelihoods) -> dict[str, tuple[float, ...]]:
    """What two pieces say at once, level by level; where they exclude each other a sign is left no level at all."""
    signs = {**left, **right}
    for sign in left.keys() & right.keys():
        signs[sign] = tuple(a * b for a, b in zip(left[sign], right[sign], strict=True))
    return signs


def evidence_of(knowledge: Knowledge, symptom: str, findings: Iterable[Found], pulley: str) -> Evidence:
    """What the complaint and all findings say at once; empty where they contradict each other."""
    return together((complaint(knowledge, symptom), *(meaning(knowledge, found, pulley) for found in findings)))


def _weighed(knowledge: Knowledge, check: Check, weights: dict[str, float], pulley: str) -> Evidence:
    sign = knowledge.signs.get(check.sign or "")
    if sign:
        return (Alternative(1.0, {sign.id: tuple(weights.get(level, 0.0) for level in sign.levels)}),)
    alternatives: Evidence = ()
    for outcome in check.outcomes:
        if (weight := weights.get(outcome.id, 0.0)) > 0:
            alternatives = _with(alternatives, Alternative(weight, _precedence(knowledge, check, outcome, pulley)))
    return alternatives


def _with(alternatives: Evidence, more: Alternative) -> Evidence:
    """Add an alternative, to the first one that differs from it in one sign alone where there is such a one."""
    for at, one in enumerate(alternatives):
        differing = [sign for sign in one.signs if one.signs[sign] != more.signs.get(sign)]
        if one.signs.keys() == more.signs.keys() and len(differing) == 1:
            (sign,) = differing
            both = zip(one.signs[sign], more.signs[sign], strict=True)
            shown = tuple(one.weight * here + more.weight * there for here, there in both)
            return (*alternatives[:at], Alternative(1.0, {**one.signs, sign: shown}), *alternatives[at + 1 :])
    return (*alternatives, more)


def _precedence(knowledge: Knowledge, check: Check, told: Outcome, pulley: str) -> dict[str, tuple[float, ...]]:
    signs: dict[str, tuple[float, ...]] = {}
    for outcome, sign in _abnormal(knowledge, check, pulley):
        if outcome.id == told.id:
            return {**signs, sign.id: _present(sign)}
        signs[sign.id] = _absent(sign)
    return signs if told.id == check.normal(pulley) else {}


def _each(knowledge: Knowledge, check: Check, told: list[Outcome], pulley: str) -> dict[str, tuple[float, ...]]:
    """Where several may be named, all are asked about: what was not named is absent."""
    return {
        sign.id: _present(sign) if outcome in told else _absent(sign)
        for outcome, sign in _abnormal(knowledge, check, pulley)
    }


def _abnormal(knowledge: Knowledge, check: Check, pulley: str) -> list[tuple[Outcome, Sign]]:
    normal = check.normal(pulley)
    return [
        (outcome, knowledge.signs[outcome.sign])
        for outcome in check.outcomes
        if outcome.sign and outcome.id != normal and not outcome.says_nothing
    ]


def _present(sign: Sign) -> tuple[float, ...]:
    return (0.0, *(1.0 for _ in sign.levels[1:]))


def _absent(sign: Sign) -> tuple[float, ...]:
    return (1.0, *(0.0 for _ in sign.levels[1:]))


def _joint(left: Alternative, right: Alternative) -> Alternative | None:
    signs = both(left.signs, right.signs)
    return Alternative(left.weight * right.weight, signs) if all(map(any, signs.values())) else None
