"""What entering a vehicle state does by itself: the engine runs, belt and leads are moved, hands go in."""

from triage.knowledge.models import Ending, Knowledge, VehicleState
from triage.record import events as e
from triage.record.steps import Step
from triage.session import commands as c
from triage.session import interlocks
from triage.session.evolving import fold
from triage.session.state import State
from triage.session.stepping import looks_made

AT_THE_VEHICLE = ("check", "round", "set-up", "run-ready", "part", "torque")
"""Steps for which somebody stands at the vehicle, in the state that the step names."""


def entering(knowledge: Knowledge, state: State, command: c.Command, step: Step) -> tuple[e.Event, ...]:
    """Enter the vehicle state of the step to be shown, and end what that ends; nothing where it was entered before."""
    target = knowledge.states.get(step.state)
    if target is None or step.kind not in AT_THE_VEHICLE:
        return ()
    happened: tuple[e.Event, ...] = ()
    # The engine of a timed run stays stopped until the run is started.
    engine = "stopped" if target.run_limit else target.engine
    if state.inside != target.id or state.condition.engine != engine:
        entered = e.StateEntered(
            **command.stamp, state=target.id, engine=engine, belt=target.belt, battery=target.battery
        )
        happened = (entered,)
    endings = (*_turned(state, target, engine), *_hands_in(knowledge, step, target))
    after = fold(happened, state)
    ended = interlocks.ended(knowledge, after, command, *endings) if endings else ()
    return (*happened, *ended)


def _turned(state: State, target: VehicleState, engine: str) -> tuple[Ending, ...]:
    """What changes with engine, belt and battery."""
    before = state.condition
    moved: tuple[Ending, ...] = ()
    if engine == "running" and before.engine != "running":
        moved += ("engine-ran", "ignition-on")
    if target.belt != before.belt:
        moved += ("belt-moved",) if target.belt == "removed" else ("hands-in",)
    if target.battery != before.battery:
        moved += ("lead-off",) if target.battery == "isolated" else ("lead-on",)
    return moved


def _hands_in(knowledge: Knowledge, step: Step, target: VehicleState) -> tuple[Ending, ...]:
    check = knowledge.checks.get(step.check)
    untouched = step.kind in ("check", "round") and check is not None and check.untouched
    return ("hands-in",) if target.near == "hands-in" and not untouched else ()


def looks_ended(knowledge: Knowledge, state: State, command: c.Command) -> tuple[e.Event, ...]:
    """The looks that let an engine run and were made before: they come again before the next start."""
    made = tuple(check for check in looks_made(knowledge, state) if check not in state.look_again)
    return (e.LooksEnded(**command.stamp, checks=made),) if made else ()
