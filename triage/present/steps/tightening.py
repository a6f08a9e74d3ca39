"""Whose torque a fastener gets, and which way a threaded pulley comes loose."""

from triage.drive.mechanics.fastening import loosening_turn
from triage.knowledge.models import Knowledge, Remedy
from triage.session.state import State


def torque_lines(knowledge: Knowledge, state: State, torque_id: str) -> tuple[str, ...]:
    """Whose figure to tighten to: the maker's for this job, or none; a typical one is never an instruction."""
    maker = state.maker.get(torque_id)
    if maker:
        return (f"Maker's figure for this job: {maker.text} ({maker.reference})",)
    torques = (torque for remedy in knowledge.remedies.values() for torque in remedy.torques)
    torque = next(torque for torque in torques if torque.id == torque_id)
    lines = ["Only the part's instruction sheet or the vehicle maker gives the figure for this job."]
    if torque.typical:
        source = knowledge.sources[torque.typical.source].title
        lines.append(f"Typical only, not an instruction: {torque.typical.text} ({source})")
    return tuple(lines)


def loosening_lines(remedy: Remedy) -> tuple[str, ...]:
    """The loosening directions of a threaded pulley, none for another remedy."""
    if not remedy.threaded_pulley:
        return ()
    return tuple(
        f"{hand.capitalize()}-hand thread, seen from the pulley end: loosen the hub {loosening_turn(hand, 'hub')} "
        f"with the shaft held, or the shaft {loosening_turn(hand, 'shaft')} with the hub held at its own spline."
        for hand in ("right", "left")
    )
