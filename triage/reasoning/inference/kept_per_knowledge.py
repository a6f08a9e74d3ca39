"""What was worked out of a knowledge and does not change with a session: made once, and kept as long as it is used."""

from collections import OrderedDict
from collections.abc import Callable
from typing import TypeVar

from triage.knowledge.models import Knowledge

MOST_KEPT = 4
"""Knowledges at once: the shipped one, and those of traces that are open."""
Made = TypeVar("Made")
_KEPT: OrderedDict[int, tuple[Knowledge, dict[object, object]]] = OrderedDict()


def kept(knowledge: Knowledge, name: object, make: Callable[[], Made]) -> Made:
    """What is kept under a name for a knowledge; made where it is not there yet.

    Knowledge never changes, but cannot be hashed: it is known by where it lies, and held so that nothing else comes to
    lie there.
    """
    _, shelf = _KEPT.setdefault(id(knowledge), (knowledge, {}))
    _KEPT.move_to_end(id(knowledge))
    while len(_KEPT) > MOST_KEPT:
        _KEPT.popitem(last=False)
    if name not in shelf:
        shelf[name] = make()
    return shelf[name]  # type: ignore[return-value]  # a name stands for one kind of thing
