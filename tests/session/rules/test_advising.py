"""What the reasoning said, recorded."""

from typing import Any

from triage.session import commands as c
from triage.session import events as e

LIKELY = (e.LikelyCause(cause="no-such-cause", probability=0.8, before=0.1, reasons=(e.Reason(check="", factor=4.0),)),)


def test_advice_waits_for_a_conclusion(buzz: Any) -> None:
    assert "no conclusion" in buzz.refuses(c.Advise, likely=())


def test_advice_is_recorded_beside_the_conclusion_and_goes_with_it(buzz: Any) -> None:
    buzz.answer("heard", "yes-heard").answer("belt-look", "torn")
    while not buzz.state.concluded:
        buzz.play(c.CannotDo, check=buzz.step.check, reason="no time")
    assert "not known" in buzz.refuses(c.Advise, likely=LIKELY)
    known = (LIKELY[0].model_copy(update={"cause": next(iter(buzz.knowledge.causes))}),)
    step = buzz.step
    buzz.play(c.Advise, likely=known)
    assert [event.kind for event in buzz.last] == ["advice-given"]
    assert buzz.state.advice == known
    assert buzz.step == step
