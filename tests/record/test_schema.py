"""The published shapes of a trace: lines that the program writes fit them, and what does not fit is told."""

import json
from pathlib import Path

import pytest
from jsonschema import Draft202012Validator

from triage.knowledge.shipped import demos_folder

DOCS = Path(__file__).parents[2] / "docs"
SCHEMA = json.loads((DOCS / "trace-schema.json").read_text(encoding="utf-8"))
DEMOS = sorted(demos_folder().glob("*.jsonl"))


def lines_of(path: Path) -> list[dict[str, object]]:
    return [json.loads(line) for line in path.read_text(encoding="utf-8").splitlines()]


def test_the_schema_is_one() -> None:
    Draft202012Validator.check_schema(SCHEMA)


@pytest.mark.parametrize("demo", DEMOS, ids=lambda demo: demo.stem)
def test_every_line_of_a_trace_of_today_fits_the_schema(demo: Path) -> None:
    validator = Draft202012Validator(SCHEMA)
    for line in lines_of(demo):
        kind = next(one for one in SCHEMA["oneOf"] if one["properties"]["kind"]["const"] == line["kind"])
        of_kind = validator.evolve(schema={**kind, "$defs": SCHEMA["$defs"]})
        problems = [error.message for error in of_kind.iter_errors(line)]
        assert problems == [], line["seq"]


def test_stored_knowledge_fits_the_schema() -> None:
    (stored,) = (demos_folder() / "knowledge").glob("*.json")
    knowledge = {"$ref": "#/$defs/Knowledge", "$defs": SCHEMA["$defs"]}
    assert Draft202012Validator(knowledge).is_valid(json.loads(stored.read_text(encoding="utf-8")))


@pytest.mark.parametrize("change", [{"data": {}}, {"seq": "1"}, {"kind": "tea-made"}, {"sha256": "short"}])
def test_a_line_of_another_shape_does_not_fit(change: dict[str, object]) -> None:
    line = {**lines_of(DEMOS[0])[1], **change}
    assert not Draft202012Validator(SCHEMA).is_valid(line)
