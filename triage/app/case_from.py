"""A recorded case out of a session: its vehicle, what was found before any repair, and what was concluded."""

from typing import TYPE_CHECKING, Any

from triage.documents.writing import write_text
from triage.knowledge.vehicle import LATER_FACTS

if TYPE_CHECKING:
    from triage.knowledge.models import Knowledge
    from triage.session.state import State

ABOUT = "# about: a session. Made from what was recorded; no vehicle, customer or technician is named.\n"
KM_M = 1000


def case_text(knowledge: "Knowledge", state: "State", name: str) -> str:
    """A file with one case that walks to the same findings and conclusion.

    Args:
        knowledge: what the session used.
        state: where it stands.
        name: the id of the case.
    """
    return f"{ABOUT}{write_text([case_of(knowledge, state, name)])}"


def case_of(knowledge: "Knowledge", state: "State", name: str) -> dict[str, Any]:
    """The case as data; a reading stands as the outcome that it was judged to be."""
    found = {check: list(one.outcomes) for check, one in state.findings.items() if one.outcomes}
    told: dict[str, Any] = {"id": name, "symptom": state.symptom, "vehicle": vehicle_data(state)}
    told["findings"] = {check: outcomes[0] if len(outcomes) == 1 else outcomes for check, outcomes in found.items()}
    tools = _lacking(knowledge, state)
    if tools:
        told["missing_tools"] = tools
    if state.concluded:
        told["cause"] = list(state.concluded.causes)
    return told


def vehicle_data(state: "State") -> dict[str, Any]:
    """The facts as a case writes them; what was not told is left out, what was said to be unknown too."""
    facts, told = state.facts, {"specified_pulley": str(state.pulley)} if "pulley" in state.facts else {}
    data: dict[str, Any] = dict(told)
    odometer, cylinders = facts.get("odometer"), facts.get("cylinders")
    if isinstance(odometer, float):
        data["odometer"] = f"{odometer / KM_M:g} km"
    if isinstance(cylinders, float):
        data["cylinders"] = int(cylinders)
    for fact in LATER_FACTS:
        value = facts.get(fact)
        if value is None:
            if fact in facts:
                data[fact] = "unknown"
        elif fact == "drives":
            data[fact] = str(value).split()
        elif isinstance(value, float):
            data[fact] = int(value)
        else:
            data[fact] = value
    return data


def _lacking(knowledge: "Knowledge", state: "State") -> list[str]:
    """Tools of checks that could not be made, but for those that another check was made with."""
    made = {tool for check, one in state.findings.items() if one.outcomes for tool in knowledge.checks[check].tools}
    missed = [
        tool for check, one in state.findings.items() if not one.outcomes for tool in knowledge.checks[check].tools
    ]
    return [tool for tool in dict.fromkeys(missed) if tool not in made]
