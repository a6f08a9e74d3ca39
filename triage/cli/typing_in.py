"""Where the lines of a chat come from on this terminal."""

import os
import sys
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from triage.chat.lines import Lines


def lines_here() -> "Lines":
    """Where the lines of a chat come from here: a line editor, or plain lines."""
    if sys.stdin.isatty() and sys.stdout.isatty() and os.environ.get("TERM", "dumb") != "dumb":
        from triage.chat.editor import EditorLines

        return EditorLines()
    from triage.chat.lines import PlainLines

    return PlainLines()
