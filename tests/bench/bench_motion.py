"""What a drive in time costs, as ratios within one run: against a general solver, by variants, by pulleys, by steps.

python tests/bench/bench_motion.py [SECONDS OF A DRIVE]

The general solver is LSODA of scipy on smoothed laws (`tests/bench/smoothed_drive.py`), at its usual tolerance and at
one that leaves as little error as the steps do. CPU seconds, so that a busy machine counts less.
"""

import math
import sys
import time
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from tests.bench.smoothed_drive import SmoothedDrive
from triage.documents import build
from triage.documents.reading import read_text
from triage.drive.layout.assembly import Drive, assemble
from triage.drive.layout.placement import read_layout
from triage.drive.layout.shipped import layout_file
from triage.drive.motion.events import EVENTS, Event, Wish
from triage.drive.motion.laws.crank import Course, Ripple
from triage.drive.motion.machine import Machine, Variant, build_machine
from triage.drive.motion.parameters import Parameters
from triage.drive.motion.running import STEP_S, carried
from triage.knowledge.models import PULLEY_TYPES
from triage.record.layout import Layout

RIPPLE = Ripple(math.radians(1), 12.5 * math.tau, 2.0)
PARAMETERS = Parameters(ripple_order=2.0)
FOUR = tuple(Variant(pulley) for pulley in PULLEY_TYPES)


def cpu(work: Callable[[], object]) -> float:
    """CPU seconds that some work takes."""
    begun = time.process_time()
    work()
    return time.process_time() - begun


def carry(machine: Machine, event: Event) -> None:
    """Carry a machine through an event and drop what it did."""
    for _ in carried(machine, event, STEP_S):
        pass


def ring_drive(count: int) -> Drive:
    """Ribbed pulleys on a circle, the belt around them."""
    rows = []
    for number in range(count):
        angle = -math.tau * number / count
        part = "crank" if number == 0 else "alternator" if number == 1 else f"idler-{number}"
        place = f"at: [{60 * count * math.cos(angle):.3f} mm, {60 * count * math.sin(angle):.3f} mm]"
        rows.append(f"  - {{part: {part}, {place}, diameter: 80 mm, diameter_is: pitch, inertia: 0.001 kg·m²}}")
    rows[1] = rows[1].replace("}", ", torque: 1 N·m}")
    text = (
        "belt: {ribs: 6, mass_per_metre: 0.1 kg/m, stiffness: 150 kN, friction: 0.35}\ntension: 400 N\n"
        "groove_angle: 40 deg\npulleys:\n"
        + "\n".join(rows)
        + "\nengine: {turns: clockwise, cylinders: 4, idle: 750 rpm}\n"
    )
    return assemble(build(read_text(text, "ring.yaml"), Layout))


def _of_pulleys(pulleys: int, event: Event) -> float:
    machine = build_machine(ring_drive(pulleys), PARAMETERS, FOUR[:1] * 4)
    return cpu(lambda: carry(machine, event))


def _idle(seconds: float) -> Event:
    return EVENTS["idle"](RIPPLE, 6.0, Wish(seconds=seconds))


def _slowing(seconds: float) -> Event:
    """From 3000 r/min on, 8000 r/min each second less, with all its firings."""
    fast, slow = 3000 * math.tau / 60, (3000 - 8000 * seconds) * math.tau / 60
    return replace(_idle(seconds), course=Course([0.0, seconds], [fast, slow]))


def _against_solver(drive: Drive, variant: Variant, event: Event) -> str:
    machine = build_machine(drive, PARAMETERS, (variant,))
    one = cpu(lambda: carry(machine, event))
    smoothed = SmoothedDrive(machine, event)
    tolerances = (1e-6, 1e-8)
    ratios = [cpu(lambda rtol=rtol: smoothed.solve(event.seconds, 50, rtol=rtol)) / one for rtol in tolerances]  # type: ignore[misc]
    per_step = one / (event.seconds / STEP_S) * 1e6
    return f"{per_step:5.0f} µs a step; LSODA {ratios[0]:5.1f} times as long at 1e-6, {ratios[1]:5.1f} at 1e-8"


def main() -> None:
    """Print the ratios."""
    seconds = float(sys.argv[1]) if len(sys.argv) > 1 else 0.2
    seven = assemble(read_layout(layout_file("seven-pulleys")))
    print(f"seven pulleys, {seconds:g} s of a drive, steps of {STEP_S * 1000:g} ms, numpy")
    for name, event in (("idle", _idle(seconds)), ("slowing", _slowing(seconds))):
        for variant in (Variant("solid"), Variant("decoupler")):
            print(f"  {name:<9}{variant.pulley:<11}{_against_solver(seven, variant, event)}")
    idling = _idle(seconds)
    alone = cpu(lambda: carry(build_machine(seven, PARAMETERS, FOUR[:1]), idling))
    together = cpu(lambda: carry(build_machine(seven, PARAMETERS, FOUR), idling))
    print(f"four variants at once cost {together / alone:.2f} times one")
    costs = {n: _of_pulleys(n, idling) for n in (2, 4, 8, 12)}
    print("pulleys against two:", ", ".join(f"{n}: {cost / costs[2]:.2f}" for n, cost in costs.items()))
    longer = _idle(2 * seconds)
    doubled = cpu(lambda: carry(build_machine(seven, PARAMETERS, FOUR), longer))
    print(f"twice the steps cost {doubled / together:.2f} times as much")


if __name__ == "__main__":
    main()
