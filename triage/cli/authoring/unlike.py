"""How it reads where a case made of a session would come to something else."""

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from triage.app.case_walked import Difference
    from triage.knowledge.models import Knowledge

NOT_WRITTEN = "No case was written: walked, it would not come to what the session came to."


def said(knowledge: "Knowledge", one: "Difference") -> str:
    """One difference in a line."""
    check = knowledge.checks.get(one.check)
    names = {outcome.id: outcome.words for outcome in check.outcomes} if check else {}
    names |= {cause.id: cause.name for cause in knowledge.causes.values()}
    about = (check.name if check else one.check) if one.check else "Conclusion"
    none = "could not be done" if one.check else "no cause"
    session, case = (_in_words(found, names, none) for found in (one.in_session, one.in_case))
    return f"{about}: {session} in the session, {case} in the case."


def _in_words(found: tuple[str, ...] | None, names: dict[str, str], none: str) -> str:
    if found is None:
        return "not reached"
    return ", ".join(names.get(one, one) if one else "too close to tell" for one in found) or none
