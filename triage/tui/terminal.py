"""What the toolkit leaves open about terminals."""

import codecs
import os
import signal

ESCAPE = "\x1b"
PASTE, PASTED = "\x1b[200~", "\x1b[201~"
"""What a terminal sends around a pasted text."""
NO_SIGN = "\ufffd"


class Reader:
    """Makes text for the toolkit's parser of what is read from a terminal."""

    def __init__(self) -> None:
        """Have read nothing."""
        self._decoder = codecs.getincrementaldecoder("utf-8")(errors="replace")
        self._pasting = False
        self._before = ""

    def decode(self, read: bytes, *, final: bool = False) -> str:
        """Make text of some bytes; one that is no UTF-8 becomes a replacement sign, and no bytes mean no terminal."""
        if not read:
            os.kill(os.getpid(), signal.SIGHUP)
        text, told = self._decoder.decode(read, final), ""
        while text:
            taken, text = self._of_paste(text) if self._pasting else self._of_keys(text)
            told += taken
        return told

    def _of_keys(self, text: str) -> tuple[str, str]:
        """Everything up to a paste, which may have begun at the end of what was read before."""
        known, text = len(self._before), self._before + text
        keys, paste, rest = text.partition(PASTE)
        self._pasting = bool(paste)
        self._before = "" if paste else keys[1 - len(PASTE) :]
        return (keys + paste)[known:], rest

    def _of_paste(self, text: str) -> tuple[str, str]:
        """A paste up to its end, without escapes: the toolkit would press what follows them as keys, Enter too."""
        pasted, end, rest = (self._before + text).partition(PASTED)
        begun = 0 if end else next((n for n in range(len(PASTED) - 1, 0, -1) if pasted.endswith(PASTED[:n])), 0)
        pasted, self._before = pasted[: len(pasted) - begun], pasted[len(pasted) - begun :]
        self._pasting = not end
        return pasted.replace(ESCAPE, NO_SIGN) + end, rest


def prepare() -> None:
    """Take any bytes, and end with the terminal.

    The toolkit's reader would die of bytes that are no UTF-8, and read on for ever, at full speed, from a terminal that
    is gone. What was acknowledged is on disk, so ending at once loses nothing.
    """
    if os.name == "nt":
        return
    from textual.drivers import linux_driver

    # A shell may have told its programs to outlive it; this one would stay behind with nobody to see or stop it.
    signal.signal(signal.SIGHUP, signal.SIG_DFL)
    linux_driver.getincrementaldecoder = lambda _name: Reader  # type: ignore[attr-defined,assignment]
