"""A simulator of its own, against the program's figures: made the complaint, minutes and loss along a tree.

    python tests/bench/independent.py [SYMPTOM…] [--vehicles N]

It reads the YAML with the plain reader, draws vehicles with who pushed what, walks the tree by its own few lines and
adds up its own minutes; it imports nothing of `triage.reasoning`, nor of the tree walk. The program's figures are asked
from the command line as anybody would. They have to agree within three standard errors.
"""

import argparse
import json
import math
import random
import statistics
import subprocess
import sys
from collections import Counter, defaultdict
from pathlib import Path
from typing import Any

import yaml

ROOT = Path(__file__).resolve().parents[2]
TREES = ROOT / "trees"
SYMPTOMS, PULLEY = ("low-charge", "belt-chirp"), "decoupler"
PUSH = {
    "nearly-always": 0.95, "usually": 0.80, "often": 0.50, "sometimes": 0.20, "seldom": 0.05, "rarely": 0.01,
    "hardly-ever": 0.001,
}  # fmt: skip
RATE = {"common": 0.10, "occasional": 0.04, "uncommon": 0.015, "rare": 0.005}
"""Both tables are copied by hand, so that a slip in the program's own shows here."""
FOR_NOTHING, STAYS = 120.0, 300.0
LEAK = ""
OVER = {"start": 3, "stop": 2, "belt": 8, "isolate": 5, "reconnect": 3, "cool": 30, "used up": 10}
"""Minutes of turning the vehicle; by hand as well."""
Stand = tuple[str, str, str]
Data = dict[str, Any]


class World:
    """The knowledge as plain data, and vehicles out of it."""

    def __init__(self, symptom: str, pulley: str = PULLEY) -> None:
        """Read what one symptom needs."""
        read = [
            yaml.safe_load(path.read_text("utf-8")) for path in (*TREES.glob("*.yaml"), *TREES.glob("checks/*.yaml"))
        ]
        lists: defaultdict[str, list[Data]] = defaultdict(list)
        for document in read:
            for name in ("causes", "signs", "checks", "states"):
                lists[name] += document.get(name, [])
        self.symptom, self.pulley = symptom, pulley
        fitting = [one for one in lists["causes"] if pulley in one.get("only_for", [pulley])]
        self.rates = {one["id"]: RATE[one["commonness"]] for one in fitting}
        self.signs = {one["id"]: one for one in lists["signs"]}
        self.checks = {one["id"]: one for one in lists["checks"]}
        self.states = {one["id"]: one for one in lists["states"]}
        tree = yaml.safe_load((TREES / "symptoms" / f"{symptom}.yaml").read_text("utf-8"))
        self.start, self.nodes = tree["start"], dict(tree["nodes"])
        for branch in tree.get("uses", ()):
            shared = yaml.safe_load((TREES / "branches" / f"{branch}.yaml").read_text("utf-8"))
            self.nodes |= {name: node for name, node in shared["nodes"].items() if name not in self.nodes}

    def pushes(self, sign_id: str, faults: set[str], chance: random.Random) -> dict[str, int]:
        """The level to which each fault that is there pushes a sign, and the leak."""
        sign = self.signs[sign_id]
        levels = sign.get("levels", ["absent", "present"])[1:]
        words = {LEAK: {level: sign.get("leak", {}).get(level, "rarely") for level in levels}}
        words |= {cause: told for cause, told in sign.get("produced_by", {}).items() if cause in faults}
        only = sign.get("only_for", {})
        words = {cause: told for cause, told in words.items() if self.pulley in only.get(cause, [self.pulley])}
        pushed = {}
        for cause, told in words.items():
            drawn, below, pushed[cause] = chance.random(), 0.0, 0
            for at, level in enumerate(levels, 1):
                below += PUSH[told[level]] if level in told else 0.0
                if drawn < below:
                    pushed[cause] = at
                    break
        return pushed

    def vehicle(self, chance: random.Random) -> tuple[set[str], set[str], dict[str, int]]:
        """Faults, what made the complaint, and the levels of the signs that were looked at so far."""
        while True:
            faults = {cause for cause, rate in self.rates.items() if chance.random() < rate}
            made = {cause for cause, level in self.pushes(self.symptom, faults, chance).items() if level}
            if made:
                return faults, made, {self.symptom: 1}

    def answer(self, check: Data, faults: set[str], seen: dict[str, int], chance: random.Random) -> str:
        """The first outcome that shows; signs are drawn when somebody looks, and stay as they are."""

        def level(sign_id: str) -> int:
            if sign_id not in seen:
                seen[sign_id] = max(self.pushes(sign_id, faults, chance).values())
            return seen[sign_id]

        if "sign" in check:
            return str(self.signs[check["sign"]]["levels"][level(check["sign"])])
        normal = self.normal(check)
        for outcome in check["outcomes"]:
            if outcome.get("sign") and outcome["id"] != normal and level(outcome["sign"]):
                return str(outcome["id"])
        return normal

    def normal(self, check: Data) -> str:
        """What a sound vehicle shows."""
        return str(check.get("normal_for", {}).get(self.pulley, check["outcomes"][0]["id"]))

    def walk(self, faults: set[str], seen: dict[str, int], chance: random.Random) -> tuple[Data, dict[str, str], float]:
        """The end of the tree, what was found and the minutes."""
        at, found, minutes, stand = self.start, dict[str, str](), 0.0, ("stopped", "fitted", "connected")
        while True:
            node = self.nodes[at]
            if "by_pulley" in node:
                at = node["by_pulley"][self.pulley]
            elif "check" not in node:
                return node, found, minutes
            elif self.pulley not in self.checks[node["check"]].get("only_for", [self.pulley]):
                at = node["skip"]
            else:
                check = self.checks[node["check"]]
                if check["id"] not in found:
                    found[check["id"]] = self.answer(check, faults, seen, chance)
                    more, stand = self.minutes(check, stand)
                    minutes += more
                at = node["next"][found[check["id"]]]

    def minutes(self, check: Data, stand: Stand) -> tuple[float, Stand]:
        """What a check takes from how the vehicle stands, and how it stands then."""
        spent = check["minutes"] + OVER["used up"] * len(check.get("consumes", ()))
        needed = self.states.get(check["state"])
        was_bare = stand[:2] == ("running", "removed")
        if "set_up" in check:
            over, stand = turned(stand, self.stand(self.states[check["set_up"]["state"]]), cold=False)
            spent += over
        if needed is None:
            return spent, stand
        over, stand = turned(stand, self.stand(needed), cold="cold_after" in needed and not was_bare)
        return spent + over, stand

    @staticmethod
    def stand(state: Data) -> Stand:
        """Engine, belt, battery."""
        return state["engine"], state["belt"], state["battery"]


