"""What a record of practice may hold of the truth before the debrief: a digest, from which nothing can be had.

The seed gives the vehicle, so it is not written down before the debrief either; a digest of a small number could be
tried out, so a salt that stays in memory goes into it. Once the debrief stands, seed and salt are written: whoever
wants to can see that the vehicle was not changed meanwhile. docs/decisions/practice.md says what this keeps.
"""

import hashlib
import secrets
from dataclasses import dataclass, field

SALT_BYTES = 16
MOST = 10**6
"""Seeds that are drawn are below it, so that one can be read out and typed again."""


@dataclass(frozen=True)
class Seal:
    """A seed that is kept from the record until the debrief."""

    seed: int
    salt: str = field(default_factory=lambda: secrets.token_hex(SALT_BYTES))

    @property
    def digest(self) -> str:
        """What may be written down beforehand."""
        return hashlib.sha256(f"{self.salt}:{self.seed}".encode()).hexdigest()


def any_seed() -> int:
    """A seed that nobody has chosen."""
    return secrets.randbelow(MOST)
