from typing import TYPE_CHECKING

import pytest

if TYPE_CHECKING:
    from tests.knowledge.conftest import SmallWorld

BEFORE = "causes:\n"


def circumstance(text: str) -> str:
    return f"circumstances:\n  - {{id: c, words: So, source: trade-practice, {text}}}\ncauses:\n"


@pytest.mark.parametrize(
    "text",
    [
        "pulley: [solid], odds: {torn-belt: likelier}",
        "without: idler, odds: {dry-bearing: cannot-be}",
        'life: {text: "100,000 km", source: trade-practice}, part: belt, wears: [torn-belt]',
        "answered: {complaint: none}, odds: {torn-belt: less-likely}",
    ],
)
def test_one_condition_with_what_goes_with_it_passes(world: "SmallWorld", text: str) -> None:
    world.passes("causes.yaml", BEFORE, circumstance(text))


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("odds: {torn-belt: likelier}", "none"),
        ("pulley: [solid], without: idler, odds: {torn-belt: likelier}", "pulley, without"),
    ],
)
def test_none_or_two_conditions_are_refused(world: "SmallWorld", text: str, told: str) -> None:
    message = f"A circumstance has one condition; here stands {told}. Give one of them."
    world.fails("causes.yaml", BEFORE, circumstance(text).replace("{id: c", "¦{id: c"), message)


@pytest.mark.parametrize(
    "text",
    [
        "pulley: [solid]",
        "pulley: [solid], wears: [torn-belt]",
        "pulley: [solid], part: belt, odds: {torn-belt: likelier}",
        'life: {text: "100,000 km", source: trade-practice}, wears: [torn-belt], odds: {torn-belt: likelier}',
    ],
)
def test_what_does_not_go_with_the_condition_is_refused(world: "SmallWorld", text: str) -> None:
    message = "What it shifts does not go with its condition. Give 'wears' with 'life', 'odds' with the others; "
    message += "'part' goes with 'life' alone."
    world.fails("causes.yaml", BEFORE, circumstance(text).replace("{id: c", "¦{id: c"), message)


def test_an_outcome_that_the_check_has_not_is_refused(world: "SmallWorld") -> None:
    world.fails(
        "causes.yaml",
        BEFORE,
        circumstance("answered: {complaint: ¦never}, odds: {torn-belt: likelier}"),
        "'complaint' has no outcome 'never'. It has: none, always, not-sure.",
    )
