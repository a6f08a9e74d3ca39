"""A drive entered line by line, as a person types it."""

import math
from contextlib import suppress

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.sizes import few_or_all
from triage.drive.entry.dialogue import Entered, asked
from triage.drive.entry.gaps import Gap, stands
from triage.drive.figures.all_figures import figures_of
from triage.drive.layout.assembly import assemble
from triage.errors import QuantityRefused, TriageError

TAPE = (
    "160 outside",
    "tensioner back 76 outside",
    "alternator 56 outside",
    "compressor 115 mm outside",
    "belt 6PK1350",
    "4",
    "done",
    "bay-three",
)
PULLEYS = (
    "156 effective; tensioner back 76 outside; alternator 54 effective decoupler; water-pump back 108 outside",
    "steering-pump 126 effective; compressor 112 effective; belt 6 ribs 1505 effective",
    "4, 750 rpm",
)
PLACES = ((0.0, 0.0), (-165.0, 125.0), (-200.0, 270.0), (-20.0, 320.0), (170.0, 260.0), (210.0, 20.0))
RIMS = (156, 76, 54, 108, 126, 112)


def gap(first: int, second: int, off_mm: float = 0.0) -> str:
    apart = math.dist(PLACES[first], PLACES[second]) - (RIMS[first] + RIMS[second]) / 2
    return f"{first + 1}-{second + 1} {apart + off_mm:.1f}"


GAPS = "; ".join(gap(i, j) for i in range(6) for j in range(i) if (i, j) != (4, 1))
BY_GAPS = (*PULLEYS, "gaps", "cw", GAPS, "done", "11 3")


def question(*lines: str) -> str:
    came = asked(lines)
    assert isinstance(came, str)
    return came


def entered(*lines: str) -> Entered:
    came = asked(lines)
    assert isinstance(came, Entered), came
    return came


def test_a_tape_alone_gives_ratios_and_laps_after_eight_lines() -> None:
    made = entered(*TAPE)
    assert made.name == "bay-three"
    figures = figures_of(assemble(made.layout))
    assert figures.ratios.value == pytest.approx((1, 164 / 78.4, 164 / 60, 164 / 119))
    assert figures.spans_m.value is None
    assert made.layout.belt.length == "1350 mm"
    assert made.layout.belt.ribs == 6


def test_every_line_is_said_back_in_the_list() -> None:
    said = question(*TAPE[:3])
    assert "2 tensioner, on the back, 76 mm outside" in said
    assert "3 alternator, grooved, 56 mm outside" in said


def test_a_question_stands_before_what_is_shown_with_it() -> None:
    assert question(*TAPE[:2]).startswith("Next pulley?")
    assert question(*PULLEYS, "gaps", "cw", GAPS).startswith("Another gap")
    assert question(*BY_GAPS).startswith("The arm of tensioner")


def test_back_takes_the_last_line_back() -> None:
    assert "3 alternator" not in question(*TAPE[:3], "back")
    assert question(*TAPE[:3], "back", "alternator 57 outside") == question(*TAPE[:2], "alternator 57 outside")


@pytest.mark.parametrize(
    ("lines", "said"),
    [
        (("160",), "How was the 160"),
        (("160 kg outside",), "kg"),
        ((TAPE[0], "76 back outside"), "a name and a diameter"),
        ((TAPE[0], "crank 76 outside"), "in the list already"),
        ((TAPE[0], "tensioner back 76 effective"), "no effective diameter"),
        ((TAPE[0], "done"), "at least two"),
        ((*TAPE[:4], "belt 1350 mm"), "effective length"),
        ((*TAPE[:5], "four"), "no number of cylinders"),
        ((*TAPE[:6], "somewhere"), "gaps, photo or done"),
        ((*TAPE[:7], "Bay Drei ß"), "no name for a layout"),
        ((*PULLEYS, "gaps", "left"), "no way to turn"),
        ((*PULLEYS, "gaps", "cw", "1-9 212"), "no pulley “9”"),
        ((*PULLEYS, "gaps", "cw", "1-1 212"), "between two pulleys"),
        ((*PULLEYS, "gaps", "cw", "1-2 212; done"), "is no gap"),
        ((*PULLEYS, "gaps", "cw", gap(1, 0), "done"), "Not held yet: crank, tensioner, alternator"),
        ((*PULLEYS, "gaps", "cw", GAPS, "done", "11"), "Two hours"),
        ((*PULLEYS, "gaps", "cw", GAPS, "done", "11 25"), "no hour"),
        ((*PULLEYS, "gaps", "cw", GAPS, "done", "11 11"), "do not go with the gaps"),
        ((*BY_GAPS, "85"), "A length and an hour"),
    ],
)
def test_what_cannot_be_is_refused_where_it_is_typed(lines: tuple[str, ...], said: str) -> None:
    asked(lines[:-1])
    with pytest.raises(TriageError) as refused:
        asked(lines)
    assert said in f"{refused.value.message} {refused.value.hint}"


def test_a_name_that_is_taken_is_refused() -> None:
    with pytest.raises(QuantityRefused, match="already"):
        asked(TAPE, taken=("bay-three",))


def test_gaps_give_places_order_slack_span_and_a_drawing_while_they_are_typed() -> None:
    said = question(*BY_GAPS)
    assert "In running direction: crank, tensioner, alternator, water-pump, steering-pump, compressor" in said
    assert "Slack span: crank to tensioner." in said
    assert "ooo" in said
    assert "they agree" in said


