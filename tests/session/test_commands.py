"""Commands and events: what both say is one payload, and nothing is lost between them."""

import re
from pathlib import Path
from typing import Any

import pytest
from pydantic import ValidationError

from triage.documents import Model
from triage.record import events as e
from triage.record.event import Stamped
from triage.record.readings import TypedPart
from triage.session import commands as c
from triage.session import rules

STAMP: dict[str, Any] = {"at_ms": 1, "who": "Ana"}
RULES = "".join(path.read_text(encoding="utf-8") for path in sorted(Path(str(rules.__file__)).parent.glob("*.py")))
PAIRS = [
    (getattr(c, command), getattr(e, event))
    for command, body in re.findall(r"command: c\.(\w+)\)(.*?)(?=\ndef |\Z)", RULES, re.DOTALL)
    for event in re.findall(r"as_event\(e\.(\w+)", body)
]


@pytest.mark.parametrize(("command", "event"), PAIRS)
def test_an_event_takes_all_that_its_command_says(command: type[c.Command], event: type[Stamped]) -> None:
    of_command = set(command.model_fields) - set(c.Command.model_fields)
    assert of_command <= set(event.model_fields) - set(Stamped.model_fields)
    assert not of_command or set(command.__bases__) & set(event.__bases__) - {Model}


def test_half_of_the_commands_say_what_their_event_says() -> None:
    assert len({command for command, _ in PAIRS}) >= 16
    advice = c.Advise(**STAMP, likely=(), unlisted=0.5, asked="worth")
    given = advice.as_event(e.AdviceGiven)
    assert (given.unlisted, given.asked, given.at_ms, given.clock_ms) == (0.5, "worth", 1, 1)


@pytest.mark.parametrize("endless", [float("nan"), float("inf"), float("-inf")])
def test_no_figure_without_an_end_can_be_given(endless: float) -> None:
    for make in (
        lambda: TypedPart(part="torque", value=endless, spread=0.0, text=""),
        lambda: TypedPart(part="torque", value=1.0, spread=endless, text=""),
        lambda: c.TellFact(**STAMP, fact="odometer", value=endless),
        lambda: c.CorrectFact(**STAMP, fact="odometer", value=endless),
        lambda: c.EnterMakerFigure(**STAMP, figure="a", value=endless, text="", reference="b"),
        lambda: c.RecordTorque(**STAMP, torque="a", value_nm=endless, text="", wrench="b", reference="c"),
        lambda: c.CompareRate(**STAMP, text="a", rate_hz=endless, uncertainty_hz=0.1),
        lambda: c.CompareRate(**STAMP, text="a", rate_hz=1.0, uncertainty_hz=0.1, crank_rpm=endless),
        lambda: c.TellRenewal(**STAMP, part="belt", odometer_m=endless),
    ):
        with pytest.raises(ValidationError):
            make()


def test_a_script_has_one_clock_for_both() -> None:
    assert c.Tick(**STAMP).clock_ms == 1
    assert c.Tick(**STAMP, clock_ms=7).stamp == {"at_ms": 1, "who": "Ana", "clock_ms": 7, "boot": 1}
