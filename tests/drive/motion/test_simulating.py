"""The one door to the simulation: what is asked, what is refused in a sentence, and that a finer step says the same."""

import json
import math
from collections.abc import Callable
from dataclasses import replace

import pytest

from tests.drive.motion.conftest import RAD_S, drive_of, seven_text
from tests.sizes import few_or_all
from triage.drive.layout.assembly import Drive
from triage.drive.motion import running, simulating
from triage.drive.motion.events import EventKind, Wish
from triage.drive.motion.figures import Figures
from triage.drive.motion.machine import FAULTS, Variant
from triage.drive.motion.parameters import Parameters
from triage.drive.motion.simulating import Question, compared, findings, fitted, simulate
from triage.errors import TriageError

USUAL = Parameters(ripple_order=2.0)
FOUR = tuple(Variant(pulley) for pulley in ("solid", "isolator", "one-way-clutch", "decoupler"))
SHORT: dict[EventKind, Wish] = {
    "idle": Wish(seconds=0.4),
    "sweep": Wish(rpm=700 * RAD_S, to=800 * RAD_S, rate=400 * RAD_S),
    "slow-down": Wish(rpm=1200 * RAD_S, rate=6000 * RAD_S, seconds=0.1),
    "load-step": Wish(step_nm=12.0),
    "switch-off": Wish(rpm=300 * RAD_S),
}
"""Events as short as they can be and still do all that they do."""
LEAST = {"tension": 5.0, "arm": 0.05, "rotor": 2.0, "overrun": 0.010, "ring": 0.010, "coast": 0.010, "slip": 0.05}
"""Changes that are small where a share of one percent is smaller still: N, mm, r/min, s."""


def close(name: str, coarse: float, fine: float) -> bool:
    least = LEAST[name.split("_")[0]]
    return math.isclose(coarse, fine, rel_tol=0.01, abs_tol=least)


@pytest.mark.parametrize("kind", list(SHORT)[: few_or_all(1, len(SHORT))])
def test_half_the_step_says_the_same(seven: Drive, monkeypatch: pytest.MonkeyPatch, kind: EventKind) -> None:
    question = Question(kind, FOUR, SHORT[kind])
    coarse = simulate(seven, USUAL, question).figures
    monkeypatch.setattr(running, "STEP_S", running.STEP_S / 2)
    fine = simulate(seven, USUAL, question).figures
    assert fine[0].step_s == coarse[0].step_s / 2
    for one, other in zip(coarse, fine, strict=True):
        compare_all(one, other)


def compare_all(coarse: Figures, fine: Figures) -> None:
    other = fine.published()
    for name, value in coarse.published().items():
        if isinstance(value, float) and name != "step_s":
            assert close(name, value, float(str(other[name]))), (name, value, other[name])


def test_a_variant_alone_says_what_it_says_among_others(seven: Drive) -> None:
    wish = Wish(seconds=0.1)
    four = simulate(seven, USUAL, Question("idle", FOUR, wish)).figures
    alone = [simulate(seven, USUAL, Question("idle", (one,), wish)).figures[0] for one in FOUR[:2]]
    assert [one.published() for one in alone] == [one.published() for one in four[:2]]


def test_a_comparison_has_the_four_types_and_what_can_be_wrong_with_the_fitted_one(seven: Drive) -> None:
    variants, left = compared(seven, USUAL)
    assert variants[:4] == FOUR
    assert {one.fault for one in variants[4:]} == set(simulating.COMPARED)
    assert {one.pulley for one in variants[4:]} == {fitted(seven)} == {"decoupler"}
    assert not left


def test_a_comparison_says_what_the_layout_does_not_know_enough_for(seven_with: Callable[..., Drive]) -> None:
    variants, left = compared(seven_with(("    spring: 16 N·m/rad\n", "")), USUAL)
    assert Variant("solid") in variants
    assert not any(one.pulley == "isolator" for one in variants)
    assert "Left out: isolator pulley. The layout does not give the spring of the pulley of alternator." in left


def test_a_slipping_clutch_lags_and_a_sound_one_does_not(seven: Drive) -> None:
    variants = Variant("decoupler"), Variant("decoupler", "slipping")
    answer = simulate(seven, USUAL, Question("idle", variants, Wish(seconds=0.4)))
    sound, slipping = findings(answer)
    assert "rotor lags behind its ring" in slipping
    assert "rotor lags behind its ring" not in sound


@pytest.mark.parametrize(
    ("change", "sentence"),
    [
        (("stiffness: 150 kN, ", ""), "The layout does not give belt.stiffness."),
        (("tension: 380 N\n", ""), "The layout does not give tension."),
        ((", idle: 750 rpm", ""), "The layout does not give engine.idle."),
        ((", arm_inertia: 0.0016 kg·m²", ""), "The layout does not give"),
        ((", torque: 8 N·m", ""), "The layout does not give the torque of compressor."),
        ((", inertia: 0.0025 kg·m²", ""), "The layout does not give the inertia of compressor."),
    ],
)
def test_what_a_layout_lacks_is_named(seven_with: Callable[..., Drive], change: tuple[str, str], sentence: str) -> None:
    with pytest.raises(TriageError, match=sentence):
        simulate(seven_with(change), USUAL, Question("idle", FOUR))


@pytest.mark.parametrize(
    ("question", "sentence"),
    [
        (Question("idle", FOUR, Wish(rpm=99999 * RAD_S)), "An engine speed of 99999 r/min"),
        (Question("idle", FOUR, Wish(seconds=1e6)), "The run would take 1000000 s"),
        (Question("slow-down", FOUR, Wish(rate=0.01)), "The run would take"),
        (Question("idle", (Variant("solid", "seized"),)), "A solid pulley cannot have the fault seized"),
    ],
)
def test_what_cannot_be_is_refused_in_a_sentence(seven: Drive, question: Question, sentence: str) -> None:
    with pytest.raises(TriageError, match=sentence):
        simulate(seven, USUAL, question)


def test_a_fault_of_the_arm_needs_an_arm() -> None:
    rows = seven_text().splitlines(keepends=True)
    fixed = "".join(row for row in rows if not row.startswith("tensioner:")).replace("part: tensioner", "part: idler-b")
    with pytest.raises(TriageError, match="no tensioner with an arm"):
        simulate(drive_of(fixed), USUAL, Question("idle", (Variant("decoupler", "weak-tensioner"),)))


def test_whatever_progress_raises_stops_the_work(seven: Drive) -> None:
    told = []

    def progress(share: float) -> None:
        told.append(share)
        if len(told) == 2:
            raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        simulate(seven, USUAL, Question("idle", FOUR), progress)
    assert 0 < told[0] < told[1] < 0.2


def test_the_figures_are_rounded_to_four_digits_and_keep_their_names(seven: Drive) -> None:
    answer = simulate(seven, replace(USUAL, creep=False), Question("idle", FOUR[:1], Wish(seconds=0.1)))
    published = answer.figures[0].published()
    assert json.loads(json.dumps(published)) == published
    assert list(published) == [
        "tension_min_n",
        "tension_max_n",
        "tension_swing_n",
        "arm_swing_mm",
        "rotor_swing_rpm",
        "rotor_ahead_rpm",
        "overrun_s",
        "slip_mm",
        "slip_by_pulley_mm",
        "ring_still_s",
        "rotor_still_s",
        "coast_s",
        "steps",
        "step_s",
    ]
    assert all(float(f"{one:.4g}") == one for one in published.values() if isinstance(one, float))


def test_every_fault_is_said_in_words() -> None:
    assert all(FAULTS.values())
    assert set(simulating.COMPARED) <= set(FAULTS)