def turned(old: Stand, new: Stand, *, cold: bool) -> tuple[float, Stand]:
    """Minutes from one standing to another; belt and battery are touched with the engine stopped alone."""
    spent, running, hands_in = 0.0, old[0] == "running", old[1:] != new[1:]
    if running and (hands_in or new[0] == "stopped"):
        spent, running = spent + OVER["stop"], False
    if old[1] != new[1]:
        spent += OVER["belt"]
    if old[2] != new[2]:
        spent += OVER["isolate" if new[2] == "isolated" else "reconnect"]
    if new[0] == "running" and not running:
        spent += OVER["start"] + (OVER["cool"] if cold else 0)
    return spent, new


def loss(made: set[str], named: tuple[str, ...]) -> float:
    """What an end costs: what was put right and had not made it, and a complaint that something else made too."""
    return FOR_NOTHING * len(set(named) - made) + (STAYS if made - set(named) else 0.0)


def measured(symptom: str, vehicles: int, seed: int) -> dict[str, tuple[float, float]]:
    """Means with their standard errors, over vehicles that go along the tree."""
    world, chance = World(symptom), random.Random(f"{symptom} {seed}")
    minutes, losses, named, right = [], [], [], []
    open_ends: defaultdict[tuple[tuple[str, str], ...], list[set[str]]] = defaultdict(list)
    for _ in range(vehicles):
        faults, made, seen = world.vehicle(chance)
        node, found, spent = world.walk(faults, seen, chance)
        conclude = tuple(node.get("conclude", ()))
        minutes.append(spent)
        named.append(float(bool(conclude)))
        if conclude:
            right.append(float(bool(made & set(conclude))))
        if node.get("end") == "undecided":
            open_ends[tuple(found.items())].append(made)
        else:
            losses.append(loss(made, conclude))
    for group in open_ends.values():
        ends = [(), *((cause,) for cause in world.rates)]
        best = min(ends, key=lambda end: sum(loss(made, end) for made in group))
        losses += [loss(made, best) for made in group]
    figures = {"minutes": minutes, "loss": losses, "named": named, "right": right}
    return {
        name: (statistics.fmean(values), statistics.stdev(values) / math.sqrt(len(values)))
        for name, values in figures.items()
    }


def made_given(symptom: str, check_id: str, outcome: str, vehicles: int) -> tuple[Counter[str], int]:
    """How often each cause made the complaint of vehicles on which a check has an outcome."""
    world, chance = World(symptom), random.Random(symptom)
    counted, many = Counter[str](), 0
    while many < vehicles:
        faults, made, seen = world.vehicle(chance)
        if world.answer(world.checks[check_id], faults, seen, chance) == outcome:
            many += 1
            counted.update(made)
    return counted, many


def stated(symptom: str) -> dict[str, tuple[float, float]]:
    """The program's own figures, with half of what it takes to be their standard error."""
    command = [sys.executable, "-m", "triage", "trees", "compare", symptom, "--pulley", PULLEY, "--json"]
    told = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=True).stdout
    (tree,) = json.loads(told)["trees"]
    return {name: (tree[name]["value"], tree[name]["within"] / 1.96) for name in ("minutes", "loss", "named", "right")}


def main() -> int:
    """Print both figures side by side; 1 where they are further apart than chance explains."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("symptoms", nargs="*", default=SYMPTOMS)
    parser.add_argument("--vehicles", type=int, default=8000)
    args = parser.parse_args()
    apart = 0
    for symptom in args.symptoms:
        mine, theirs = measured(symptom, args.vehicles, 5), stated(symptom)
        for name, (mean, error) in mine.items():
            value, own_error = theirs[name]
            off = abs(mean - value) / math.hypot(error, own_error)
            apart += off > 3.0
            sys.stdout.write(f"{symptom} {name}: {mean:.3f} ± {error:.3f} here, {value:.3f} stated, {off:.1f} errors\n")
    return apart


if __name__ == "__main__":
    sys.exit(main())
