"""From YAML's events to plain data and its places.

The parser's events are taken one by one and its own constructors are never asked, so nothing is built that was not
written: no alias is followed, no tag obeyed, no number guessed. The limits hold before memory is spent.
"""

from collections.abc import Collection, Iterator
from itertools import islice
from typing import Final, cast

import yaml

from triage.documents.characters import complaint, unwanted
from triage.documents.document import LineColumn, Steps
from triage.documents.naming import word
from triage.documents.plain import meaning, surprise
from triage.documents.syntax import STOPPED, explain
from triage.errors import Fault, Place

DEPTH_LIMIT: Final = 20
NODE_LIMIT: Final = 50_000
"""Keys, values and collections together; a megabyte of the shortest ones has ten times as many."""

_LOADER = getattr(yaml, "CSafeLoader", yaml.SafeLoader)


class _Stopped(Exception):  # the fault is noted already; this only leaves the walk
    """There is no use in reading on."""


class Composer:
    """One walk over the events of a document; faults are noted and the walk goes on.

    Args:
        file: the name that faults give.
        words: what is text here although readers disagree about it, as "no" where a key takes nothing but yes and no.

    Attributes:
        faults: what was found, in the order of the walk.
        value_marks: where each value begins, by its path.
        key_marks: where each key begins, by the path of its value.
    """

    def __init__(self, file: str, words: Collection[str] = ()) -> None:
        """Start with nothing found."""
        self.faults: list[Fault] = []
        self.value_marks: dict[Steps, LineColumn] = {}
        self.key_marks: dict[Steps, LineColumn] = {}
        self._file = file
        self._words_of_text = words
        self._nodes = 0
        self._events: Iterator[yaml.Event] = iter(())
        self._mark: LineColumn = (1, 1)

    def compose(self, text: str) -> object:
        """Read the text's one document; the data is of use only where no faults are noted."""
        self._events = yaml.parse(text, Loader=_LOADER)
        try:
            return self._stream()
        except _Stopped:
            return None
        except (yaml.YAMLError, ValueError, OverflowError) as error:  # the parser in Python lets the last two escape
            mark, message, hint = explain(error, self._mark)
            self._note(mark, message, hint)
            return None

    def _stream(self) -> object:
        data: object = None
        starts = (event for event in self._events if isinstance(event, yaml.DocumentStartEvent))
        for count, start in enumerate(starts):
            if count:
                self._stop(start, "A second document begins here.", "Put it into a file of its own.")
            if start.version or start.tags:
                self._note(_mark(start), "A directive stands here.", "Leave out lines that begin with '%'.")
            data = self._value(())
        return data

    def _value(self, path: Steps) -> object:
        return self._placed(next(self._events), path)

    def _placed(self, event: yaml.Event, path: Steps) -> object:
        self.value_marks[path] = _mark(event)
        return self._content(event, path)

    def _content(self, event: yaml.Event, path: Steps) -> object:
        self._mark = _mark(event)
        self._nodes += 1
        if self._nodes > NODE_LIMIT:
            self._stop(event, f"The document has more than {NODE_LIMIT} keys and values.", "Split it.")
        self._refuse_properties(cast("yaml.NodeEvent", event))
        match event:
            case yaml.ScalarEvent():
                return self._scalar(event)
            case yaml.CollectionStartEvent() if len(path) >= DEPTH_LIMIT:
                self._note(self._mark, f"This is nested more than {DEPTH_LIMIT} deep.", "Write it flatter.")
                self._skip_collection()
            case yaml.SequenceStartEvent():
                items = self._until(yaml.SequenceEndEvent)
                return [self._placed(item, (*path, index)) for index, item in enumerate(items)]
            case yaml.MappingStartEvent():
                return self._mapping(path)
        return None

    def _refuse_properties(self, event: yaml.NodeEvent) -> None:
        if isinstance(event, yaml.AliasEvent):
            self._note(self._mark, f"The alias *{event.anchor} is not followed.", "Write out what it stands for.")
        elif event.anchor is not None:
            self._note(self._mark, f"The anchor &{event.anchor} is not read.", "Leave it out.")
        if getattr(event, "tag", None) is not None:
            self._note(self._mark, "A tag, which begins with '!', is not read.", "Leave it out, or use quotes.")

    def _scalar(self, event: yaml.ScalarEvent) -> object:
        text = event.value
        if event.style:
            for _, character in islice(unwanted(text), 1):
                self._note(self._mark, *complaint(character))
            return text
        if text in self._words_of_text:
            return text
        surprising = surprise(text)
        if surprising:
            self._note(self._mark, *surprising)
            return text
        return meaning(text)

    def _mapping(self, path: Steps) -> dict[str, object]:
        mapping: dict[str, object] = {}
        for event in self._until(yaml.MappingEndEvent):
            key = self._key(event, path)
            below = (*path, key)
            if key in mapping:
                first_line, _ = self.key_marks[below]
                message = f"The key '{word(key)}' stands here a second time."
                self._note(_mark(event), message, f"The first is in line {first_line}.")
            self.key_marks.setdefault(below, _mark(event))
            mapping[key] = self._value(below)
        return mapping

    def _key(self, event: yaml.Event, path: Steps) -> str:
        key = self._content(event, (*path, ""))
        if isinstance(key, str):
            return key
        self._note(_mark(event), "A key has to be text.", "Put it in quotes.")
        return str(getattr(event, "value", ""))

    def _until(self, end: type[yaml.Event]) -> Iterator[yaml.Event]:
        for event in self._events:
            if isinstance(event, end):
                return
            yield event

    def _skip_collection(self) -> None:
        depth = 1
        while depth:
            event = next(self._events)
            depth += isinstance(event, yaml.CollectionStartEvent)
            depth -= isinstance(event, yaml.CollectionEndEvent)
            if depth > DEPTH_LIMIT:  # the parser in Python takes minutes over hundreds of open brackets
                self._stop(event, f"This is nested more than {2 * DEPTH_LIMIT} deep.", "Write it flatter.")

    def _note(self, mark: LineColumn, message: str, hint: str) -> None:
        self.faults.append(Fault(Place(self._file, *mark), message, hint))

    def _stop(self, event: yaml.Event, message: str, hint: str) -> None:
        self._note(_mark(event), message, f"{hint} {STOPPED}")
        raise _Stopped


def _mark(event: yaml.Event) -> LineColumn:
    start = cast("yaml.Mark", event.start_mark)
    return start.line + 1, start.column + 1
