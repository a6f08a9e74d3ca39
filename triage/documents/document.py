"""What was read from a file, and where each part of it stands."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from triage.errors import Place

Step = str | int
"""One step down: the key in a mapping, or the position in a list, counted from 0."""

Steps = tuple[Step, ...]

LineColumn = tuple[int, int]
"""Line and column, counted from 1."""

_START: LineColumn = (1, 1)


@dataclass(frozen=True)
class Document:
    """Plain data with a memory of its places.

    Args:
        data: dict with text keys, list, str, int, float, bool or None, nested in any way.
        file: the name that faults give.
        value_marks: where each value begins, by the path that leads to it.
        key_marks: where the key of a value begins; list items have none.
    """

    data: object
    file: str
    value_marks: Mapping[Steps, LineColumn] = field(default_factory=dict, repr=False, compare=False)
    key_marks: Mapping[Steps, LineColumn] = field(default_factory=dict, repr=False, compare=False)

    def place(self, path: Sequence[Step]) -> Place:
        """Say where the value at a path begins; where there is none, its nearest ancestor."""
        steps = tuple(path)
        while steps and steps not in self.value_marks:
            steps = steps[:-1]
        return Place(self.file, *self.value_marks.get(steps, _START))

    def place_of_key(self, path: Sequence[Step]) -> Place:
        """Say where the key of the value at a path begins; what has no key has the place of its value."""
        mark = self.key_marks.get(tuple(path))
        return Place(self.file, *mark) if mark else self.place(path)
