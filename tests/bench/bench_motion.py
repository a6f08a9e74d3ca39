"""What a drive in time costs, as ratios within one run: against a general solver, by variants, by pulleys, by steps.

python tests/bench/bench_motion.py [SECONDS OF IDLE]

The general solver is LSODA of scipy on smoothed laws (`tests/bench/smoothed_drive.py`), at a tolerance that
leaves about as little error as the steps do. CPU seconds, so that a busy machine counts less.
"""

import math
import sys
import time
from collections.abc import Callable
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from tests.bench.smoothed_drive import SmoothedDrive
from triage.documents import build
from triage.documents.reading import read_text
from triage.drive.layout.assembly import Drive, assemble
from triage.drive.layout.placement import read_layout
from triage.drive.layout.shipped import layout_file
from triage.drive.motion.events import EVENTS, Event, Wish
from triage.drive.motion.laws.crank import Ripple
from triage.drive.motion.machine import Machine, Variant, build_machine
from triage.drive.motion.parameters import Parameters
from triage.drive.motion.running import STEP_S, Kernel, carried, usual_kernel
from triage.knowledge.models import PULLEY_TYPES
from triage.record.layout import Layout

RIPPLE = Ripple(math.radians(1), 12.5 * math.tau, 2.0)
PARAMETERS = Parameters(ripple_order=2.0)
REPEATS = 20
"""Runs of the compiled steps that are timed together: one alone is too short for the clock."""
FOUR = tuple(Variant(pulley) for pulley in PULLEY_TYPES)


def cpu(work: Callable[[], object]) -> float:
    """CPU seconds that some work takes."""
    begun = time.process_time()
    work()
    return time.process_time() - begun


def carry(machine: Machine, event: Event, kernel: Kernel = "numpy") -> None:
    """Carry a machine through an event and drop what it did."""
    for _ in carried(machine, event, STEP_S, kernel=kernel):
        pass


def ring_drive(count: int) -> Drive:
    """Ribbed pulleys on a circle, the belt around them, with so much grip that it slips on none of them."""
    rows = []
    for number in range(count):
        angle = -math.tau * number / count
        part = "crank" if number == 0 else "alternator" if number == 1 else f"idler-{number}"
        place = f"at: [{60 * count * math.cos(angle):.3f} mm, {60 * count * math.sin(angle):.3f} mm]"
        rows.append(f"  - {{part: {part}, {place}, diameter: 80 mm, diameter_is: pitch, inertia: 0.001 kg·m²}}")
    rows[1] = rows[1].replace("}", ", torque: 1 N·m}")
    text = (
        "belt: {ribs: 6, mass_per_metre: 0.1 kg/m, stiffness: 150 kN, friction: 1.5}\ntension: 400 N\n"
        "groove_angle: 40 deg\npulleys:\n"
        + "\n".join(rows)
        + "\nengine: {turns: clockwise, cylinders: 4, idle: 750 rpm}\n"
    )
    return assemble(build(read_text(text, "ring.yaml"), Layout))


def _of_pulleys(pulleys: int, event: Event, kernel: Kernel) -> float:
    machine = build_machine(ring_drive(pulleys), PARAMETERS, FOUR[:1] * 4)
    return cpu(lambda: carry(machine, event, kernel))


def _idle(seconds: float) -> Event:
    return EVENTS["idle"](RIPPLE, 6.0, Wish(seconds=seconds))


def _against_solver(drive: Drive, variant: Variant, event: Event) -> str:
    machine = build_machine(drive, PARAMETERS, (variant,))
    one = cpu(lambda: carry(machine, event))
    smoothed = SmoothedDrive(machine, event)
    solved = cpu(lambda: smoothed.solve(event.seconds, 50, rtol=1e-6))
    steps = event.seconds / STEP_S
    said = f"{one / steps * 1e6:5.0f} µs a step, LSODA {solved / one:5.1f} times as long"
    if usual_kernel() == "numpy":
        return said
    carry(machine, event, "numba")
    fast = cpu(lambda: [carry(machine, event, "numba") for _ in range(REPEATS)]) / REPEATS  # type: ignore[func-returns-value]
    return f"{said}; compiled {fast / steps * 1e6:5.2f} µs, {solved / fast:5.0f} times"


def main() -> None:
    """Print the ratios."""
    seconds = float(sys.argv[1]) if len(sys.argv) > 1 else 2.0
    seven = assemble(read_layout(layout_file("seven-pulleys")))
    print(
        f"seven pulleys, steps of {STEP_S * 1000:g} ms; idle for {seconds:g} s, and the usual slow-down; LSODA at 1e-6"
    )
    events = ("idle", _idle(seconds)), ("slow-down", EVENTS["slow-down"](RIPPLE, 6.0, Wish()))
    for name, event in events:
        for variant in (Variant("solid"), Variant("decoupler")):
            print(f"  {name:<10}{variant.pulley:<11}{_against_solver(seven, variant, event)}", flush=True)
    for kernel in ("numpy", "numba") if usual_kernel() == "numba" else ("numpy",):
        _by_size(seven, seconds, kernel)


def _by_size(seven: Drive, seconds: float, kernel: Kernel) -> None:
    """How the cost grows with variants, pulleys and steps."""
    long = 20 * seconds if kernel == "numba" else seconds
    idling, longer = _idle(long), _idle(2 * long)
    four = build_machine(seven, PARAMETERS, FOUR)
    carry(four, _idle(0.01), kernel)
    alone = cpu(lambda: carry(build_machine(seven, PARAMETERS, FOUR[:1]), idling, kernel))
    together = cpu(lambda: carry(four, idling, kernel))
    print(f"{kernel}: four variants at once cost {together / alone:.2f} times one")
    costs = {n: _of_pulleys(n, idling, kernel) for n in (2, 4, 6, 8, 10, 12)}
    print("  pulleys against two:", ", ".join(f"{n}: {cost / costs[2]:.2f}" for n, cost in costs.items()))
    doubled = cpu(lambda: carry(four, longer, kernel))
    print(f"  twice the steps cost {doubled / together:.2f} times as much")


if __name__ == "__main__":
    main()
