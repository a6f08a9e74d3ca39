"""What the reasoning said, recorded."""

from typing import Any

from triage.record.counsel import LikelyCause, Reason, UnlikelyCause
from triage.session import commands as c

LIKELY = (LikelyCause(cause="no-such-cause", probability=0.8, before=0.1, reasons=(Reason(check="", factor=4.0),)),)


def test_advice_before_a_conclusion_is_recorded_and_holds_until_something_happens(buzz: Any) -> None:
    step = buzz.step
    buzz.play(c.Advise, likely=(), pays=False, asked="worth")
    assert [event.kind for event in buzz.last] == ["advice-given"]
    assert (buzz.state.counsel.asked, buzz.state.fresh, buzz.state.counsel.pays) == ("worth", True, False)
    assert buzz.step == step
    buzz.play(c.Note, text="a remark changes nothing")
    assert buzz.state.fresh
    buzz.answer("heard", "yes-heard")
    assert not buzz.state.fresh
    assert buzz.state.counsel is not None


def test_advice_ends_with_the_search(buzz: Any) -> None:
    buzz.answer("heard", "yes-heard").answer("belt-look", "sound").answer("leak-look", "dry").answer("listen", "buzz")
    buzz.read("overrun-torque", "2.5 N·m").play(c.BeginRemedy)
    assert "search is over" in buzz.refuses(c.Advise, likely=())


def test_advice_is_recorded_beside_the_conclusion_and_goes_with_it(buzz: Any) -> None:
    buzz.answer("heard", "yes-heard").answer("belt-look", "torn")
    while not buzz.state.concluded:
        buzz.play(c.CannotDo, check=buzz.step.check, reason="no time")
    assert "not known" in buzz.refuses(c.Advise, likely=LIKELY)
    against = Reason(check="belt-look", factor=0.01)
    strange = (UnlikelyCause(cause="no-such-cause", probability=0.001, before=0.1, against=against),)
    assert "not known" in buzz.refuses(c.Advise, likely=(), unlikely=strange)
    known = (LIKELY[0].model_copy(update={"cause": next(iter(buzz.knowledge.causes))}),)
    step = buzz.step
    unlikely = (strange[0].model_copy(update={"cause": list(buzz.knowledge.causes)[1]}),)
    buzz.play(c.Advise, likely=known, unlikely=unlikely)
    assert [event.kind for event in buzz.last] == ["advice-given"]
    assert (buzz.state.likely, buzz.state.counsel.unlikely) == (known, unlikely)
    assert buzz.last[0].causes == (known[0].cause, unlikely[0].cause)
    assert "belt-look" in buzz.last[0].check
    assert buzz.step == step
