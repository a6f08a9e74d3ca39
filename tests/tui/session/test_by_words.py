"""A whole session in words, through both faces, but for what only a person confirms."""

from itertools import count
from typing import Any

from tests.by_words import said_for
from triage.app.job import Job
from triage.app.opening import Opening
from triage.chat.lines import InputEndedError
from triage.chat.talk import Talk
from triage.knowledge.models import Knowledge
from triage.present.typing.proposing import UNDERSTANDS
from triage.record.events import CheckAnswered
from triage.tui.session.session_screen import SessionScreen

WORDS_REFUSED = ("yes all of it is so, I confirm", "start it up", "renewed, tightened to 85 Nm", "sign it off for me")


class Said:
    """Somebody in the chat who says at each step what a script of the words says."""

    ahead = False

    def __init__(self, job: Job) -> None:
        self._job = job
        self._lines: list[str] = []
        self._asked = count()
        self.refused: set[str] = set()

    def read(self, _prompt: str, waiting: Any) -> str | None:
        if waiting():
            return None
        state = self._job.state
        if state.closed or next(self._asked) > 1000:
            raise InputEndedError
        if not self._lines:
            self._lines = list(said_for(self._job.knowledge, state, self._job.clock()))
            if state.step.kind not in (*UNDERSTANDS, "torque") and state.step.kind not in self.refused:
                self.refused.add(state.step.kind)
                self._lines[:0] = WORDS_REFUSED
        return self._lines.pop(0)

    def say(self, text: str) -> None:
        pass


async def test_a_session_in_words_is_the_same_in_both_faces(bench: Any, knowledge: Knowledge, compare: Any) -> None:
    in_chat = bench.begin(knowledge, Opening(symptom="shutdown-buzz", job="J-1", who="Ada"))
    talker = Said(in_chat)
    Talk(in_chat, talker, lambda: 0.0).run()
    assert in_chat.state.closed == "signed-off"
    assert talker.refused >= {"gate", "fact", "confirm", "conclusion", "part", "prove"}
    on_screen = bench.begin(knowledge, Opening(symptom="shutdown-buzz", job="J-1", who="Ada"))
    async with bench.app().run_test(size=(100, 40)) as pilot:
        await bench.started(pilot)
        pilot.app.push_screen(SessionScreen(on_screen))
        await bench.settle(pilot)
        refused: set[str] = set()
        for _ in range(400):
            state = on_screen.state
            if state.closed:
                break
            await pilot.press("pagedown", "pagedown")
            await bench.settle(pilot)
            if state.step.kind not in (*UNDERSTANDS, "torque") and state.step.kind not in refused:
                refused.add(state.step.kind)
                for line in WORDS_REFUSED:
                    await bench.type(pilot, line)
                assert on_screen.state == state, bench.painted(pilot.app)
            for line in said_for(knowledge, state, on_screen.clock()):
                await bench.type(pilot, line)
            assert on_screen.state.events > state.events, bench.painted(pilot.app)
        assert on_screen.state.closed == "signed-off"
    unsigned = [[{**event, "head": ""} for event in compare(job.events)] for job in (on_screen, in_chat)]
    assert unsigned[0] == unsigned[1]
    answered = [event.check for event in in_chat.events if isinstance(event, CheckAnswered)]
    assert len(answered) > len(set(answered)) > 20
