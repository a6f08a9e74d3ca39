"""`triage drive new`: a drive entered line by line at the bay, and kept among the shop's own layouts."""

import sys

from triage.errors import EXIT_OK, QuantityRefused, TriageError
from triage.present.cleaning import clean


def run() -> int:
    """Ask on standard error, read standard input, and print the page of the drive that was entered.

    Raises:
        QuantityRefused: the input ended before the last answer.
    """
    from triage.present.pages.drive_page import layout_page
    from triage.present.typing.entering import entered
    from triage.present.typing.results import Ask

    lines: tuple[str, ...] = ()
    came = entered(lines)
    while isinstance(came, Ask):
        sys.stderr.write(clean(f"{came.question}\n> "))
        sys.stderr.flush()
        line = sys.stdin.readline()
        if not line:
            raise QuantityRefused("The input ended before the drive was entered.", "Nothing was saved. Begin again.")
        if not line.strip():
            continue
        try:
            came = entered((*lines, line.rstrip("\n")))
        except TriageError as error:
            sys.stderr.write(clean(f"{error.message} {error.hint}".strip() + "\n"))
        else:
            lines = (*lines, line.rstrip("\n"))
    sys.stderr.write(f"It is kept as {came.name}, among the shop's own layouts.\n")
    sys.stdout.write(clean("\n".join(layout_page(came.name, came.layout)) + "\n"))
    return EXIT_OK
