"""Whether the system has the memory that a command needs, asked before any library is loaded."""

import mmap
import os

from triage.errors import MemoryShort

NEEDED_MIB = 256
"""Measured: whole commands took 140 to 190 MiB of addresses, with one thread for linear algebra; 24 at the start."""

_ONE_THREAD = "OPENBLAS_NUM_THREADS"


def ask_for_memory() -> None:
    """Refuse to go on where too little memory is left.

    A library of numbers that finds none ends the process itself, with words of its own and an exit code that means
    something else here. It also takes a buffer for each processor, of which the short rows of this program need one.

    Raises:
        MemoryShort: the system does not give so much.
    """
    os.environ.setdefault(_ONE_THREAD, "1")
    try:
        mmap.mmap(-1, NEEDED_MIB << 20).close()
    except (OSError, MemoryError) as error:
        raise MemoryShort(
            f"There is too little memory: triage needs {NEEDED_MIB} MiB, and the system refuses them.",
            "Close other programs, or raise the limit if one was set, and start again. Nothing was lost.",
        ) from error
