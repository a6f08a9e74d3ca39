"""The shapes of a trace as JSON Schema, made from the events themselves: what `docs/made/trace-schema.json` holds."""

from typing import TYPE_CHECKING, Any, Literal

from pydantic.json_schema import models_json_schema

from triage.knowledge.models import Knowledge
from triage.record.events import KINDS, SessionStarted

if TYPE_CHECKING:
    from pydantic import BaseModel

ON_THE_LINE = ("at_ms", "who")
"""Fields that stand on the line itself, as `time` and `who`, and not in its data."""
NAMED = {
    "type": "object",
    "properties": {"sha256": {"type": "string", "pattern": "^[0-9a-f]{64}$"}},
    "required": ["sha256"],
    "additionalProperties": False,
}


def schema() -> dict[str, Any]:
    """One schema for the lines of a trace: the data of each kind in its newest version, and the stored knowledge."""
    models: list[tuple[type[BaseModel], Literal["serialization"]]] = [(Knowledge, "serialization")]
    models += [(event, "serialization") for event in KINDS.values()]
    refs, shared = models_json_schema(models, ref_template="#/$defs/{model}")
    definitions = shared["$defs"]
    lines = []
    for kind, event in KINDS.items():
        name = refs[event, "serialization"]["$ref"].rpartition("/")[2]
        lines.append(_line(kind, event.version, f"#/$defs/{name}"))
        _take_off_the_line(definitions[name])
    named = definitions[refs[SessionStarted, "serialization"]["$ref"].rpartition("/")[2]]
    named["properties"]["knowledge"] = {"oneOf": [NAMED, refs[Knowledge, "serialization"]]}
    step = definitions["Step"]
    step["required"] = ["kind"]
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "A line of a trace, format 2",
        "description": "Newest version of each kind. Older ones and what is around the data: docs/trace-format.md.",
        "oneOf": lines,
        "$defs": definitions,
    }


def _line(kind: str, version: int, data: str) -> dict[str, Any]:
    return {
        "type": "object",
        "properties": {
            "seq": {"type": "integer", "minimum": 1},
            "time": {"type": "string", "format": "date-time"},
            "who": {"type": "string"},
            "kind": {"const": kind},
            "version": {"const": version},
            "data": {"$ref": data},
            "sha256": {"type": "string", "pattern": "^[0-9a-f]{64}$"},
        },
        "required": ["seq", "time", "who", "kind", "version", "data", "sha256"],
        "additionalProperties": False,
    }


def _take_off_the_line(definition: dict[str, Any]) -> None:
    for field in ON_THE_LINE:
        del definition["properties"][field]
    definition["required"] = [field for field in definition["required"] if field not in ON_THE_LINE]
