"""The one line that everything is typed into."""

from dataclasses import dataclass
from typing import Self

from textual import events
from textual.geometry import Region
from textual.message import Message
from textual.widgets import Input

from triage.present.cleaning import clean
from triage.session.lengths import LONGEST_TEXT
from triage.tui.one_key import OneKey, now_s, pressed_in

LONGEST_LINE = LONGEST_TEXT
"""A longer one is refused as it is pasted: nothing that is typed may be refused after other questions."""
DIGITS = frozenset("123456789")


class AnswerLine(Input, inherit_bindings=False):
    """An input that handles every key in the order of typing.

    Keys that are bound to actions overtake characters that are still waiting: of a burst such as "12", backspace, "3",
    Enter the wrong number would come. So this line has no bindings and does its editing where characters arrive.

    On an empty line a digit can answer by itself, where the screen has offered that.
    """

    @dataclass
    class Given(Message):
        """A line was ended with Enter, or a digit answered by itself.

        Args:
            text: the line.
            read: whether what is on the screen had stood there for a moment when the line was ended.
            at_s: when the line was ended [s].
        """

        text: str
        read: bool
        at_s: float

    @dataclass
    class Refused(Message):
        """Something was pasted that is no line of text; nothing was taken."""

        why: str

    def __init__(self) -> None:
        """Make an empty line."""
        super().__init__(max_length=LONGEST_LINE, select_on_focus=False, compact=True)
        self._one_key = OneKey()
        self._highest = 0
        self._editing = {
            "backspace": self.action_delete_left,
            "ctrl+h": self.action_delete_left,
            "delete": self.action_delete_right,
            "left": self.action_cursor_left,
            "right": self.action_cursor_right,
            "home": self.action_home,
            "end": self.action_end,
            "ctrl+a": self.action_home,
            "ctrl+e": self.action_end,
            "ctrl+w": self.action_delete_left_word,
            "ctrl+u": self.action_delete_left_all,
            "ctrl+k": self.action_delete_right_all,
        }

    def refresh(self, *regions: Region, repaint: bool = True, layout: bool = False, recompose: bool = False) -> Self:
        """Paint anew; the line takes one row and the width that is left, so whatever stands in it moves nothing."""
        del layout
        return super().refresh(*regions, repaint=repaint, recompose=recompose)

    def on_mount(self) -> None:
        """Offer answers anew when the program comes back from the shell: until then nobody sees them."""
        self.app.app_resume_signal.subscribe(self, lambda _: self.offer(self._highest))

    def offer(self, highest: int) -> None:
        """Let the digits from 1 to `highest` answer by themselves once the screen has been painted."""
        self._highest = highest
        self._one_key.forget()
        self.call_after_refresh(lambda: self._one_key.offer(highest, now_s()))

    def keep_offer(self) -> None:
        """Go on offering what stood there before the last line: it changed nothing."""
        self._one_key.restore()

    def _answers(self, event: events.Key) -> bool:
        pressed = pressed_in(self.app)
        if event.key not in DIGITS or not self._one_key.takes(event.key, event.time, pressed) or self.value:
            return False
        pressed.answered_s = event.time
        return True

    def _end_line(self, text: str, at_s: float) -> None:
        read = self._one_key.was_read(at_s)
        self._one_key.withdraw()
        self.clear()
        self.post_message(self.Given(text, read, at_s))

    async def _on_key(self, event: events.Key) -> None:
        answers = self._answers(event)
        if event.key == "enter" and (self.value or not pressed_in(self.app).ends_answered(event.time)):
            self._end_line(self.value, event.time)
        elif answers:
            self._end_line(event.key, event.time)
        elif event.key in self._editing:
            self._editing[event.key]()
        elif event.is_printable and event.character and clean(event.character) == event.character:
            self.insert_text_at_cursor(event.character)
        elif not event.is_printable:
            return
        event.stop()
        event.prevent_default()

    def _on_paste(self, event: events.Paste) -> None:
        text = event.text.rstrip("\r\n").replace("\t", " ")
        event.stop()
        event.prevent_default()
        if "\n" in text or clean(text) != text:
            self.post_message(self.Refused("More than one line, or signs that cannot be shown, were pasted."))
        elif len(self.value) + len(text) > LONGEST_LINE:
            self.post_message(self.Refused(f"A line has at most {LONGEST_LINE} characters."))
        else:
            self.insert_text_at_cursor(text)
