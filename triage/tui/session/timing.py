"""Stopwatch and tap-along: keys are timed when they arrive, however busy the screen is."""

from textual import events
from textual.app import ComposeResult
from textual.containers import Vertical
from textual.content import Content
from textual.screen import ModalScreen
from textual.widgets import Static

from triage.present.cleaning import clean
from triage.tui.session.tapping import RULE, Tapped, as_typed, judge

REFRESH_S = 0.1


class Timing(ModalScreen[str | None]):
    """A panel over the session that gives a reading as it would be typed, or None."""

    TITLE_WORDS = ""

    def __init__(self) -> None:
        """Open without a run that is timed."""
        super().__init__()
        self._left = ""

    def compose(self) -> ComposeResult:
        """Lay one text out."""
        with Vertical(id="timing") as panel:
            panel.border_title = Content(clean(f" {self.TITLE_WORDS} "))
            yield Static(id="timing-text", markup=False)

    def on_mount(self) -> None:
        """Show what to do."""
        self.show()

    def show(self) -> None:
        """Show how things stand."""
        lines = [*self.lines(), *([self._left] if self._left else [])]
        for text in self.query("#timing-text").results(Static):  # none where the panel is closed at once
            text.update(Content(clean("\n".join(lines))))

    def count_down(self, left: str) -> None:
        """Show what is left of a timed run under the panel; empty where none runs."""
        if left != self._left:
            self._left = left
            if self.is_mounted:
                self.show()

    def lines(self) -> list[str]:
        """What stands on the panel."""
        raise NotImplementedError

    def on_key(self, event: events.Key) -> None:
        """Take a press, or leave without a reading."""
        event.stop()
        if event.key == "escape":
            self.dismiss(None)
        elif event.key == "enter":
            self.enter(event.time)
        elif event.key == "space":
            self.press(event.time)
        else:
            self.other(event.key)

    def press(self, at_s: float) -> None:
        """Take a press."""
        raise NotImplementedError

    def enter(self, at_s: float) -> None:
        """Take Enter, which is a press like any other unless said otherwise."""
        self.press(at_s)

    def other(self, key: str) -> None:
        """Take another key."""


class Stopwatch(Timing):
    """One press when it begins, one when it ends."""

    TITLE_WORDS = "STOPWATCH"

    def __init__(self) -> None:
        """Stand at zero."""
        super().__init__()
        self._began_s: float | None = None
        self._now_s = 0.0

    def lines(self) -> list[str]:
        """The time so far and what to do."""
        if self._began_s is None:
            return ["0.0 s", "", "Enter or space when it begins.", "Esc goes back without a reading."]
        return [f"{self._now_s - self._began_s:.1f} s", "", "RUNNING. Enter or space when it ends.", "Esc drops it."]

    def press(self, at_s: float) -> None:
        """Begin, or end with a reading."""
        if self._began_s is not None:
            self.dismiss(f"{at_s - self._began_s:.1f} s")
            return
        self._began_s = self._now_s = at_s
        self.set_interval(REFRESH_S, self._go_on)
        self.show()

    def _go_on(self) -> None:
        self._now_s += REFRESH_S
        self.show()


class TapAlong(Timing):
    """One press for each lap of the belt's mark, or for each chirp."""

    TITLE_WORDS = "TAP ALONG"

    def __init__(self) -> None:
        """Have no taps."""
        super().__init__()
        self._taps_s: tuple[float, ...] = ()

    def lines(self) -> list[str]:
        """Rate, spread, and what to do."""
        tapped = judge(self._taps_s)
        return [
            "Space with every chirp, or each time the belt's mark comes by. From outside the bay.",
            "",
            f"Taps: {len(self._taps_s)}",
            *(_say(tapped) if tapped else ["Rate: not yet", "", ""]),
            "",
            RULE,
            "Enter takes the rate · Backspace starts again · Esc goes back",
        ]

    def enter(self, at_s: float) -> None:  # noqa: ARG002 - it is no tap
        """Take the rate, once it is sure enough."""
        tapped = judge(self._taps_s)
        if tapped and not tapped.needed and not tapped.skipped:
            self.dismiss(as_typed(tapped))

    def press(self, at_s: float) -> None:
        """Take a tap."""
        self._taps_s = (*self._taps_s, at_s)
        self.show()

    def other(self, key: str) -> None:
        """Start again."""
        if key in ("backspace", "ctrl+h"):
            self._taps_s = ()
            self.show()


def _say(tapped: Tapped) -> list[str]:
    if tapped.skipped:
        still = "A tap seems to be left out: Backspace, and start again."
    else:
        still = f"Still needed: {tapped.needed} taps" if tapped.needed else "ENOUGH. Enter takes this rate."
    rate = f"Rate: {tapped.rate_hz:.2f} Hz ± {tapped.uncertainty_hz:.2f} Hz (one standard uncertainty)"
    return [rate, f"Spread of the taps: {tapped.spread_s * 1000:.0f} ms", still]