def test_entered_places_are_those_of_the_drive_within_what_is_said_of_them() -> None:
    made = entered(*BY_GAPS, "80 mm 5", "unknown", "van")
    circles = assemble(made.layout).route
    assert circles is not None
    ways = [math.dist((c.x_m, c.y_m), (d.x_m, d.y_m)) for c in circles.circles for d in circles.circles]
    expected = [math.dist(p, q) / 1000 for p in PLACES for q in PLACES]
    assert ways == pytest.approx(expected, abs=2e-4)
    assert made.layout.pulleys[1].at is not None
    assert "± 2.0 mm" in made.layout.pulleys[1].at[0]
    assert made.layout.tensioner is not None
    assert made.layout.tensioner.pivot is not None


def test_a_wrong_gap_is_the_worst_named_and_is_put_right_by_typing_it_again() -> None:
    wrong = (*PULLEYS, "gaps", "cw", GAPS, gap(3, 2, 25.0))
    assert "The worst is alternator to water-pump" in question(*wrong)
    assert "3-4 106 off +0.0" in question(*wrong, gap(3, 2))


def test_a_list_that_was_followed_the_other_way_round_runs_the_way_the_engine_turns() -> None:
    said = question(*(line.replace("cw", "acw") for line in BY_GAPS))
    assert "In running direction: crank, compressor, steering-pump" in said


def test_typical_ranges_give_ranges_and_are_said() -> None:
    made = entered(*BY_GAPS, "80 mm 5", "typical", "van")
    figures = figures_of(assemble(made.layout))
    shares = figures.grip_used["steady"]["solid"]
    assert shares.value is not None
    assert shares.uncertainty is not None
    assert shares.uncertainty[0] > 0
    assert "Typical ranges" in made.layout.about
    assert figures.natural_fitted_hz.value is not None


def test_a_belt_that_does_not_go_round_is_refused_and_can_be_put_right_there() -> None:
    wrong = (PULLEYS[0], PULLEYS[1].replace("1505", "1405"), *BY_GAPS[2:], "80 mm 5")
    assert "they do not agree" in question(*wrong)
    with pytest.raises(QuantityRefused, match="too short") as refused:
        asked((*wrong, "typical"))
    assert '"belt" and its right length' in refused.value.hint
    assert "they agree" in question(*wrong, "belt 6PK1505")
    assert entered(*wrong, "belt 6PK1505", "typical", "van").layout.belt.length == "1505 mm"


def test_a_photo_with_a_scale_gives_the_same_places() -> None:
    pixels = "; ".join(f"{800 + 2 * x:.0f} {900 - 2 * y:.0f}" for x, y in PLACES)
    made = entered(*PULLEYS, "photo", "unknown", "crank 312", pixels, "unknown", "unknown", "photo-van")
    route = assemble(made.layout).route
    assert route is not None
    assert [(c.x_m * 1000, c.y_m * 1000) for c in route.circles] == [pytest.approx(place, abs=0.01) for place in PLACES]


def test_pulleys_over_which_no_belt_runs_are_refused_with_what_would_run() -> None:
    """A square whose corners are listed crosswise."""
    corners = (0, 0), (0, 400), (400, 0), (400, 400)
    pulleys = "100 outside; pump 100 outside; alternator 100 outside; compressor 100 outside; done"
    pairs = [(i, j) for i in range(4) for j in range(i)]
    gaps = "; ".join(f"{i + 1}-{j + 1} {math.dist(corners[i], corners[j]) - 100:.1f}" for i, j in pairs)
    with pytest.raises(TriageError, match="No belt runs over pulleys that stand so") as refused:
        asked((pulleys, "unknown", "4", "gaps", "cw", gaps, "done"))
    assert "It runs with 'alternator' and 'compressor' swapped in the list." in refused.value.hint


def test_a_pulley_that_may_stand_on_either_side_is_settled_by_the_belt_or_by_one_more_gap() -> None:
    # Without any gap of the compressor but two it may lie on either side of their line.
    few = "; ".join(gap(i, j) for i in range(5) for j in range(i)) + f"; {gap(5, 0)}; {gap(5, 4)}"
    radii = tuple(rim / 2000 for rim in RIMS)
    assert len(stands(radii, tuple(_gaps(few)))) == 2
    one_more = question(*PULLEYS, "gaps", "cw", few, gap(5, 3), "done")
    assert "at which hours" in one_more


def _gaps(text: str) -> list[Gap]:
    read = (one.split() for one in text.split("; "))
    pairs = ((sorted(int(word) - 1 for word in pair.split("-")), float(mm) / 1000) for pair, mm in read)
    return [Gap(first, second, gap_m) for (first, second), gap_m in pairs]


PHOTO = (*PULLEYS, "photo", "cw", "crank 312")
STAGES = [lines[:upto] for lines in (TAPE, (*BY_GAPS, "80 mm 5", "typical"), PHOTO) for upto in range(len(lines) + 1)][
    :-1
]
WORDS = [
    "1-2",
    "crank",
    "back",
    "done",
    "212",
    "mm",
    "0",
    "11",
    "²",
    ";",
    "outside",
    "effective",
    "-",
    "nan",
    "1e9",
    "6PK",
    "ribs",
]


@given(
    st.sampled_from(STAGES), st.one_of(st.text(max_size=30), st.lists(st.sampled_from(WORDS), max_size=6).map(" ".join))
)
@settings(max_examples=few_or_all(60, 600), deadline=None)
def test_whatever_is_typed_is_taken_or_refused_with_a_sentence(stage: tuple[str, ...], line: str) -> None:
    with suppress(TriageError):
        assert asked((*stage, line))
