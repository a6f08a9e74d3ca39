"""Draw drives at random, try causes in them, and write which signs they show beside what the knowledge says.

    python docs/making/make_physics.py [DRIVES]

Writes docs/made/physics.md. Seeded. With the extra `fast` a hundred drives take minutes, without it hours; both give
the same shares but where a figure lies on a limit.
"""

import math
import random
import sys
from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from pathlib import Path

from triage.documents import build
from triage.documents.reading import read_text
from triage.drive.layout.assembly import Drive, assemble
from triage.drive.motion.events import Wish
from triage.drive.motion.machine import Variant
from triage.drive.motion.parameters import Parameters, parameters_of
from triage.drive.motion.running import usual_kernel
from triage.drive.motion.signs import arm_words, coast_words, lag, lag_words, slip_words
from triage.drive.motion.simulating import Answer, Question, simulate
from triage.errors import TriageError
from triage.knowledge.loading import load_knowledge
from triage.knowledge.models import Knowledge
from triage.knowledge.scales import STRENGTHS
from triage.knowledge.shipped import trees_folder
from triage.record.layout import Layout

PAGE = Path(__file__).resolve().parents[1] / "made" / "physics.md"
SEED, DRIVES = 17, 100
RANGES = {
    "tension": (350, 600, "N"),
    "belt stiffness": (100, 250, "kN"),
    "friction": (0.30, 0.45, ""),
    "crank pulley": (145, 170, "mm"),
    "alternator pulley": (50, 60, "mm"),
    "rotor inertia": (0.002, 0.005, "kg·m²"),
    "spring": (10, 30, "N·m/rad"),
    "overrunning drag": (0.1, 0.5, "N·m"),
    "alternator torque": (3, 12, "N·m"),
    "steering pump torque": (1, 6, "N·m"),
    "water pump torque": (1, 3, "N·m"),
    "compressor torque": (4, 14, "N·m"),
    "arm inertia": (0.001, 0.0025, "kg·m²"),
    "arm stiffness": (25, 60, "N·m/rad"),
    "arm friction": (2, 6, "N·m"),
    "idle": (650, 850, "r/min"),
    "ripple at idle": (0.5, 2.0, "°"),
    "slowing": (2000, 8000, "r/min each second"),
}
"""What is drawn evenly between two ends; all from memory."""
MOVED_MM = 8.0
"""By how much each pulley stands elsewhere than in the shipped seven-pulley layout, either way; from memory."""
FROM_RPM = 2500.0
RAD_S = math.tau / 60

DECOUPLER, SOLID = Variant("decoupler"), Variant("solid")
ALL: tuple[Variant, ...] = (
    DECOUPLER,
    SOLID,
    Variant("isolator"),
    Variant("one-way-clutch"),
    *(
        Variant("decoupler", fault)
        for fault in (
            *("seized", "rusted-solid", "slipping", "spring-broken", "weak-tensioner", "no-damping", "grip-lost"),
        )
    ),
    Variant("solid", "no-damping"),
)
WORN = Variant("decoupler", "grip at 0.7")
"""Tried in a drive of its own, with its friction at 0.7: a wet or worn belt."""
CAUSES: dict[str, tuple[Variant, ...]] = {
    "decoupler-clutch-seized": (Variant("decoupler", "seized"), Variant("decoupler", "rusted-solid")),
    "decoupler-clutch-slipping": (Variant("decoupler", "slipping"),),
    "decoupler-spring-broken": (Variant("decoupler", "spring-broken"),),
    "pulley-type-wrong": (SOLID, Variant("isolator"), Variant("one-way-clutch")),
    "tensioner-weak": (Variant("decoupler", "weak-tensioner"),),
    "tensioner-damping-worn": (Variant("decoupler", "no-damping"), Variant("solid", "no-damping")),
    "belt-contaminated": (Variant("decoupler", "grip-lost"),),
    "belt-worn": (WORN,),
}
"""What stands for a cause; its forms count alike (from memory)."""
ORDER = ("none", "seldom", "sometimes", "often", "usually", "nearly-always")
"""Worded steps, the weakest first."""
ARGUED: dict[tuple[str, str], str] = {
    ("decoupler-spring-broken", "rotor-lags"): (
        "Stands: only a broken spring that jams is tried here. One that does not lets the ring run ahead, as a "
        "slipping clutch does, and there the rotor always lags."
    ),
    ("belt-worn", "slips-when-slowing"): (
        "Stands: only lost friction is tried here. A worn belt also sits deeper in its grooves, which takes tension "
        "(from memory)."
    ),
    ("belt-worn", "belt-slips"): "Stands, as above.",
}
"""What is said of a cause and a sign where knowledge and physics lie more than one step apart."""


@dataclass(frozen=True)
class Row:
    """One pair of cause and level of a sign.

    Args:
        shares: of the drives that show it, by the forms of the cause.
        known: the knowledge's word, "none" where it has none.
    """

    cause: str
    sign: str
    level: str
    shares: dict[Variant, float]
    known: str

    @property
    def share(self) -> float:
        """Over all forms alike."""
        return sum(self.shares.values()) / len(self.shares)

    @property
    def apart(self) -> int:
        """How many worded steps lie between both."""
        return abs(ORDER.index(worded(self.share)) - ORDER.index(self.known))


