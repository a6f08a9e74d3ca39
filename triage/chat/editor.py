"""The line editor for capable terminals."""

import asyncio
import math
import time
from collections.abc import Callable

from prompt_toolkit import PromptSession
from prompt_toolkit.application import get_app, run_in_terminal
from prompt_toolkit.buffer import Buffer, BufferAcceptHandler
from prompt_toolkit.completion import WordCompleter
from prompt_toolkit.formatted_text import FormattedText
from prompt_toolkit.input import Input
from prompt_toolkit.output import Output

from triage.chat.lines import POLL_S, InputEndedError
from triage.present.commands import WORDS
from triage.present.read_first import MOMENT_S

LONGEST_LINE = 2000


class EditorLines:
    """Lines from a terminal, with history within the session and the words at any moment as completions."""

    def __init__(self, source: Input | None = None, screen: Output | None = None) -> None:
        """Prepare the editor; `source` and `screen` are the terminal unless given."""
        words = WordCompleter([word.name for word in WORDS], sentence=True)
        self._session: PromptSession[str | None] = PromptSession(
            completer=words, complete_while_typing=False, input=source, output=screen
        )
        self.ahead = False
        self._shown_s = self._ended_s = math.inf
        self._session.app.after_render += self._shown
        self._session.default_buffer.accept_handler = self._ended(self._session.default_buffer.accept_handler)

    def read(self, prompt: str, waiting: Callable[[], bool]) -> str | None:
        """One line; None when `waiting` ended the wait.

        Raises:
            InputEndedError: the terminal is gone or Ctrl-D was typed.
        """

        async def watch() -> None:
            while True:
                await asyncio.sleep(POLL_S)
                if waiting():
                    get_app().exit(result=None)
                    return

        def begin() -> None:
            get_app().create_background_task(watch())

        self._shown_s = math.inf
        try:
            line = self._session.prompt(FormattedText([("", prompt)]), pre_run=begin)
        except EOFError as error:
            raise InputEndedError from error
        # What waited in the input ends a line even before the prompt is painted.
        self.ahead = self._ended_s - self._shown_s < MOMENT_S
        return None if line is None else line[:LONGEST_LINE]

    def _shown(self, _app: object) -> None:
        self._shown_s = min(self._shown_s, time.monotonic())

    def _ended(self, accept: BufferAcceptHandler | None) -> BufferAcceptHandler:
        # Stamped here: after it, the editor may wait a second for a terminal that does not say where its cursor is.
        def stamp(buffer: Buffer) -> bool:
            self._ended_s = time.monotonic()
            return accept(buffer) if accept else False

        return stamp

    def say(self, text: str) -> None:
        """Write text, above the line being edited where there is one."""
        app = get_app()
        if app.is_running:
            run_in_terminal(lambda: self._write(text))
        else:
            self._write(text)

    def _write(self, text: str) -> None:
        self._session.output.write(text + "\n")
        self._session.output.flush()
