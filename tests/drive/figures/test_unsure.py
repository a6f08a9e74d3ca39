"""What unsure diameters do to the figures of a drive."""

import math
import random
from collections.abc import Callable
from dataclasses import replace
from statistics import stdev

import pytest

from triage.drive.figures.all_figures import figures_of
from triage.drive.figures.derived import Derived, each
from triage.drive.figures.running import Running
from triage.drive.figures.slip_margins import grip_used
from triage.drive.figures.unsure import resized, unsure, unsure_rates
from triage.drive.layout.assembly import Drive, assemble
from triage.drive.layout.placement import read_layout
from triage.drive.layout.shipped import layout_file
from triage.drive.pages.figures_page import account
from triage.drive.pages.unsure_words import shares_of_ratios, what_is_open

OUTSIDE = (("diameter: 53.94 mm\n    diameter_is: pitch", "diameter: 53.94 mm\n    diameter_is: outside"),)


@pytest.fixture
def tape(reference_with: Callable[..., Drive]) -> Drive:
    """The reference drive with a tape at its alternator."""
    return reference_with(*OUTSIDE)


def test_sure_diameters_leave_nothing_open(reference: Drive) -> None:
    figures = figures_of(reference)
    assert figures.uncertainty == {}
    assert what_is_open(figures) == ""
    assert shares_of_ratios(figures) == ()
    assert "u %" not in account(reference, figures)


def test_a_ratio_is_as_unsure_as_its_diameter(tape: Drive) -> None:
    """i = D/d: u_i/i = u_d/d with u_d = 1 mm/√3 (JCGM 100, 4.3.7)."""
    figures = figures_of(tape)
    ratios, turns = figures.uncertainty["ratios"], figures.uncertainty["turns_per_s"]
    assert isinstance(ratios, tuple)
    assert isinstance(turns, tuple)
    share = 0.001 / math.sqrt(3) / 0.05794
    assert ratios[2] is not None
    assert ratios[:2] == (0, 0)
    assert ratios[2] / each(figures.ratios.value)[2] == pytest.approx(share, rel=1e-3)
    assert turns[2] == pytest.approx(12.5 * ratios[2])
    assert shares_of_ratios(figures)[2] == pytest.approx(share, rel=1e-3)


def test_figures_of_the_path_move_as_they_do_when_the_pulley_is_another(tape: Drive) -> None:
    """Against the whole drive worked out anew with the diameter at either end of its standard uncertainty."""
    step_m = 0.001 / math.sqrt(3)
    above, below = (figures_of(resized(tape, 2, sign * step_m)) for sign in (1, -1))
    unsure = figures_of(tape).uncertainty
    for name in ("spans_m", "wraps_deg", "natural_hz", "span_hz"):
        ends = zip(getattr(above, name).value, getattr(below, name).value, strict=True)
        assert unsure[name] == pytest.approx(tuple(abs(up - down) / 2 for up, down in ends))
    assert above.belt_length_m.value is not None
    assert below.belt_length_m.value is not None
    width_m = (above.belt_length_m.value - below.belt_length_m.value) / 2
    assert unsure["belt_length_m"] == pytest.approx(width_m)


def test_several_unsure_add_up_in_squares(tape: Drive) -> None:
    both = replace(tape, members=(replace(tape.members[0], pitch_spread_m=0.001), *tape.members[1:]))
    share = math.hypot(1 / 177.8, 1 / 57.94) / math.sqrt(3)
    found = shares_of_ratios(figures_of(both))
    assert found[2] == pytest.approx(share, rel=1e-3)
    assert found[0] == 0


def test_what_a_diameter_within_its_width_would_make_unknown_is_not_claimed(tape: Drive) -> None:
    members = (*tape.members[:2], replace(tape.members[2], pitch_spread_m=0.55 * math.sqrt(3)))
    wide = replace(tape, members=members)
    figures = figures_of(wide)
    assert figures.spans_m.value is not None
    assert figures.uncertainty["spans_m"] is None
    assert "ratios" in figures.uncertainty


def test_unknown_figures_have_no_uncertainty(tape: Drive) -> None:
    unknown = Derived[float](None, "Nobody knows.")
    assert unsure(unknown, [(unknown, unknown)]) == unknown
    standing = replace(tape, idle_rev_s=None)
    assert {"turns_per_s", "firing_hz"} & set(figures_of(standing).uncertainty) == set()


def test_the_page_says_what_was_taken_for_granted_and_what_that_leaves_open() -> None:
    drive = assemble(read_layout(layout_file("tape-and-photo")))
    page = account(drive, figures_of(drive))
    assert "u %" in page
    assert "± 1 mm (from memory)" in page
    assert all(len(line) <= 80 for line in page.splitlines()[1:])
    rates = unsure_rates(drive, 1.0)
    assert rates["crank"] == 0
    assert rates["alternator"] > rates["compressor"] > 0