def worded(share: float) -> str:
    """The word whose figure lies nearest in odds; "none" nearer to `rarely` than to `seldom`."""
    if share <= 0 or share >= 1:
        return ORDER[0] if share <= 0 else ORDER[-1]
    logit = math.log(share / (1 - share))
    words = {"none": STRENGTHS["rarely"], **{word: STRENGTHS[word] for word in ORDER[1:]}}  # type: ignore[index]
    return min(words, key=lambda word: abs(math.log(words[word] / (1 - words[word])) - logit))


def drawn(chance: random.Random) -> tuple[Layout, dict[str, float]]:
    """A drive, and the figures that were drawn for it."""
    figure = {name: chance.uniform(low, high) for name, (low, high, _) in RANGES.items()}
    text = (trees_folder() / "layouts" / "seven-pulleys.yaml").read_text(encoding="utf-8")
    written = {
        "stiffness: 150 kN": f"stiffness: {figure['belt stiffness']:.4g} kN",
        "friction: 0.35": f"friction: {figure['friction']:.3g}",
        "tension: 380 N": f"tension: {figure['tension']:.4g} N",
        "diameter: 156 mm": f"diameter: {figure['crank pulley']:.4g} mm",
        "diameter: 54 mm": f"diameter: {figure['alternator pulley']:.4g} mm",
        "rotor_inertia: 0.0031": f"rotor_inertia: {figure['rotor inertia']:.3g}",
        "spring: 16": f"spring: {figure['spring']:.3g}",
        "overrun_drag: 0.3": f"overrun_drag: {figure['overrunning drag']:.3g}",
        "torque: 6 N·m": f"torque: {figure['alternator torque']:.3g} N·m",
        "torque: 3 N·m": f"torque: {figure['steering pump torque']:.3g} N·m",
        "torque: 2 N·m": f"torque: {figure['water pump torque']:.3g} N·m",
        "torque: 8 N·m": f"torque: {figure['compressor torque']:.3g} N·m",
        "arm_inertia: 0.0016": f"arm_inertia: {figure['arm inertia']:.3g}",
        "stiffness: 45 N·m/rad": f"stiffness: {figure['arm stiffness']:.3g} N·m/rad",
        "idle: 750 rpm": f"idle: {figure['idle']:.4g} rpm",
    }
    for old, new in written.items():
        assert text.count(old) == 1, old  # noqa: S101 - else another figure would be drawn than is said
        text = text.replace(old, new)
    text += f"simulation: {{arm_friction: {figure['arm friction']:.3g} N·m}}\n"
    layout = build(read_text(text, "drawn.yaml"), Layout)
    moved = tuple(
        pulley
        if pulley.at is None or pulley.part == "crank"
        else pulley.model_copy(update={"at": _moved(pulley.at, chance)})
        for pulley in layout.pulleys
    )
    return layout.model_copy(update={"pulleys": moved}), figure


def _moved(at: tuple[str, str], chance: random.Random) -> tuple[str, str]:
    x, y = (f"{float(text.split()[0]) + chance.uniform(-MOVED_MM, MOVED_MM):.1f} mm" for text in at)
    return x, y


def shown(layout: Layout, figure: dict[str, float]) -> dict[Variant, frozenset[str]]:
    """The words that each variant shows to the checks in one drive.

    Raises:
        TriageError: it cannot be built or carried.
    """
    drive, parameters = assemble(layout), parameters_of(layout)
    found = dict(zip(ALL, _words(drive, parameters, figure, ALL), strict=True))
    assert drive.friction is not None  # noqa: S101 - it was drawn
    worn = replace(drive, friction=0.7 * drive.friction)
    (found[WORN],) = _words(worn, parameters, figure, (DECOUPLER,))
    return found


def _words(
    drive: Drive, parameters: Parameters, figure: dict[str, float], variants: tuple[Variant, ...]
) -> Iterator[frozenset[str]]:
    ripple = math.radians(figure["ripple at idle"])

    def run(kind: str, wish: Wish) -> Answer:
        return simulate(drive, parameters, Question(kind, variants, wish, ripple))  # type: ignore[arg-type]

    slowing = Wish(rpm=FROM_RPM * RAD_S, rate=figure["slowing"] * RAD_S)
    idle, slow, step = run("idle", Wish(seconds=2.0)), run("slow-down", slowing), run("load-step", Wish())
    off = run("switch-off", Wish(rpm=FROM_RPM * RAD_S))
    for column in range(len(variants)):
        ring_rpm = float(idle.series.ring_rpm[:, column].mean())
        words = (
            arm_words(idle.figures[column].arm_swing_mm or 0.0),
            lag_words(lag(idle.figures[column], ring_rpm)),
            slip_words(slow.figures[column].slip_mm),
            slip_words(step.figures[column].slip_mm, " at the load step"),
            coast_words(off.figures[column]),
        )
        yield frozenset(filter(None, words))


