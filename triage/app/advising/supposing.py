"""What another answer would have changed: the ranking and where the tree would lead; nothing of it is recorded."""

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from triage.app.advising.advice import ranked_now
from triage.errors import CommandRefused
from triage.session.state import Finding
from triage.session.stepping import place_of

if TYPE_CHECKING:
    from triage.knowledge.models import Knowledge, Node
    from triage.record.counsel import LikelyCause
    from triage.session.state import State


@dataclass(frozen=True)
class Supposed:
    """Before and after.

    Args:
        before: the likeliest causes by what was found.
        after: the same with the other answer.
        leads_to: where the tree stands with it.
    """

    before: "tuple[LikelyCause, ...]"
    after: "tuple[LikelyCause, ...]"
    leads_to: "Node"


def suppose(knowledge: "Knowledge", state: "State", said: str) -> Supposed:
    """Take one answer for another, or for one that was never given.

    Args:
        knowledge: what the session used.
        state: where it stands.
        said: check and outcome, as in "spin-idler=rough".

    Raises:
        CommandRefused: there is no such check or outcome.
    """
    check_id, _, outcome = said.partition("=")
    check = knowledge.checks.get(check_id.strip())
    if check is None:
        raise CommandRefused(f"There is no check '{check_id.strip()}'.", "Say it as in: --if spin-idler=rough")
    if check.outcome(outcome.strip()) is None:
        known = ", ".join(one.id for one in check.outcomes)
        raise CommandRefused(f"'{check.id}' has no outcome '{outcome.strip()}'.", f"It has: {known}.")
    other = Finding(check.id, (outcome.strip(),), state.last_ms, "supposed")
    # As if the repair had not been begun: what was found before it decides where the tree leads.
    as_found = replace(state, after={}, stage="finding", concluded=None)
    supposed = replace(as_found, findings={**state.findings, check.id: other})
    return Supposed(
        ranked_now(knowledge, as_found).likely,
        ranked_now(knowledge, supposed).likely,
        place_of(knowledge, supposed).node,
    )
