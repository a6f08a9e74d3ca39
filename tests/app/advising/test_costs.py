"""Costs in a session: recorded with its conclusion, read again without a figure being worked out."""

import subprocess
import sys
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from triage.app.advising.costs import costs_now
from triage.app.job import Job, start
from triage.app.opening import Opening
from triage.app.respondent import DEAD
from triage.app.shop.shop_file import Shop, accuracies, read_shop
from triage.app.sound import knowledge_of
from triage.errors import CommandRefused, TraceDamaged
from triage.knowledge.loading import load_knowledge
from triage.knowledge.models import Knowledge
from triage.knowledge.shipped import trees_folder
from triage.record.events import AdviceGiven, ConclusionReached, CostsWeighed, RenewalTold
from triage.record.prices import Prices
from triage.session import commands as c
from triage.session.evolving import fold

if TYPE_CHECKING:
    from triage.app.respondent import Given

EXAMPLE = Path(__file__).parents[3] / "docs" / "shop-example.yaml"


@cache
def shipped() -> Knowledge:
    return load_knowledge(trees_folder())


class Clock:
    def __init__(self) -> None:
        self.now_ms = 0

    def __call__(self) -> int:
        self.now_ms += 1000
        return self.now_ms


def walked(prices: Prices) -> Job:
    """A session that is led to a seized pulley with the engine stopped, because nobody may stand at the key."""
    job = start(
        shipped(), Opening("shutdown-buzz", "one", "Ann"), accuracies(shipped(), Shop()), "", Clock(), None, prices
    )
    facts: dict[str, str | float] = {"pulley": "decoupler", "odometer": 1.6e8, "cylinders": 4.0}
    for _ in range(200):
        step = job.state.step
        at: Given = {"at_ms": job.clock(), "who": "Ann"}
        if step.kind == "gate":
            job.do(c.AnswerGate(answer="none", **at))
        elif step.kind == "fact":
            job.do(c.TellFact(fact=step.fact, value=facts[step.fact], **at))
        elif step.kind == "confirm":
            line = next(one for one in step.lines if one not in job.state.standing)
            job.do(c.Confirm(confirmation=line, name="Ann", volts=DEAD, **at))
        elif step.check == "belt-condition":
            job.do(c.Answer(check=step.check, outcomes=("damaged",), **at))
        elif step.kind in ("check", "round"):
            check = job.knowledge.checks[step.check]
            job.do(c.Answer(check=step.check, outcomes=(check.normal("decoupler"),), **at))
        else:
            return job
    raise AssertionError(job.state.step)


@cache
def priced() -> Job:
    return walked(read_shop(EXAMPLE, shipped()).repair.in_use())


def test_a_conclusion_is_followed_by_its_advice_and_then_by_its_costs() -> None:
    kinds = [type(event) for event in priced().events]
    at = kinds.index(ConclusionReached)
    assert kinds[at:].index(AdviceGiven) < kinds[at:].index(CostsWeighed)
    assert kinds.count(CostsWeighed) == 1
    costs = priced().state.costs
    assert costs is not None
    assert costs.currency == "EUR"
    assert costs.tries[0].remedy == "renew-damaged-belt"


def test_what_is_recorded_is_rounded() -> None:
    costs = priced().state.costs
    assert costs is not None
    amounts = [figure for one in costs.visits for figure in (one.now, one.further, one.ahead, one.total, one.hours)]
    assert amounts
    assert amounts == [round(figure, 2) for figure in amounts]


def test_a_replay_reads_the_costs_and_works_nothing_out(monkeypatch: pytest.MonkeyPatch) -> None:
    costs = priced().state.costs
    monkeypatch.delattr("triage.reasoning.repair.choice.repair_choice")
    monkeypatch.delattr("triage.reasoning.repair.suspects.Suspects")
    assert fold(priced().events).costs == costs


def test_the_prices_travel_in_the_trace() -> None:
    state = fold(priced().events)
    assert state.prices == read_shop(EXAMPLE, shipped()).repair.in_use()
    assert costs_now(shipped(), state) == state.costs


def test_a_part_that_is_younger_is_weighed_again_as_such() -> None:
    job = walked(read_shop(EXAMPLE, shipped()).repair.in_use())
    before = job.state.costs
    happened = job.do(c.TellRenewal(part="tensioner", odometer_m=1.5e8, at_ms=job.clock(), who="Ann"))
    assert [type(event) for event in happened] == [RenewalTold, AdviceGiven, CostsWeighed]
    after = job.state.costs
    assert before is not None
    assert after is not None
    driven = [{one.part: one.driven_m for one in costs.worn}["tensioner"] for costs in (before, after)]
    assert driven == [1.6e8, 1e7]
    assert "renew-tensioner" in before.visits[0].remedies
    assert "renew-tensioner" not in after.visits[0].remedies


@pytest.mark.parametrize(("part", "odometer_m"), [("engine-mount", 1e8), ("tensioner", 2e8), ("tensioner", -1.0)])
def test_an_age_that_cannot_be_is_refused(part: str, odometer_m: float) -> None:
    job = walked(Prices())
    events = job.events
    with pytest.raises(CommandRefused):
        job.do(c.TellRenewal(part=part, odometer_m=odometer_m, at_ms=job.clock(), who="Ann"))
    assert job.events == events


def test_costs_that_name_what_the_knowledge_lacks_are_a_damaged_trace() -> None:
    started, *_ = priced().events
    (weighed,) = (event for event in priced().events if isinstance(event, CostsWeighed))
    assert knowledge_of((started, weighed), Path("sound.jsonl")) == shipped()
    for field, named in (("remedy", "paint-it"), ("look", "smell-it")):
        tried = weighed.choice.tries[0].model_copy(update={field: named})
        choice = weighed.choice.model_copy(update={"tries": (tried,)})
        with pytest.raises(TraceDamaged, match=named):
            knowledge_of((started, weighed.model_copy(update={"choice": choice})), Path("edited.jsonl"))


def test_no_costs_are_recorded_without_a_conclusion() -> None:
    job = start(shipped(), Opening("shutdown-buzz", "one", "Ann"), {}, "", Clock(), None)
    with pytest.raises(CommandRefused):
        job.do(c.AdviseRepair(choice=costs_now(shipped(), job.state), at_ms=job.clock(), who="reasoning"))


def test_costs_need_no_numbers_in_rows_and_never_scipy() -> None:
    script = (
        "import sys, triage.reasoning.repair.choice, triage.app.shop.price_list, triage.app.advising.costs;"
        "print([name for name in ('numpy', 'scipy') if name in sys.modules])"
    )
    shown = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, check=True)
    assert shown.stdout == "[]\n"
