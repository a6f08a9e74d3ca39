"""What `triage drive` costs after import, against the limit of 50 ms and against plain arithmetic, all in one run.

python tests/bench/bench_drive.py [LAYOUT]

The unit library counts as import although it is loaded at the first quantity; what that costs is printed apart.
"""

import sys
import time
from collections.abc import Callable
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from triage.drive.figures.all_figures import figures_of
from triage.drive.layout.assembly import assemble
from triage.drive.layout.placement import read_layout
from triage.drive.pages.figures_page import account
from triage.drive.pages.picture import picture
from triage.knowledge.shipped import trees_folder
from triage.units import parse_quantity

LIMIT_S = 0.050
ROUNDS = 30


def timed(work: Callable[[], object]) -> float:
    """How long one round takes."""
    start = time.perf_counter()
    work()
    return time.perf_counter() - start


def yardstick() -> float:
    """A hundred thousand additions."""
    total = 0.0
    for number in range(100_000):
        total += number
    return total


def answer(file: Path) -> None:
    """Everything that the command says: figures, page and picture."""
    drive = assemble(read_layout(file))
    figures = figures_of(drive)
    figures.published()
    account(drive, figures)
    if drive.route:
        picture(drive.route, figures.parts, "bench")


def main() -> None:
    """Print each cost as a share of the limit and as a multiple of the yardstick."""
    file = Path(sys.argv[1]) if len(sys.argv) > 1 else trees_folder() / "layouts" / "four-cylinder-full.yaml"
    costs = {
        "unit library": timed(lambda: parse_quantity("1 in", "length")),
        "first answer": timed(lambda: answer(file)),
    }
    rounds = sorted(timed(lambda: answer(file)) for _ in range(ROUNDS))
    drive = assemble(read_layout(file))
    costs["later answer"] = rounds[ROUNDS // 2]
    costs["figures alone"] = min(timed(lambda: figures_of(drive)) for _ in range(ROUNDS))
    unit_s = min(timed(yardstick) for _ in range(ROUNDS))
    print(f"{'':<16}{'of 50 ms':>10}{'yardsticks':>12}")
    for name, cost_s in costs.items():
        print(f"{name:<16}{cost_s / LIMIT_S:>10.2f}{cost_s / unit_s:>12.1f}")


if __name__ == "__main__":
    main()
