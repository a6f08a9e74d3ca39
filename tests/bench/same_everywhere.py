"""Whether everything that is computed and recorded comes out the same, byte for byte, on every kind of machine.

    python tests/bench/same_everywhere.py            # everything, under every setting
    python tests/bench/same_everywhere.py PART…      # some: demos, ranks, walks, motion, tree:SYMPTOM, followed:SYMPTOM
    python tests/bench/same_everywhere.py --make PART…   # here and now: a digest a part

Each setting is a process of its own, told to use another processor's linear algebra, fewer of its instructions, other
threads, another order of sets, another time zone and another locale.
"""

import hashlib
import json
import os
import subprocess
import sys
import tempfile
from collections.abc import Iterable, Mapping
from pathlib import Path
from signal import SIGILL
from typing import TYPE_CHECKING

from numpy._core._multiarray_umath import __cpu_baseline__, __cpu_dispatch__

if TYPE_CHECKING:
    from triage.knowledge.models import Knowledge

ROOT = Path(__file__).resolve().parents[2]
DISPATCHED = [name for name in __cpu_dispatch__ if name not in __cpu_baseline__]
"""What numpy chooses between by the processor: its names differ between versions of it."""
NO_AVX512 = " ".join(name for name in DISPATCHED if name.startswith(("AVX512", "X86_V4")))
NO_AVX2 = " ".join(name for name in DISPATCHED if name.startswith(("AVX", "FMA", "X86_V")))
ALONE = {"OPENBLAS_NUM_THREADS": "1"}
SETTINGS: Mapping[str, Mapping[str, str]] = {
    "Prescott": {**ALONE, "NPY_DISABLE_CPU_FEATURES": NO_AVX2, "PYTHONHASHSEED": "1"},
    "Nehalem": {**ALONE, "NPY_DISABLE_CPU_FEATURES": NO_AVX512, "TZ": "Asia/Kathmandu"},
    "Haswell": {"LC_ALL": "tr_TR.UTF-8"},
    "SkylakeX": {**ALONE, "PYTHONHASHSEED": "2", "TZ": "America/St_Johns", "LC_ALL": "C"},
}
"""By processor, what else a process is told of its machine."""


def parts() -> list[str]:
    """Everything there is to compare."""
    symptoms = sorted(path.stem for path in (ROOT / "trees" / "symptoms").glob("*.yaml"))
    return ["demos", "ranks", "walks", "motion", *(f"{way}:{one}" for way in ("tree", "followed") for one in symptoms)]


def under(setting: str, wanted: Iterable[str]) -> dict[str, str]:
    """The digests of some parts, by part, as a process under a setting makes them.

    Returns:
        Nothing where this processor lacks the instructions of that one.
    """
    command = [sys.executable, __file__, "--make", *wanted]
    environment = {**os.environ, **SETTINGS[setting], "OPENBLAS_CORETYPE": setting}
    done = subprocess.run(command, env=environment, cwd=ROOT, capture_output=True, text=True, check=False)
    if done.returncode == -SIGILL:
        return {}
    if done.returncode:
        raise SystemExit(f"{setting}: {done.stderr}")
    return dict(json.loads(done.stdout))


def made(part: str) -> str:
    """The digest of one part, made here."""
    name, _, symptom = part.partition(":")
    makers = {"demos": _demos, "ranks": _ranks, "walks": _walks, "motion": _motion}
    text = makers[name]() if name in makers else _tree(symptom) if name == "tree" else _followed(symptom)
    return hashlib.sha256(text).hexdigest()


def _demos() -> bytes:
    sys.path.insert(0, str(ROOT / "docs" / "making"))
    import make_demos

    with tempfile.TemporaryDirectory() as folder:
        make_demos.worn_bearing(Path(folder))
        make_demos.binding_clutch(Path(folder))
        return b"".join(path.read_bytes() for path in sorted(Path(folder).glob("*.jsonl")))


