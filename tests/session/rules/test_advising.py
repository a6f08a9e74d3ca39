"""What the reasoning said is recorded behind a conclusion, and counts no longer than that."""

from typing import Any

from triage.session import commands as c
from triage.session import events as e

LIKELY = (
    e.LikelyCause(cause="belt-torn", probability=0.9, before=0.1, reasons=(e.Reason(check="belt-look", factor=9.0),)),
)


def test_advice_stands_behind_a_conclusion_until_the_next_one(buzz: Any) -> None:
    assert "no conclusion" in buzz.refuses(c.Advise, likely=LIKELY)
    buzz.answer("heard", "yes-heard").answer("belt-look", "torn")
    stranger = LIKELY[0].model_copy(update={"cause": "gremlin"})
    assert "not known" in buzz.refuses(c.Advise, likely=(stranger,))
    buzz.play(c.Advise, likely=LIKELY)
    assert buzz.state.advice == LIKELY
    assert buzz.asks == "conclusion"
    assert buzz.replayed() == buzz.state
    buzz.play(c.Correct, check="belt-look", outcomes=("sound",)).answer("leak-look", "dry").answer("listen", "quiet")
    assert buzz.state.advice == ()
