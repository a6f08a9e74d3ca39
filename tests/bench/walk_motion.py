"""Random drives through `triage drive run`: possible, impossible, stiff, slack, absurd. Never a traceback or nonsense.

python tests/bench/walk_motion.py [HOW MANY] [SEED]
"""

import contextlib
import io
import json
import math
import random
import sys
import tempfile
import time
from collections import Counter
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from triage.cli.main import run
from triage.errors import EXIT_FILE, EXIT_OK, EXIT_REFUSED

PULLEYS = ("solid", "isolator", "one-way-clutch", "decoupler")
EVENTS = ("idle", "sweep", "slow-down", "load-step", "switch-off")
FAULTS = (
    "",
    "",
    "",
    "seized",
    "rusted-solid",
    "slipping",
    "spring-broken",
    "weak-tensioner",
    "no-damping",
    "grip-lost",
)


def layout(chance: random.Random) -> str:
    """A drive of 2 to 12 pulleys; mostly on a ring, so that a belt can run, mostly with figures that drives have."""
    count = chance.randint(2, 12)
    wild = chance.random() < 0.3

    def figure(usual: float, unit: str) -> str:
        spread = 3.0 if wild and chance.random() < 0.3 else 0.15
        return f"{usual * 10 ** chance.gauss(0, spread):.6g} {unit}"

    sprung = chance.random() < 0.7
    ring = chance.uniform(120, 400) * (1 if wild else max(1.0, count / 6))
    rows = []
    for number in range(count):
        angle = -math.tau * (number + chance.uniform(-0.2, 0.2)) / count
        x, y = ring * math.cos(angle), ring * math.sin(angle)
        if wild and chance.random() < 0.2:
            x, y = chance.uniform(-300, 300), chance.uniform(-300, 300)
        part = {0: "crank", 1: "tensioner" if sprung else "idler-1", count // 2 + 1: "alternator"}.get(
            number, f"idler-{number}"
        )
        diameter = {"crank": 156, "alternator": 58}.get(part, chance.uniform(50, 110))
        row = f"part: {part}, at: [{x:.2f} mm, {y:.2f} mm], diameter: {diameter:.1f} mm, diameter_is: pitch"
        if part == "alternator":
            row += f", rim_inertia: {figure(3e-4, 'kg·m²')}, rotor_inertia: {figure(3e-3, 'kg·m²')}"
            row += f", pulley: {chance.choice(PULLEYS[1:2] + PULLEYS[3:])}, spring: {figure(16, 'N·m/rad')}"
            row += f", overrun_drag: {figure(0.3, 'N·m')}, torque: {figure(6, 'N·m')}"
        else:
            row += f", inertia: {figure(1e-3, 'kg·m²')}"
            row += f", torque: {figure(3, 'N·m')}" if part.startswith("idler") and chance.random() < 0.4 else ""
        rows.append(f"  - {{{row}}}")
    angle = -math.tau / count
    pivot = ring * math.cos(angle) + chance.uniform(-90, 90), ring * math.sin(angle) + chance.uniform(-90, 90)
    arm = (
        f"tensioner: {{pulley: tensioner, pivot: [{pivot[0]:.2f} mm, {pivot[1]:.2f} mm], "
        f"arm_inertia: {figure(1.6e-3, 'kg·m²')}, stiffness: {figure(45, 'N·m/rad')}}}\n"
    )
    turns = chance.choice(("turns: clockwise, ", "turns: anticlockwise, ", ""))
    return (
        f"belt: {{ribs: 6, mass_per_metre: {figure(0.1, 'kg/m')}, stiffness: {figure(150e3, 'N')}, friction: 0.35}}\n"
        f"tension: {figure(380, 'N')}\ngroove_angle: 40 deg\npulleys:\n"
        + "\n".join(rows)
        + "\n"
        + (arm if sprung else "")
        + f"engine: {{{turns}cylinders: {chance.randint(1, 12)}, idle: 750 rpm}}\n"
    )


def words(chance: random.Random, events: tuple[str, ...] = EVENTS) -> list[str]:
    """What is asked of it."""
    event = chance.choice(events)
    asked = ["--event", event, "--json"]
    asked += {
        "idle": ["--seconds", "0.05"],
        "sweep": ["--rpm", "700", "--to", "720", "--rate", "400"],
        "slow-down": ["--rpm", "800", "--rate", f"{10 ** chance.uniform(3, 5):.0f}", "--seconds", "0.05"],
        "load-step": [],
        "switch-off": ["--rpm", "200", "--seconds", "0.3"],
    }[event]
    if chance.random() < 0.3:
        asked += ["--pulley", chance.choice(PULLEYS)]
    fault = chance.choice(FAULTS)
    asked += ["--fault", fault] if fault else []
    for option, usual in (("--arm-friction", 4), ("--span-damping", 2e-4), ("--ripple", 1), ("--lock-stiffness", 3e3)):
        if chance.random() < 0.15:
            asked += [option, f"{usual * 10 ** chance.gauss(0, 2):.4g}"]
    return asked


def verdict(text: str, asked: list[str]) -> str:
    """Run one and say how it ended; an end that must not be raises."""
    out, err = io.StringIO(), io.StringIO()
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder) / "drive.yaml"
        file.write_text(text, encoding="utf-8")
        with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
            code = run(["drive", "run", str(file), *asked])
    assert "Traceback" not in err.getvalue(), err.getvalue()
    if code == EXIT_OK:
        for figures in json.loads(out.getvalue())["variants"]:
            numbers = [one for one in figures.values() if isinstance(one, float)]
            assert all(math.isfinite(one) for one in numbers), figures
            assert 0 <= figures["tension_min_n"] <= figures["tension_max_n"] < 1e6, figures
            assert figures["slip_mm"] >= 0, figures
        return "figures"
    assert code in (EXIT_REFUSED, EXIT_FILE), (code, err.getvalue())
    assert not out.getvalue()
    sentence = err.getvalue().strip().splitlines()[0]
    assert sentence, "no sentence"
    return sentence.split(":")[-1].strip()[:60]


def walk(count: int, seed: int, events: tuple[str, ...] = EVENTS) -> Counter[str]:
    """Try so many, and count how they ended."""
    ends: Counter[str] = Counter()
    for number in range(count):
        chance = random.Random(seed * 100_000 + number)
        text, asked = layout(chance), words(chance, events)
        begun = time.process_time()
        try:
            ends[verdict(text, asked)] += 1
        except AssertionError as error:
            raise AssertionError(f"drive {number} of seed {seed}: {' '.join(asked)}\n{text}\n{error}") from error
        taken = time.process_time() - begun
        assert taken < LONGEST_S, (number, taken)
    return ends


LONGEST_S = 60.0
"""A run that takes longer than this is a hang."""


if __name__ == "__main__":
    many = int(sys.argv[1]) if len(sys.argv) > 1 else 500
    for end, times in walk(many, int(sys.argv[2]) if len(sys.argv) > 2 else 1).most_common():
        print(f"{times:5}  {end}")
