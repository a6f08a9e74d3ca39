"""Every screen of the tour reads as it did when somebody looked at it last, and each picture is one of its stops."""

import make_pictures as pictures
import pytest
import textual

AGAIN = "Look at what has changed; where it is right: python docs/make_pictures.py"


def test_every_screen_of_the_tour_reads_as_before() -> None:
    if not (pictures.TEXTS / "80x24.txt").read_text("utf-8").startswith(f"textual {textual.__version__}\n"):
        pytest.skip("Screens were read off with another version of the toolkit.")
    made = dict(pictures.pages(pictures.walked()))
    kept = {*pictures.TEXTS.glob("*.txt"), *pictures.PICTURES.glob("*.svg")}
    assert kept == set(made), AGAIN
    for path, text in made.items():
        if path.suffix == ".txt":  # a picture differs by its cursor, which blinks
            assert path.read_text("utf-8").split("=====") == text.split("====="), f"{path.name}: {AGAIN}"