SIGNS: dict[tuple[str, str], str] = {
    ("arm-swing", "lively"): "arm lively",
    ("arm-swing", "fluttering"): "arm flutters",
    ("slips-when-slowing", "present"): "belt slips while the engine slows",
    ("belt-slips", "present"): "belt slips at the load step",
    ("rotor-lags", "present"): "rotor lags behind its ring",
    ("rotor-stops-at-once", "present"): "rotor stops with the belt",
}
"""Levels of signs by what stands for them in a run; that a rotor coasts is normal in these drives, and left out."""
BASES: dict[Variant, Variant] = {Variant("solid", "no-damping"): SOLID}
"""With what a form is compared where that is not the sound decoupler: only what it adds counts."""


def healthy(words: frozenset[str]) -> bool:
    """Whether a drive shows nothing while all is sound: others nobody would have built."""
    return words == {"arm steady", "rotor coasts"}


def tried(
    many: int, seed: int, told: Callable[[int], None]
) -> tuple[list[dict[Variant, frozenset[str]]], Counter[str]]:
    """Draw until so many healthy drives were tried, and count what became of the others."""
    chance = random.Random(seed)  # noqa: S311 - no secret
    kept: list[dict[Variant, frozenset[str]]] = []
    left = Counter[str]()
    while len(kept) < many:
        try:
            found = shown(*drawn(chance))
        except (TriageError, ValueError):
            left["no belt runs so, or the run was refused"] += 1
            continue
        if healthy(found[DECOUPLER]):
            kept.append(found)
            told(len(kept))
        else:
            left["not quiet while sound"] += 1
    return kept, left


def rows(knowledge: Knowledge, drives: list[dict[Variant, frozenset[str]]]) -> Iterator[Row]:
    """Every pair that physics or knowledge says something of."""
    for cause, forms in CAUSES.items():
        for (sign, level), words in SIGNS.items():
            shares = {form: sum(_adds(one, form, words) for one in drives) / len(drives) for form in forms}
            known = knowledge.signs[sign].produced_by.get(cause, {}).get(level, "none")
            if any(shares.values()) or known != "none":
                yield Row(cause, sign, level, shares, known)


def _adds(drive: dict[Variant, frozenset[str]], form: Variant, words: str) -> bool:
    return words in drive[form] and words not in drive[BASES.get(form, DECOUPLER)]


def page(knowledge: Knowledge, drives: list[dict[Variant, frozenset[str]]], left: Counter[str]) -> str:
    """The page in Markdown."""
    every = list(rows(knowledge, drives))
    ranges = "; ".join(f"{name} {low:g} to {high:g} {unit}".strip() for name, (low, high, unit) in RANGES.items())
    dropped = "; ".join(f"{count} {why}" for why, count in sorted(left.items())) or "none"
    said = HEAD.format(many=len(drives), kernel=usual_kernel(), left=dropped, ranges=ranges)
    apart = [_apart(row) for row in every if row.apart > 1] or ["Nowhere."]
    return "\n".join([said, *map(_line, every), "", "## More than one step apart", "", *apart, ""])


HEAD = f"""\
# Physics beside the knowledge

Made by `docs/making/make_physics.py`; do not edit. {{many}} drives of one kind, seven pulleys with a decoupler, drawn
with seed {SEED} and worked out [in time](../mechanics.md#a-drive-in-time) by {{kernel}}. A direction, not a truth:
one geometry moved about, ranges and limits from memory, no wear, no water, no noise. Only drives that are quiet while
sound count; left out: {{left}}. A form of a cause counts where it shows what the sound decoupler does not; "solid,
no-damping" where it shows what a sound solid pulley does not.

Events: idle, slowing from {FROM_RPM:.0f} r/min, a load step from 1 N·m to the drawn torque, switching off at
{FROM_RPM:.0f} r/min. Drawn evenly: {{ranges}}; each pulley but the crank's moved by up to {MOVED_MM:g} mm.

| cause | sign | share of drives, by form | in a word | the knowledge | steps apart |
|---|---|---|---|---|---|"""


def _apart(row: Row) -> str:
    argued = ARGUED.get((row.cause, row.sign), "Open.")
    words = f"physics {worded(row.share)}, knowledge {row.known}"
    return f"- `{row.cause}` → `{row.sign}` {row.level}: {words}. {argued}"


def _line(row: Row) -> str:
    shares = ", ".join(f"{_form(form)} {share:.2f}" for form, share in row.shares.items())
    return f"| `{row.cause}` | `{row.sign}` {row.level} | {shares} | {worded(row.share)} | {row.known} | {row.apart} |"


def _form(form: Variant) -> str:
    return f"{form.pulley}, {form.fault}" if form.fault else form.pulley


def _told(count: int) -> None:
    sys.stderr.write(f"\r{count} drives")


def main() -> None:
    """Try the drives and write the page."""
    many = int(sys.argv[1]) if len(sys.argv) > 1 else DRIVES
    drives, left = tried(many, SEED, _told)
    PAGE.write_text(page(load_knowledge(trees_folder()), drives, left), encoding="utf-8", newline="\n")


if __name__ == "__main__":
    main()