def test_open_ends_are_told_at_their_widest(tape: Drive) -> None:
    said = what_is_open(figures_of(tape))
    assert said.startswith("That leaves open, as standard uncertainty at most: spans ")
    for words in ("belt ", "wraps ", "laps ", "natural frequencies ", "reversal ", "shares of grip "):
        assert words in said


def test_a_typed_range_of_tension_widens_every_figure_that_hangs_on_it(reference_with: Callable[..., Drive]) -> None:
    """f ∝ √T standing, so u_f/f = u_T/(2·T) with u_T = 30 N/√3 (JCGM 100, 4.3.7)."""
    figures = figures_of(reference_with(("tension: 300 N", "tension: 300 ± 30 N")))
    notes, widths = each(figures.span_standing_hz.value), each(figures.span_standing_hz.uncertainty)
    share = 30 / math.sqrt(3) / 300 / 2
    assert widths == pytest.approx([note_hz * share for note_hz in notes], rel=1e-3)
    assert figures.uncertainty["rib_tension_n"] == pytest.approx(5 / math.sqrt(3))
    assert "ratios" not in figures.uncertainty or max(each(figures.ratios.uncertainty)) == 0
    assert "notes of spans" in what_is_open(figures)


def test_a_typed_range_of_friction_widens_the_share_of_grip(reference_with: Callable[..., Drive]) -> None:
    figures = figures_of(reference_with(("friction: 0.35", "friction: 0.25-0.45")))
    shares = figures.grip_used["steady"]["solid"]
    width = 0.1 / math.sqrt(3)
    used = each(shares.value)[2]
    expected = (used * 0.35 / (0.35 - width) - used * 0.35 / (0.35 + width)) / 2
    assert each(shares.uncertainty)[2] == pytest.approx(expected)
    assert each(figures.slips_below_friction["steady"]["solid"].uncertainty)[2] == 0


@pytest.mark.parametrize(
    ("sure", "unsure_text", "name"),
    [
        ("[0 mm, 0 mm]", "[0 ± 3 mm, 0 mm]", "spans_m"),
        ("torque: 3 N·m", "torque: 3 ± 1 N·m", "span_tension_n"),
        ("[250.8 mm", "[250.8 ± 5 mm", "span_tension_n"),
        ("stiffness: 116.4 N·m/rad", "stiffness: 116.4 ± 10 N·m/rad", "natural_hz"),
        ("mass_per_metre: 0.1029 kg/m", "mass_per_metre: 0.1029 ± 0.01 kg/m", "span_hz"),
    ],
)
def test_whatever_is_typed_as_a_range_is_carried(
    reference_with: Callable[..., Drive], sure: str, unsure_text: str, name: str
) -> None:
    widths = figures_of(reference_with((sure, unsure_text))).uncertainty[name]
    assert isinstance(widths, tuple)
    assert max(width or 0.0 for width in widths) > 0


def test_the_page_gives_shares_of_grip_as_ranges(reference_with: Callable[..., Drive]) -> None:
    drive = reference_with(("friction: 0.35", "friction: 0.25-0.45"))
    figures = figures_of(drive)
    # Twice the standard uncertainty, about 95 % (JCGM 100).
    width = each(figures.grip_used["steady"]["solid"].uncertainty)[0] * 200
    share = each(figures.grip_used["steady"]["solid"].value)[0] * 100
    page = account(drive, figures)
    assert f"{share:.0f}±{width:.0f}" in page
    assert "Nothing is unknown." not in page


def test_shares_of_grip_are_as_unsure_as_drives_drawn_at_random_from_the_same_ranges(
    reference_with: Callable[..., Drive],
) -> None:
    """Sampling of even ranges beside the first order of JCGM 100: within a fifth of each other."""
    ranges = {
        "tension: 300 N": ("tension: {:.6f} N", 300.0, 30.0),
        "friction: 0.35": ("friction: {:.6f}", 0.35, 0.05),
        "torque: 3 N·m": ("torque: {:.6f} N·m", 3.0, 1.0),
        "at: [0 mm, 0 mm]": ("at: [{:.6f} mm, 0 mm]", 0.0, 5.0),
    }
    written = [(old, text.replace("{:.6f}", f"{middle} ± {half}")) for old, (text, middle, half) in ranges.items()]
    shares = figures_of(reference_with(*written)).grip_used["steady"]["solid"]
    draw = random.Random(7)
    found = []
    for _ in range(100):
        texts = [(old, text.format(draw.uniform(mid - half, mid + half))) for old, (text, mid, half) in ranges.items()]
        found.append(grip_used(Running(reference_with(*texts), 12.5), "solid", 0.0)[0])
    assert each(shares.uncertainty)[0] == pytest.approx(stdev(found), rel=1 / 5)
