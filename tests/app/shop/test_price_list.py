"""Prices, labour and lives out of a shop file."""

from functools import cache
from pathlib import Path

import pytest

from triage.app.shop.shop_file import read_shop
from triage.errors import DocumentFaulty
from triage.knowledge.loading import load_knowledge
from triage.knowledge.models import Knowledge
from triage.knowledge.shipped import trees_folder
from triage.record.prices import Prices
from triage.record.wear import Uniform, Weibull

EXAMPLE = Path(__file__).parents[3] / "docs" / "shop-example.yaml"
SOUND = """\
repair:
  currency: "kr"
  hour_rate: 900
  prices: {belt: 420.5}
  hours: {renew-belt: "12 min", alternator-out: "0 min"}
  kept: "80 000 km"
  lives: {belt: {shape: 4, scale: "100 000 mi"}, idler: {longest: "300 000 km"}}
"""


@cache
def shipped() -> Knowledge:
    return load_knowledge(trees_folder())


def prices(folder: Path, text: str) -> Prices:
    path = folder / "shop.yaml"
    path.write_text(text, encoding="utf-8")
    return read_shop(path, shipped()).repair.in_use()


def test_prices_hours_and_lives_are_read_as_people_write_them(tmp_path: Path) -> None:
    used = prices(tmp_path, SOUND)
    assert (used.currency, used.hour_rate, used.parts) == ("kr", 900.0, {"belt": 420.5})
    assert used.hours == {"renew-belt": pytest.approx(0.2), "alternator-out": 0.0}
    assert used.lives == {"belt": Weibull(shape=4.0, scale=1.609344e8), "idler": Uniform(longest=3e8)}
    assert used.kept_m == 8e7
    assert used.source == "shop file"


def test_a_shop_file_without_prices_names_no_money(tmp_path: Path) -> None:
    assert prices(tmp_path, 'reviewer: ""\n') == Prices(source="shop file")


@pytest.mark.parametrize(
    ("old", "new", "message"),
    [
        ("prices: {belt", "prices: {bell", "There is no part \"bell\". Did you mean 'belt'?"),
        ("lives: {belt", "lives: {belts", "There is no part \"belts\". Did you mean 'belt'?"),
        ("{renew-belt", "{renew-bell", "There is no remedy or access \"renew-bell\". Did you mean 'renew-belt'?"),
        ('"12 min"', '"12 mm"', "“mm” is a unit of a length, not of a time."),
        ('"12 min"', '"-12 min"', "is below zero, which a time cannot be."),
        ('"300 000 km"', '"0 km"', "That distance must be more than nothing."),
        ("{shape: 4, scale", "{scale", "A life has shape and scale, or longest."),
        (
            '  kept: "80 000 km"\n',
            "",
            "Lives of parts need to know for how long: how much further vehicles are driven.",
        ),
        ("  hour_rate: 900\n", "", "Prices need a currency and an hour rate; one of the two is missing."),
        ('  currency: "kr"\n', "", "Prices need a currency and an hour rate; one of the two is missing."),
        ("420.5", "-1", "belt"),
        ("shape: 4", "shape: 0.9", "shape"),
    ],
)
def test_what_cannot_be_is_named_with_its_place(tmp_path: Path, old: str, new: str, message: str) -> None:
    assert SOUND.count(old) == 1
    with pytest.raises(DocumentFaulty) as caught:
        prices(tmp_path, SOUND.replace(old, new))
    faults = [str(fault) for fault in caught.value.faults]
    assert len(faults) == 1
    assert message in faults[0]
    assert "shop.yaml:" in faults[0]


def test_the_example_of_the_documentation_is_sound_and_prices_every_part_that_is_renewed() -> None:
    used = read_shop(EXAMPLE, shipped()).repair.in_use()
    weighed = [remedy for remedy in shipped().remedies.values() if remedy.hours]
    renewed = {part.id for remedy in weighed for part in remedy.parts if part.todo == "renew"}
    assert renewed <= used.parts.keys()
    assert "invented" in used.source
