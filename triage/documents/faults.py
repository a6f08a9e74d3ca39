"""Faults found in one document, put in reading order and raised together."""

from collections.abc import Iterable
from typing import Final

from triage.errors import DocumentFaulty, Fault

FAULTS_SHOWN: Final = 200
"""Nobody mends more at one go; a binary file taken for a document has a million."""


def faulty(faults: Iterable[Fault]) -> DocumentFaulty:
    """Make one error of all faults, in the order in which a person meets them.

    Args:
        faults: what was found, at least one, in any order; the same fault found twice counts once.
    """
    ordered = sorted(dict.fromkeys(faults), key=lambda fault: (fault.place.line, fault.place.column))
    listed = ordered[:FAULTS_SHOWN]
    if len(ordered) > FAULTS_SHOWN:
        listed.append(Fault(listed[-1].place, "More faults follow.", "Put these right and read the file again."))
    return DocumentFaulty(tuple(listed))
