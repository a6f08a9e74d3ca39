"""What is proved of the complaint, in words: the first thing that is said of an end."""

from triage.knowledge.models import Knowledge
from triage.present.shapes import PROOFS, Choice, StepView
from triage.present.steps.findings import say_finding
from triage.present.steps.oddities import odd_on_screen
from triage.record.steps import Step
from triage.session.proving import disproving, gone_now, met_under, proof_of
from triage.session.state import State

PENDING = "Proof pending: repaired, and the complaint is not proved gone yet."
_ASK = {
    "proved-gone": "Sign off?",
    "not-provable": "The complaint is not proved gone. How does it go on?",
    "not-cured": "Not cured. How does it go on?",
}
_CHOICES = {
    "proved-gone": (
        ("sign-off", "Gone: sign off"),
        ("not-cured", "Not cured: go on searching"),
        ("another", "Gone, but another fault was seen: go on in this job"),
    ),
    "not-provable": (
        ("pending", "Leave it open: proof pending"),
        ("not-cured", "Not cured: go on searching"),
        ("close", "Close it without proof, with a reason"),
    ),
    "not-cured": (("not-cured", "Go on searching"), ("close", "Close it without a cure, with a reason")),
}


def prove_view(knowledge: Knowledge, state: State, step: Step) -> StepView:
    """What the checks after the repair prove, why, and what can be done now."""
    proof = step.proof or "not-provable"
    choices = tuple(Choice(*pair) for pair in _CHOICES[proof])
    title = f"Complaint: {PROOFS[proof]}"
    odd = () if proof == "not-cured" else odd_on_screen(knowledge, state)
    lines = (_why(knowledge, state, proof), *odd)
    return StepView(title, _ASK[proof], lines=lines, choices=choices)


def _why(knowledge: Knowledge, state: State, proof: str) -> str:
    under = met_under(knowledge, state)
    if proof == "not-cured":
        bad = disproving(knowledge, state)
        told = (f"{knowledge.checks[one].name}: {say_finding(knowledge.checks[one], state.after[one])}" for one in bad)
        return f'{"; ".join(told)}. Mistyped? "back".'
    if proof == "proved-gone":
        return f"Met before ({under}), not there after under the same." if under else _repeat(knowledge, state)
    if not under:
        return "It was never met here under a named condition: that it is not there now proves nothing."
    if not gone_now(knowledge, state):
        return f"It was met ({under}), and that condition was not made again with the engine running."
    return "What was checked again proves nothing."


def _repeat(knowledge: Knowledge, state: State) -> str:
    check = knowledge.checks[knowledge.trees[state.symptom].repeat]
    before, now = (say_finding(check, one.get(check.id)) for one in (state.findings, state.after))
    return f"{check.name}: before {before}, now {now}"


def so_far(knowledge: Knowledge, state: State) -> tuple[str, ...]:
    """At a conclusion: whether it could be proved gone after a repair; nothing in sessions from before that."""
    if knowledge.trees[state.symptom].complaint is None:
        return ()
    under = met_under(knowledge, state)
    if under:
        return (f"Complaint: met ({under}). Not proved gone until it is looked for under the same condition.",)
    return ("Complaint: not met here. Whatever is renewed cannot be proved to have cured it.",)


def now_lines(knowledge: Knowledge, state: State, step: Step) -> tuple[str, ...]:
    """Beside the question whether it is there now: under which condition it was met."""
    complaint = knowledge.trees[state.symptom].complaint
    if complaint is None or step.check != complaint.now:
        return ()
    under = met_under(knowledge, state)
    return (f"It was met: {under}.",) if under else ("It was not met here before.",)


def proof_line(knowledge: Knowledge, state: State) -> tuple[str, ...]:
    """The first line of a page: what is proved of the complaint; nothing before there is a conclusion."""
    if state.proof or state.pending:
        return (f"Complaint: {PROOFS[state.proof]}." if state.proof else PENDING,)
    if state.stage in ("working", "proving"):
        proof = proof_of(knowledge, state)
        return (f"Complaint: {PROOFS[proof]} so far; the repair is under way.",)
    return so_far(knowledge, state) if state.concluded else ()


def closed_view(state: State) -> StepView:
    """A session that is over, with what is proved."""
    if state.closed == "turned-away":
        lines = (
            "This program stops here: such machines can start the engine or shock by themselves.",
            "Follow the vehicle maker's procedure, with people qualified for it.",
        )
        return StepView("Turned away", "", lines=lines)
    title = "Signed off" if state.closed == "signed-off" else "Closed without repair"
    if state.proof and state.closed != "signed-off":
        title = "Closed after a repair"
    proof = (f"Complaint: {PROOFS[state.proof]}.",) if state.proof else ()
    return StepView(title, "", lines=(*proof, "The session is saved and closed."))