def _ranks() -> bytes:
    from triage.app.cases import rank_case, read_cases
    from triage.app.shop.shop_file import Shop, accuracies

    knowledge = _knowledge()
    instruments = accuracies(knowledge, Shop())
    files = sorted((ROOT / "trees" / "cases").glob("*.yaml"))
    cases = [case for file in files for case in read_cases(file, knowledge)]
    rankings = [(case.id, rank_case(knowledge, case, instruments)) for case in cases]
    told = [[name, ranking.unlisted, *(one.model_dump() for one in ranking.likely)] for name, ranking in rankings]
    return json.dumps(told).encode()


def _walks() -> bytes:
    from triage.app.cases import read_cases, walk_case
    from triage.app.shop.shop_file import Shop, accuracies

    knowledge = _knowledge()
    instruments = accuracies(knowledge, Shop())
    digest = hashlib.sha256()
    for file in sorted((ROOT / "trees" / "cases").glob("*.yaml")):
        for case in read_cases(file, knowledge):
            _, job = walk_case(knowledge, case, instruments)
            for event in job.events[1:]:
                digest.update(event.model_dump_json().encode())
    return digest.digest()


def _motion() -> bytes:
    """Every bit of a drive carried through idle and slowing, all pulley types at once, slip and sticking among it."""
    from triage.drive.layout.assembly import assemble
    from triage.drive.layout.placement import read_layout
    from triage.drive.motion.events import Wish
    from triage.drive.motion.parameters import parameters_of
    from triage.drive.motion.simulating import Question, compared, simulate

    layout = read_layout(ROOT / "trees" / "layouts" / "seven-pulleys.yaml")
    drive, parameters = assemble(layout), parameters_of(layout)
    variants, _ = compared(drive, parameters)
    digest = hashlib.sha256()
    for question in (
        Question("idle", variants, Wish(seconds=0.2)),
        Question("slow-down", variants, Wish(rpm=210.0, rate=1200.0, seconds=0.2)),
    ):
        series = simulate(drive, parameters, question).series
        digest.update(series.tensions_n.tobytes() + series.rotor_rpm.tobytes() + series.arm_mm.tobytes())
    return digest.digest()


def _tree(symptom: str) -> bytes:
    """The tree that is grown for a symptom, as it is written."""
    from triage.cli.authoring.growing import _grown as grown
    from triage.record.weights import Weights

    return grown(_knowledge(), symptom, "decoupler", frozenset(), Weights()).encode()


def _followed(symptom: str) -> bytes:
    """What comes of following the advice from the complaint to the end."""
    from triage.reasoning.route.comparing import appraise
    from triage.reasoning.route.routing import RoutePlanner
    from triage.record.weights import Weights

    knowledge = _knowledge()
    route = RoutePlanner(knowledge, symptom, "decoupler", Weights()).route()
    found = appraise(knowledge, symptom, {"decoupler": route}, Weights(), 5e-3)
    return json.dumps([round(one.value, 6) for one in (found.minutes, found.loss, found.right)]).encode()


def _knowledge() -> "Knowledge":
    from triage.knowledge.loading import load_knowledge
    from triage.knowledge.shipped import trees_folder

    return load_knowledge(trees_folder())


def main(wanted: list[str]) -> int:
    """Compare the settings and say which parts differ."""
    if wanted[:1] == ["--make"]:
        sys.stdout.write(json.dumps({part: made(part) for part in wanted[1:]}))
        return 0
    wanted = wanted or parts()
    found = {setting: digests for setting in SETTINGS if (digests := under(setting, wanted))}
    left_out = [setting for setting in SETTINGS if setting not in found]
    differing = [part for part in wanted if len({digests[part] for digests in found.values()}) > 1]
    for part in wanted:
        sys.stdout.write(f"{part}: {'DIFFERS' if part in differing else 'the same'} under {', '.join(found)}\n")
    if left_out:
        sys.stdout.write(f"This processor cannot do as {', '.join(left_out)} does: tried nothing there.\n")
    return bool(differing)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
