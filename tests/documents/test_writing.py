"""Data that is written reads back as it was."""

from triage.documents.reading import read_text
from triage.documents.writing import write_text


def test_what_is_written_reads_back() -> None:
    data = {
        "symptom": "buzz",
        "phrases": ["a: b", "no", "it's off", "- dash", "# not a comment"],
        "nodes": {"first": {"next": {"none": "end", "yes": "end"}}, "end": {"conclude": ["belt"], "because": "null"}},
    }
    assert read_text(write_text(data), "written").data == data


def test_what_stands_twice_is_written_twice() -> None:
    twice = ["one", "two"]
    assert read_text(write_text({"a": twice, "b": twice}), "written").data == {"a": twice, "b": twice}
