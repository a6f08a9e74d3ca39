"""What is asked before a session can be started."""

from dataclasses import dataclass


@dataclass(frozen=True)
class Opening:
    """Symptom, job, name of who works on it, and the complaint in the customer's words."""

    symptom: str
    job: str
    who: str
    words: str = ""
