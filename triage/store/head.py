"""Where a trace ends. The chain of digests alone cannot show that its last lines are gone; this can."""

import re
from dataclasses import dataclass

from triage.errors import TriageError


@dataclass(frozen=True)
class Head:
    """How many lines a trace has, and the digest of the last one.

    Attributes:
        count: number of lines.
        digest: hexadecimal SHA-256 of the last line; its first twelve digits where only they were written down.
    """

    count: int
    digest: str

    def __str__(self) -> str:
        """The short form for paper and telephone."""
        return f"{self.count}-{self.digest[:12]}"

    @classmethod
    def parse(cls, text: str) -> "Head":
        """Read the short form back, or the one with the whole digest.

        Args:
            text: a count, a hyphen and twelve or all 64 hexadecimal digits in either case.

        Raises:
            TriageError: the text is something else.

        >>> Head.parse(' 42-00C0FFEE00AA ')
        Head(count=42, digest='00c0ffee00aa')
        """
        match = re.fullmatch(r"([1-9][0-9]{0,8})-([0-9a-f]{12}|[0-9a-f]{64})", text.strip().lower())
        if match is None:
            raise TriageError(
                f"{text[:80]!r} is not the mark of a trace's end.",
                "A mark looks like 42-00c0ffee00aa: lines, a hyphen, 12 or all 64 digits and letters a–f.",
            )
        return cls(int(match[1]), match[2])
