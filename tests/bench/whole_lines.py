"""The lines of a trace with its knowledge in the first one, for tests that write changed copies elsewhere."""

import json
from dataclasses import replace
from pathlib import Path

from triage.store import Line, read_trace


def whole_lines(path: Path) -> tuple[Line, ...]:
    """Every line of a trace; the first holds the knowledge itself, as a reader takes it too."""
    trace = read_trace(path)
    if not trace.knowledge:
        return trace.lines
    first = replace(trace.lines[0], data={**trace.lines[0].data, "knowledge": json.loads(trace.knowledge)})
    return (first, *trace.lines[1:])
