"""The published shapes of a trace: lines that the program writes fit them, and what does not fit is told."""

import json
from pathlib import Path

import make_demos
import pytest
from jsonschema import Draft202012Validator

from triage.app.tracing import stored
from triage.knowledge.models import Knowledge
from triage.knowledge.shipped import demos_folder
from triage.record.events import KINDS

MADE = Path(__file__).parents[2] / "docs" / "made"
SCHEMA = json.loads((MADE / "trace-schema.json").read_text(encoding="utf-8"))
DEMOS = sorted(demos_folder().glob("*.jsonl"))


def lines_of(path: Path) -> list[dict[str, object]]:
    return [json.loads(line) for line in path.read_text(encoding="utf-8").splitlines()]


def test_the_schema_is_one() -> None:
    Draft202012Validator.check_schema(SCHEMA)


def misfits(line: dict[str, object]) -> list[str]:
    """What in a line does not fit the newest version of its kind."""
    kind = next(one for one in SCHEMA["oneOf"] if one["properties"]["kind"]["const"] == line["kind"])
    of_kind = Draft202012Validator({**kind, "$defs": SCHEMA["$defs"]})
    return [error.message for error in of_kind.iter_errors(line)]


def test_every_line_that_is_written_today_fits_the_schema(tmp_path: Path) -> None:
    make_demos.binding_clutch(tmp_path)
    lines = lines_of(tmp_path / "binding-clutch.jsonl")
    assert len(lines) > 120
    assert [(line["seq"], misfits(line)) for line in lines if misfits(line)] == []


@pytest.mark.parametrize("demo", DEMOS, ids=lambda demo: demo.stem)
def test_every_line_of_a_kept_trace_whose_kind_has_not_changed_since_fits_the_schema(demo: Path) -> None:
    lines = [line for line in lines_of(demo) if line["version"] == KINDS[str(line["kind"])].version]
    assert lines
    assert [(line["seq"], misfits(line)) for line in lines if misfits(line)] == []


def test_stored_knowledge_fits_the_schema(knowledge: Knowledge) -> None:
    shape = {"$ref": "#/$defs/Knowledge", "$defs": SCHEMA["$defs"]}
    assert Draft202012Validator(shape).is_valid(json.loads(stored(knowledge)))


@pytest.mark.parametrize("change", [{"data": {}}, {"seq": "1"}, {"kind": "tea-made"}, {"sha256": "short"}])
def test_a_line_of_another_shape_does_not_fit(change: dict[str, object]) -> None:
    line = {**lines_of(DEMOS[0])[1], **change}
    assert not Draft202012Validator(SCHEMA).is_valid(line)
