"""One whole session in words, for tests of both faces: what a technician says at each check, and numbers elsewhere."""

from hands import lines_for

from triage.app.respondent import Asked, Respondent
from triage.knowledge.models import Check, Knowledge
from triage.present.typing.proposing import UNDERSTANDS
from triage.session import commands as c
from triage.session.state import State

SAID = {
    "complaint-heard": "I heard it myself this morning",
    "met-under": "with the engine warm, at idle",
    "when-heard": "no idea when he hears it",
    "recent-work": "nothing was touched lately",
    "belt-condition": "the belt is sound and dry",
    "belt-fit": "belt is routed right and the right length",
    "fluid-leak": "no leaks anywhere",
    "debris": "no shreds of belt anywhere",
    "fan-drive": "the fan coupling drags evenly",
    "crank-coupling": "the crank coupling is sound",
    "tensioner-strut": "the strut is dry",
    "steering-fluid": "steering fluid at its mark",
    "clutch-by-hand": "flicked the pulley, free one way",
    "heard-at-rest": "no, when all stands it is silent",
    "there-before-work": "the noise came since the work",
    "tensioner-position": "the pointer is between the marks",
    "pulley-type": "the pulley type is right",
    "mounting": "brackets are all tight and straight",
    "pulleys-in-sight": "nothing wrong with the pulleys",
    "spin-idler": "idler is rough, tensioner pulley spins smooth",
    "spin-alternator": "alternator spins smooth",
    "spin-decoupler-ring": "the alternator pulley's outer ring turns smooth",
    "spin-water-pump": "water pump turns smoothly",
    "spin-steering-pump": "steering pump spins smooth",
    "spin-compressor": "compressor pulley spins smooth",
    "pulley-security": "every pulley is tight on its shaft",
    "damper-condition": "damper rubber is sound",
    "groove-condition": "grooves are clean",
    "tensioner-travel": "the tensioner arm moves smoothly",
    "belt-wear": "the gauge says it is within limits",
    "alignment": "pulleys are in line",
    "belt-tracking": "the belt runs true",
    "complaint-now": "no, the noise is gone",
    "bearing-listen": "the pick-ups say nothing bad",
    "shutdown-listen": "it is quiet when it stops",
}
AFTER = {"spin-idler": "the new one spins smooth"}
"""What is said in the proof, where that is something else."""


class RoughIdler(Respondent):
    """Finds a rough idler, and all well once it was renewed."""

    who = "Ada"

    def found(self, asked: Asked, check: Check) -> c.Command:
        """The idler is rough until it was renewed."""
        if asked.step.proving or check.id != "spin-idler":
            return super().found(asked, check)
        return c.Answer(**asked.given, check=check.id, outcomes=("rough",))


def said_for(knowledge: Knowledge, state: State, at_ms: int) -> tuple[str, ...]:
    """What is typed at a step: at a check a sentence and Enter, elsewhere what hands type; nothing where it is over."""
    command = RoughIdler().answer(knowledge, state, at_ms)
    if state.step.kind in UNDERSTANDS and isinstance(command, c.Answer):
        said = AFTER if state.step.proving else {}
        return said.get(command.check, SAID[command.check]), ""
    return lines_for(knowledge, command, state.step)
