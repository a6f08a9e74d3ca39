"""How long a check takes from where the vehicle stands: change-over, the check itself, and what it uses up.

All of it in minutes of the bay. A check that only asks leaves the vehicle as it stands and needs no change-over.
Confirmations are counted with the change-over that they belong to; one that ages and is asked again is not counted.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Protocol

from triage.knowledge.models import Check, Knowledge
from triage.record.weights import Weights
from triage.units import parse_quantity

MINUTE_S = 60.0


class Standing(Protocol):
    """Engine, belt and battery as they stand; a vehicle state is one."""

    @property
    def engine(self) -> str:
        """`stopped` or `running`."""

    @property
    def belt(self) -> str:
        """`fitted` or `removed`."""

    @property
    def battery(self) -> str:
        """`connected` or `isolated`."""


@dataclass(frozen=True)
class Arrived:
    """How a vehicle stands before anything was done to it."""

    engine: str = "stopped"
    belt: str = "fitted"
    battery: str = "connected"


ARRIVED = Arrived()


@dataclass(frozen=True)
class ChangeOver:
    """Minutes for each turn of the vehicle, interlock included, and for each thing that a check uses up [min].

    Source: from-memory, all of them; a shop may give its own.
    """

    engine_start: float = 3.0
    engine_stop: float = 2.0
    belt_off: float = 8.0
    belt_on: float = 8.0
    battery_isolate: float = 5.0
    battery_reconnect: float = 3.0
    engine_cool: float = 30.0
    """Putting the vehicle aside until it is cold, and fetching it again; the wait itself leaves the bay to others."""
    used_up: float = 10.0

    def between(self, before: Standing, after: Standing, *, cold: bool = False) -> float:
        """Minutes from one standing to another [min].

        Belt and battery are only touched with the engine stopped, so a running engine is stopped for them and
        started again.

        Args:
            before: how the vehicle stands.
            after: how it is to stand.
            cold: whether a warm engine has to cool before it is started.
        """
        belt, battery = before.belt != after.belt, before.battery != after.battery
        touched = belt or battery
        spent = 0.0
        if before.engine == "running" and (touched or after.engine == "stopped"):
            spent += self.engine_stop
        if belt:
            spent += self.belt_off if after.belt == "removed" else self.belt_on
        if battery:
            spent += self.battery_isolate if after.battery == "isolated" else self.battery_reconnect
        if after.engine == "running" and (touched or before.engine == "stopped"):
            spent += self.engine_start + (self.engine_cool if cold else 0.0)
        return spent


@dataclass(frozen=True)
class Minutes:
    """What checks take in this shop.

    Args:
        change_over: for turning the vehicle from one state into another.
        checks: the shop's own minutes by check; the others take those of the knowledge [min].
    """

    change_over: ChangeOver = ChangeOver()
    checks: Mapping[str, float] = field(default_factory=dict)

    def of(self, knowledge: Knowledge, check: Check, before: Standing) -> float:
        """Minutes of a check from where the vehicle stands, change-over, setting up and what it uses up included [min].

        What is set up by hand is set up with the drive stopped, so that a running engine stops for it first.
        """
        return self.of_go(knowledge, (check,), before, self.checks.get(check.id, check.minutes))

    def of_go(
        self, knowledge: Knowledge, checks: Sequence[Check], before: Standing, minutes: float | None = None
    ) -> float:
        """Minutes of one go through checks of one vehicle state, everything set up beforehand [min].

        Args:
            knowledge: rounds and vehicle states.
            checks: what is made, at least one.
            before: how the vehicle stands.
            minutes: of the checks themselves; None for those of their round, or for their sum where that is less.
        """
        last = checks[-1]
        state = knowledge.states.get(last.state)
        # An engine that runs without its belt was cold for that; every other one counts as warm: it was driven in.
        ran_so = (before.engine, before.belt) == ("running", "removed")
        cold = state is not None and state.cold_after is not None and not ran_so
        over = 0.0
        for place in dict.fromkeys(check.set_up.state for check in checks if check.set_up):
            hands_in: Standing = knowledge.states[place]
            over, before = over + self.change_over.between(before, hands_in), hands_in
        over += self.change_over.between(before, standing_after(knowledge, last, before), cold=cold)
        spent = self.of_round(knowledge, checks) if minutes is None else minutes
        return over + spent + self.change_over.used_up * sum(len(check.consumes) for check in checks)

    def of_round(self, knowledge: Knowledge, checks: Sequence[Check]) -> float:
        """Minutes of checks that are made in one go: of their round, or their sum where that is less [min]."""
        each = sum(self.checks.get(check.id, check.minutes) for check in checks)
        wanted = {check.id for check in checks}
        goes = (one for one in knowledge.rounds.values() if wanted <= set(one.checks))
        return min([each, *(parse_quantity(one.minutes.text, "time").value / MINUTE_S for one in goes)])


def minutes_of(weights: Weights) -> Minutes:
    """What checks and turns of the vehicle take by a shop's figures."""
    return Minutes(ChangeOver(**weights.change_over_min), weights.checks_min)


def standing_after(knowledge: Knowledge, check: Check, before: Standing) -> Standing:
    """How the vehicle stands when a check was made: in the state that it needs; as before where it only asks."""
    return knowledge.states.get(check.state, before)
