"""What the toolkit leaves open about terminals."""

import codecs
import os
from functools import partial


def take_bad_bytes() -> None:
    """Let a byte that is no UTF-8 come in as a replacement sign; the toolkit's reader would die of it."""
    if os.name == "nt":
        return
    from textual.drivers import linux_driver

    def forgiving(name: str) -> partial[codecs.IncrementalDecoder]:
        return partial(codecs.getincrementaldecoder(name), errors="replace")

    linux_driver.getincrementaldecoder = forgiving  # type: ignore[attr-defined,assignment]
