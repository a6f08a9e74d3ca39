"""A made-up vehicle: what is hidden in it, and what is known of it before anybody looks.

Faults are drawn from the base rates, shifted by what is known of the vehicle; whether one of them makes the complaint
from its strength, and a vehicle is drawn until one does. So among vehicles of a level faults are as frequent as the
knowledge says. The signs of a vehicle follow from its faults, one draw for each fault and sign.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field

from triage.errors import CommandRefused
from triage.knowledge.models import PULLEY_TYPES, Knowledge, Sign
from triage.practice.chance import between, picked, share, shuffled
from triage.practice.levels import LEVELS, ODOMETERS_KM, PROVOKED, Level
from triage.reasoning.inference.circumstances import VehicleFacts, shifts_of
from triage.reasoning.inference.network import Network, network_of

KM_M = 1000.0
MOST_TRIES = 20_000
"""Draws until a vehicle of the level makes the complaint; a complaint that hardly anything makes is given up."""
LEAK = ""
"""Stands for everything that is not listed among the causes."""


@dataclass(frozen=True)
class Vehicle:
    """A vehicle with what is hidden in it.

    Args:
        key: what everything about it is drawn by.
        symptom: the complaint.
        level: how hard it is.
        pulley: the specified pulley type.
        driven_m: its odometer [m].
        faults: what is wrong with it.
        made: those of them that made the complaint.
        there: whether the complaint is there when it comes in.
        provoked: whether a test brings it on where it is not.
        lacking: tools that are not at hand.
        fixed: outcomes that were recorded, by check; drawn ones have none.
        values: readings that were recorded, by check, in SI.
        recorded: whether it is a recorded case, where what was not recorded is normal.
    """

    key: str
    symptom: str
    level: int
    pulley: str
    driven_m: float
    faults: tuple[str, ...]
    made: tuple[str, ...]
    there: bool = True
    provoked: bool = True
    lacking: tuple[str, ...] = ()
    fixed: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    values: Mapping[str, float] = field(default_factory=dict)
    recorded: bool = False

    @property
    def sound(self) -> bool:
        """Whether nothing is wrong with it."""
        return not self.faults


def drawn(knowledge: Knowledge, symptom: str, level: int, seed: int) -> Vehicle:
    """Draw a vehicle.

    Args:
        knowledge: base rates and strengths.
        symptom: the complaint; "" for one that is drawn too.
        level: from 1 to 5.
        seed: the same seed gives the same vehicle.

    Raises:
        CommandRefused: hardly any vehicle of this level makes the complaint.
    """
    symptom = symptom or picked(sorted(knowledge.trees), seed, level, "symptom")
    key, wanted = f"{seed}|{level}|{symptom}", LEVELS[level - 1]
    pulley = picked(PULLEY_TYPES, key, "pulley")
    driven_m = float(int(between(*ODOMETERS_KM, key, "odometer"))) * 1000 * KM_M
    shifts = shifts_of(knowledge, VehicleFacts(pulley, driven_m), ())
    network = network_of(knowledge, pulley, shifts)
    faults, made = _faults(knowledge, network, symptom, wanted, key)
    # Nothing comes and goes where nothing ever was.
    there = bool(faults) and share(key, "there") >= wanted.intermittent
    return Vehicle(
        key,
        symptom,
        level,
        pulley,
        driven_m,
        faults,
        made,
        there=there,
        provoked=bool(faults) and share(key, "provoked") < PROVOKED,
        lacking=_lacking(knowledge, symptom, wanted, key),
    )


def _faults(
    knowledge: Knowledge, network: Network, symptom: str, level: Level, key: str
) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """The faults, and those of them that made the complaint."""
    if share(key, "sound") < level.sound:
        return (), ()
    rates = network.base_rates.tolist()
    sign = knowledge.signs.get(symptom)
    for number in range(MOST_TRIES):
        faults = tuple(
            cause for cause, rate in zip(network.causes, rates[:-1], strict=True) if share(key, number, cause) < rate
        )
        if len(faults) not in level.faults:
            continue
        made = tuple(cause for cause in faults if sign is None or pushed(network, sign, cause, key, "made", number))
        if made and (level.bystander or made == faults):
            return faults, made
    name = knowledge.trees[symptom].name
    raise CommandRefused(f"Hardly any vehicle of this level has: {name}.", "Take another level or another complaint.")


def pushed(network: Network, sign: Sign, cause: str, *words: object) -> int:
    """The level to which a fault, or the leak, pushes a sign in a vehicle; 0 is the normal one."""
    column = network.causes.index(cause) if cause else len(network.causes)
    drawn_share, below = share(*words, sign.id, cause), 0.0
    for level, chance in enumerate(network.chances[sign.id][1:, column].tolist(), 1):
        below += chance
        if drawn_share < below:
            return level
    return 0


def level_of(network: Network, vehicle: Vehicle, sign: Sign) -> int:
    """How high a sign of a vehicle stands; the complaint's own is there where something made it."""
    if sign.id == vehicle.symptom and not vehicle.sound:
        raised = [pushed(network, sign, cause, vehicle.key, "sign") for cause in vehicle.made]
        return max((1, *raised))
    if sign.id == vehicle.symptom:
        return 0
    return max(pushed(network, sign, cause, vehicle.key, "sign") for cause in (*vehicle.faults, LEAK))


def _lacking(knowledge: Knowledge, symptom: str, level: Level, key: str) -> tuple[str, ...]:
    """Tools of the complaint's own checks that are lent out."""
    checks = dict.fromkeys(node.check for node in knowledge.trees[symptom].nodes.values() if node.check)
    tools = sorted({tool for check in checks if check for tool in knowledge.checks[check].tools})
    many = int(share(key, "lacking") * (level.lacking + 1))
    return shuffled(tools, key, "tools")[: min(many, level.lacking)]
