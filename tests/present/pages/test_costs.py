"""The table for the customer, and the words that lead to it."""

from dataclasses import replace
from functools import cache

import pytest

from triage.app.asking import reading_of
from triage.errors import CommandRefused, QuantityRefused
from triage.knowledge.loading import load_knowledge
from triage.knowledge.models import Knowledge
from triage.knowledge.shipped import trees_folder
from triage.present.pages.costs import NO_PRICES, TABLE, costs_lines, costs_page, table
from triage.present.said.telling import told
from triage.present.steps.costs_line import costs_line
from triage.present.typing.interpreting import Typing, interpret
from triage.present.typing.results import Ask
from triage.record.counsel import LikelyCause
from triage.record.events import RenewalTold
from triage.record.payloads import Counsel
from triage.record.prices import NotWeighed, Prices, RepairChoice, Try, VisitCost, WornPart
from triage.record.wear import Weibull
from triage.session import commands as c
from triage.session.state import Concluded, State

PULLEY = "renew-decoupler-pulley"
TRY = Try(remedy=PULLEY, look="", cures=0.8, trial=250.0, hours=1.8, parts=95.0, cost=250.0)
LOOKED = Try(remedy="renew-idler", look="spin-idler", cures=0.1, trial=40.0, hours=0.5, parts=30.0, cost=80.0)
ALONE = VisitCost(
    remedies=(PULLEY,), cures=0.8, hours=1.8, parts=95.0, now=250.0, further=40.0, ahead=310.5, total=600.5
)
WITH_BELT = VisitCost(
    remedies=(PULLEY, "renew-belt"),
    cures=0.8,
    hours=2.0,
    parts=145.0,
    now=320.0,
    further=40.0,
    ahead=30.25,
    total=390.25,
)
CHOICE = RepairChoice(
    currency="EUR",
    hour_rate=96.0,
    source="made up",
    kept_m=1e8,
    tries=(TRY, LOOKED),
    expected=271.0,
    by_likelihood=280.0,
    visits=(WITH_BELT, ALONE),
    worn=(WornPart(part="belt", driven_m=1.524e8, best_m=None),),
    not_weighed=(NotWeighed(remedy="renew-water-pump", unpriced=("coolant",)),),
)
ADVICE = (LikelyCause(cause="decoupler-bearing-worn", probability=0.8, before=0.1),)
CONCLUDED = Concluded(("decoupler-bearing-worn",), "", "c-bearing-rough", (), ())


@cache
def shipped() -> Knowledge:
    return load_knowledge(trees_folder())


def state(**more: object) -> State:
    begun = State(symptom="shutdown-buzz", events=1, gate="none", facts={"pulley": "decoupler", "odometer": 1.6e8})
    return replace(begun, **more)  # type: ignore[arg-type]


def shown(choice: RepairChoice = CHOICE) -> list[str]:
    return costs_lines(shipped(), state(), choice)


def test_the_table_names_what_is_done_and_what_each_amount_is_for() -> None:
    lines = shown()
    at = lines.index("What to do in this visit")
    assert lines[at + 1].split() == ["now", "tries", "worn", "in", "all"]
    assert lines[at + 2].startswith("* Renew the clutch")
    assert lines[at + 4].split() == ["+", "Renew", "the", "belt", "320.00", "40.00", "30.25", "390.25"]
    assert any(line.split()[-4:] == ["250.00", "40.00", "310.50", "600.50"] for line in lines)
    assert lines[0] == "Amounts in EUR, labour at 96.00 an hour. Prices: made up."


def test_the_order_of_tries_says_where_a_look_comes_first() -> None:
    lines = shown()
    at = lines.index("If it cannot be told which it is: what to try first")
    text = " ".join(" ".join(lines[at : at + 9]).split())
    assert "look first: Spin the idlers, 40.00 EUR 10 % 0.50 30.00 80.00" in text
    assert "Expected for these tries: 271.00 EUR. With the likeliest cure first, whatever it costs: 280.00 EUR." in text


def test_a_repair_that_is_tried_twice_says_what_is_different() -> None:
    again = LOOKED.model_copy(update={"look": "", "cures": 0.005})
    lines = shown(CHOICE.model_copy(update={"tries": (LOOKED, TRY, again)}))
    text = " ".join(" ".join(lines[lines.index("If it cannot be told which it is: what to try first") :]).split())
    before, after = text.split("2 Renew the clutch")
    assert "1 Renew the idler" in before
    assert "look first: Spin the idlers" in before
    assert "whatever the look before said: a look can miss it under 1 %" in after
    assert "whatever the look" not in " ".join(shown())


def test_ages_and_what_is_missing_are_said() -> None:
    lines = shown()
    assert any(line.split() == ["Belt", "152", "000", "km", "at", "failure"] for line in lines)
    assert "  Renew the water pump: no price for coolant" in lines
    assert any(line.startswith("Hours: From memory") for line in lines)


