"""Words of the command line that are text, not the names of files: readings, complaints, units."""

import argparse
import locale
import os


def typed_text(word: str) -> str:
    """Read a word as it was typed, also where the locale knows plain ASCII only.

    Such a locale hands on the bytes of "N·m" undecoded, which no reader of text takes; names of files keep them.

    Raises:
        argparse.ArgumentTypeError: the bytes are no UTF-8 either; the sentence names the locale.
    """
    if not any("\udc80" <= character <= "\udcff" for character in word):
        return word
    try:
        return os.fsencode(word).decode("utf-8")
    except UnicodeError:
        name = locale.setlocale(locale.LC_CTYPE, None)
        message = f"it holds bytes that are no text in the locale {name}. Set a UTF-8 one, such as LC_ALL=C.UTF-8"
        raise argparse.ArgumentTypeError(message) from None
