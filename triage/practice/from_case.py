"""A vehicle as a recorded case tells it: what was found there shows again, all else is as on a sound vehicle."""

from triage.app.cases import Case, facts_of, found_of
from triage.errors import CommandRefused
from triage.knowledge.models import Knowledge
from triage.practice.chance import picked
from triage.practice.vehicle import KM_M, Vehicle

NO_ODOMETER_M = 100_000 * KM_M
"""What a case without an odometer is told to have driven [m]. Source: invented."""


def vehicle_of(knowledge: Knowledge, cases: tuple[Case, ...], symptom: str, seed: int) -> Vehicle:
    """The vehicle of one of some cases.

    Raises:
        CommandRefused: none of them is of this complaint and says what was right.
    """
    fitting = [case for case in cases if case.cause is not None and symptom in ("", case.symptom)]
    if not fitting:
        raise CommandRefused("No case here says what was right.", "A case for practice has a list `cause`.")
    case = picked(fitting, seed, "case")
    fixed, values = found_of(knowledge, case)
    pulley, odometer = facts_of(case)
    causes = tuple(case.cause or ())
    return Vehicle(
        key=f"{seed}|case|{case.id}",
        symptom=case.symptom,
        level=1,
        pulley=pulley,
        driven_m=NO_ODOMETER_M if odometer is None else odometer,
        faults=causes,
        made=causes,
        lacking=tuple(case.missing_tools),
        fixed=fixed,
        values=values,
        recorded=True,
    )