def test_no_table_is_wider_than_its_place() -> None:
    prose = ("Amounts", '"', "Expected", "As old", "  Renew the water pump:", "Hours", "How likely", "Money")
    assert all(len(line) <= TABLE for line in shown() if not line.startswith(prose))
    rows = table(("a", "b"), [(["  + " + "word " * 30], ["1.00", "2.00"])])
    assert max(map(len, rows)) == TABLE


def test_large_amounts_are_kept_apart() -> None:
    (line,) = table(("now", "tries", "worn", "in all"), [(["  x"], ["1234567.00"] * 4)])[1:]
    assert line.split() == ["x", *["1234567.00"] * 4]


def test_without_prices_hours_are_shown_and_no_amount() -> None:
    choice = CHOICE.model_copy(update={"currency": "", "visits": (ALONE,), "worn": ()})
    text = "\n".join(shown(choice))
    assert text.startswith(NO_PRICES)
    assert "What to do in this visit" not in text
    assert "1.80" in text
    assert "95.00" not in text
    assert costs_line(shipped(), state(costs=choice, concluded=CONCLUDED, counsel=Counsel(likely=ADVICE))) == []


def test_a_conclusion_that_is_carried_names_the_least_expected_cost() -> None:
    carried = state(costs=CHOICE, concluded=CONCLUDED, counsel=Counsel(likely=ADVICE))
    doubted = replace(carried, counsel=Counsel(likely=(ADVICE[0].model_copy(update={"probability": 0.3}),)))
    assert costs_line(shipped(), doubted) == []
    line = costs_line(shipped(), carried)
    assert line == [
        "Least expected cost: Renew the clutch or decoupler pulley + Renew the belt. 320.00 EUR now; the table: costs"
    ]


def test_after_a_conclusion_only_what_was_recorded_is_shown() -> None:
    concluded = state(concluded=CONCLUDED)
    assert costs_page(shipped(), concluded) == ["No costs were recorded with this conclusion."]
    assert costs_page(shipped(), replace(concluded, costs=CHOICE)) == costs_lines(shipped(), concluded, CHOICE)


def test_before_a_conclusion_the_costs_of_what_was_found_so_far_are_shown() -> None:
    assert costs_page(shipped(), reading_of(shipped(), state(), "costs", 0).state)[0] == NO_PRICES


def typed(state: State, *lines: str) -> object:
    return interpret(Typing(shipped(), state, 5, "Ann"), lines)


def test_a_part_that_was_renewed_before_is_told_in_two_lines() -> None:
    lives = Prices(lives={"belt": Weibull(shape=4.0, scale=2e8)}, kept_m=1e8)
    asked = typed(state(prices=lives), "part age")
    assert isinstance(asked, Ask)
    assert asked.question.splitlines()[1].split() == ["1", "Belt"]
    assert isinstance(typed(state(prices=lives), "part age", "1"), Ask)
    given = typed(state(prices=lives), "part age", "belt", "90 000 km")
    assert given == c.TellRenewal(at_ms=5, who="Ann", part="belt", odometer_m=9e7)


def test_an_age_is_said_back() -> None:
    event = RenewalTold(at_ms=5, who="Ann", clock_ms=5, boot=1, part="belt", odometer_m=9e7)
    assert told(shipped(), [event]) == ["Belt: renewed before, at 90000 km."]


def test_an_age_that_was_told_by_mistake_is_shown_and_taken_back() -> None:
    lives = Prices(lives={"belt": Weibull(shape=4.0, scale=2e8)}, kept_m=1e8)
    renewed = replace(state(prices=lives), renewed_at_m={"belt": 9e7})
    asked, age = typed(renewed, "part age"), typed(renewed, "part age", "1")
    assert isinstance(asked, Ask)
    assert isinstance(age, Ask)
    assert "1  Belt: renewed before, at 90000 km" in asked.question
    assert '"never"' in age.question
    never = typed(renewed, "part age", "1", "never")
    assert never == c.TellRenewal(at_ms=5, who="Ann", part="belt", odometer_m=None)
    event = RenewalTold(at_ms=5, who="Ann", clock_ms=5, boot=1, part="belt", odometer_m=None)
    assert told(shipped(), [event]) == ["Belt: not renewed before, after all."]
    with pytest.raises(QuantityRefused):
        typed(state(prices=lives), "part age", "1", "never")


def test_an_age_is_not_asked_where_no_life_is_known() -> None:
    knowledge = shipped().model_copy(update={"circumstances": {}})
    with pytest.raises(CommandRefused, match="how long it lasts"):
        interpret(Typing(knowledge, state(), 5, "Ann"), ("part age",))
