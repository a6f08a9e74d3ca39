"""What a measured diameter is worth: the pitch diameter, how wide it is, and what is said about that."""

import math

import pytest

from triage.documents import build
from triage.documents.reading import read_text
from triage.drive.layout.diameters import assumptions, pitch_and_spread
from triage.record.layout import Layout


def layout_of(pulley: str, belt: str = "{}") -> Layout:
    crank = "{part: crank, diameter: 160 mm, diameter_is: pitch}"
    text = f"belt: {belt}\npulleys: [{crank}, {{part: alternator, {pulley}}}]"
    return build(read_text(text, "layout.yaml"), Layout)


@pytest.mark.parametrize(
    ("pulley", "belt", "pitch_mm", "spread_mm"),
    [
        ("diameter: 56 mm, diameter_is: pitch", "{}", 56, 0),
        ("diameter: 56 mm ± 0.5 mm, diameter_is: pitch", "{}", 56, 0.5),
        ("diameter: 56 mm, diameter_is: effective", "{}", 60, 0),
        ("diameter: 56 mm, diameter_is: outside", "{}", 60, 1),
        ("diameter: 56 ± 1 mm, diameter_is: outside", "{}", 60, math.sqrt(2)),
        ("diameter: 56 mm", "{}", 60, math.hypot(4, 1)),
        ("diameter: 70 mm, side: back, diameter_is: outside", "{}", 72.4, 0.6),
        ("diameter: 70 mm, side: back, diameter_is: outside", "{cord_to_back: 1.5 mm ± 0.1 mm}", 73, 0.2),
        ("diameter: 70 mm, side: back", "{}", 72.4, math.hypot(2.4, 0.6)),
        ("diameter: 70 mm, side: back", "{cord_to_back: 1.5 mm}", 73, 3),
    ],
)
def test_a_diameter_is_as_wide_as_what_was_added_and_what_was_left_unsaid(
    pulley: str, belt: str, pitch_mm: float, spread_mm: float
) -> None:
    layout = layout_of(pulley, belt)
    pitch_m, spread_m = pitch_and_spread(layout, layout.pulleys[1])
    assert pitch_m * 1000 == pytest.approx(pitch_mm)
    assert spread_m * 1000 == pytest.approx(spread_mm)


def test_a_diameter_without_a_word_may_be_the_pitch_diameter_itself() -> None:
    for pulley in ("diameter: 56 mm", "diameter: 56 mm, side: back"):
        layout = layout_of(pulley)
        pitch_m, spread_m = pitch_and_spread(layout, layout.pulleys[1])
        assert pitch_m - spread_m <= 0.056 < pitch_m
        assert "were it the pitch diameter itself, 56 mm" in next(iter(assumptions(layout)))


@pytest.mark.parametrize(
    ("pulley", "belt", "said"),
    [
        ("diameter: 56 mm, diameter_is: outside", "{}", ["± 1 mm (from memory), cord 4 mm wider (ISO 9981)"]),
        ("diameter: 70 mm, side: back, diameter_is: outside", "{}", ["from memory; belt.cord_to_back settles it"]),
        ("diameter: 70 mm, side: back, diameter_is: outside", "{cord_to_back: 1.5 mm}", []),
        ("diameter: 56 mm, diameter_is: pitch", "{}", []),
        ("diameter: 56 mm, diameter_is: effective", "{}", []),
        ("diameter: 70 mm, side: back", "{cord_to_back: 1.5 mm}", ["as belt.cord_to_back has it"]),
    ],
)
def test_what_is_taken_for_granted_is_said_with_its_source_and_nothing_else_is(
    pulley: str, belt: str, said: list[str]
) -> None:
    sentences = list(assumptions(layout_of(pulley, belt)))
    assert len(sentences) == len(said)
    for sentence, words in zip(sentences, said, strict=True):
        assert sentence.startswith("alternator: ")
        assert words in sentence
