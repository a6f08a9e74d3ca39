"""The least that is confirmed before somebody is let near the drive is held in the program, whatever a folder says."""

from collections.abc import Callable
from typing import Any

import pytest

from triage.app.job import start
from triage.app.opening import Opening
from triage.errors import TriageError
from triage.knowledge.loading import load_knowledge
from triage.knowledge.models import Figure, Knowledge
from triage.knowledge.safety_floor import shortfalls
from triage.knowledge.shipped import trees_folder

Change = Callable[[Knowledge], Knowledge]


@pytest.fixture(scope="module")
def shipped() -> Knowledge:
    return load_knowledge(trees_folder())


def of_state(state: str, **changed: Any) -> Change:
    def change(knowledge: Knowledge) -> Knowledge:
        states = {**knowledge.states, state: knowledge.states[state].model_copy(update=changed)}
        return knowledge.model_copy(update={"states": states})

    return change


def of_every_thing(**changed: Any) -> Change:
    def change(knowledge: Knowledge) -> Knowledge:
        things = {one: thing.model_copy(update=changed) for one, thing in knowledge.confirmations.items()}
        return knowledge.model_copy(update={"confirmations": things})

    return change


def of_thing(thing: str, **changed: Any) -> Change:
    def change(knowledge: Knowledge) -> Knowledge:
        changed_one = knowledge.confirmations[thing].model_copy(update=changed)
        return knowledge.model_copy(update={"confirmations": {**knowledge.confirmations, thing: changed_one}})

    return change


def without(state: str, hazard: str) -> Change:
    """A state that asks nothing against one hazard."""

    def change(knowledge: Knowledge) -> Knowledge:
        lines = knowledge.states[state].confirmations
        left = [one for one in lines if hazard not in knowledge.confirmations[one].hazards]
        return of_state(state, confirmations=tuple(left))(knowledge)

    return change


def of_checks(**changed: Any) -> Change:
    def change(knowledge: Knowledge) -> Knowledge:
        running = ("running", "running-belt-off")
        checks = {
            one: check.model_copy(update=changed) if check.state in running else check
            for one, check in knowledge.checks.items()
        }
        return knowledge.model_copy(update={"checks": checks})

    return change


def of_every_check(**changed: Any) -> Change:
    def change(knowledge: Knowledge) -> Knowledge:
        checks = {one: check.model_copy(update=changed) for one, check in knowledge.checks.items()}
        return knowledge.model_copy(update={"checks": checks})

    return change


def lasting(text: str) -> Figure:
    return Figure(text=text, source="from-memory")


WEAKENED: dict[str, tuple[Change, str]] = {
    "everything asked of an impossible vehicle": (of_every_thing(after={"belt": "painted"}), "unconditionally"),
    "everything arrives in order": (of_every_thing(arrives_so=True), "unconditionally"),
    "nobody named at the key": (of_every_thing(proof=""), "names nobody"),
    "nothing proved dead": (of_every_thing(proof=""), "is not proved dead"),
    "lines that nothing ends": (of_every_thing(group=None), "belongs to no group"),
    "a line of everything": (of_thing("people", things=dict.fromkeys("abcd", "drawn-in")), "more than 3 things"),
    "the start is not tried": (
        of_state("stopped", confirmations=("cannot-roll", "still", "key-kept")),
        "without the start having been tried",
    ),
    "nobody asks after an hour": (of_state("isolated", confirmations=("cannot-roll",)), "after a long while"),
    "one line for everything": (of_thing("started-again", instead_of=("still", "at-the-key")), "said by itself"),
    "one line that says too little": (of_thing("started-again", things={}), "does not say all that they say"),
    "nobody calls back": (of_thing("started-again", proof=""), "no word is called back"),
    "a word for a brake": (of_thing("cannot-roll", proof="word"), "does not belong to it"),
    "the brake is asked of nobody": (of_thing("cannot-roll", arrives_so=True), "is asked of everybody"),
    "everything is a look from outside": (of_every_check(untouched=True), "is none"),
    "everything from the seat": (of_checks(from_seat=True), "somebody who is alone"),
    "a run of a day": (of_state("running", longest=lasting("24 h")), "no limit of 15 min"),
    "a run of any length": (of_state("running", longest=None), "no limit of 15 min"),
    "a run without a limit": (of_state("running-belt-off", run_limit=None), "no limit of 30 s"),
    "a run of hours": (of_state("running-belt-off", run_limit=lasting("9000 h")), "no limit of 30 s"),
    "runs without end": (of_state("running-belt-off", runs=1_000_000_000), "does not limit its runs"),
    "runs not counted": (of_state("running-belt-off", runs=None), "does not limit its runs"),
    "a hot engine": (of_state("running-belt-off", cold_after=lasting("0 s")), "cold engine"),
    "no word of a hot engine": (of_state("running-belt-off", cold_after=None), "cold engine"),
    "hands in with the engine running": (of_state("running", near="hands-in"), "lets hands in"),
    "nothing is confirmed": (of_state("stopped", confirmations=()), "asks for nothing against drawn-in"),
    "running checks on a standing engine": (of_checks(state="stopped"), "not declared so"),
    "running checks anywhere": (of_checks(state="anywhere", way="ask"), "not declared so"),
    "set-ups in a running engine": (
        lambda knowledge: knowledge.model_copy(
            update={
                "checks": {
                    one: check.model_copy(update={"set_up": check.set_up.model_copy(update={"state": "running"})})
                    if check.set_up
                    else check
                    for one, check in knowledge.checks.items()
                }
            }
        ),
        "not in a state that lets hands in",
    ),
    "the belt is not asked after": (of_thing("belt-on", group="people"), "whether the belt is fitted"),
    "the battery is not asked after": (
        of_state("running", confirmations=("cannot-roll",)),
        "whether the battery is connected",
    ),
    **{
        f"no word of {hazard} in {state}": (without(state, hazard), hazard)
        for state, hazards in {
            "stopped": ("rolling-away", "vehicle-falling", "drawn-in", "unexpected-start", "thrown-parts", "burns"),
            "isolated": ("battery-short", "fire"),
            "running": ("carbon-monoxide", "drawn-in", "unexpected-start", "rolling-away"),
            "running-belt-off": ("overheating",),
        }.items()
        for hazard in hazards
    },
}


def test_the_shipped_knowledge_keeps_the_floor(shipped: Knowledge) -> None:
    assert shortfalls(shipped) == ()


@pytest.mark.parametrize("change", WEAKENED.values(), ids=WEAKENED)
def test_a_weakened_folder_is_named_and_begins_no_session(shipped: Knowledge, change: tuple[Change, str]) -> None:
    weaken, said = change
    weakened = weaken(shipped)
    assert any(said in sentence for sentence in shortfalls(weakened)), shortfalls(weakened)
    with pytest.raises(TriageError, match="No session can begin"):
        start(weakened, Opening("shutdown-buzz", "J-1", "Ann"), {}, "", lambda: 0, None)


def test_a_stricter_folder_is_welcome(shipped: Knowledge) -> None:
    stricter = of_state("running-belt-off", run_limit=lasting("20 s"), runs=1, cold_after=lasting("3 h"))(shipped)
    assert shortfalls(of_state("running", longest=lasting("5 min"))(stricter)) == ()
