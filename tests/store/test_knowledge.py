"""Knowledge lies once beside the traces, under its digest, or travels as the last line of a file."""

import json
from pathlib import Path

import pytest

from triage.errors import KnowledgeMissing, StoreUnavailable, TraceDamaged
from triage.store import Line, TraceWriter, digest_of_knowledge, list_traces, read_trace, travelling, verify_trace

KNOWLEDGE = json.dumps({"checks": {"belt": "sound ✓"}}, ensure_ascii=False).encode()


def begun(folder: Path, name: str = "job", knowledge: bytes = KNOWLEDGE) -> Path:
    """A trace of three lines whose first names its knowledge."""
    writer = TraceWriter.create(folder, name)
    writer.keep_knowledge(knowledge)
    named = {"format": 2, "knowledge": {"sha256": digest_of_knowledge(knowledge)}}
    writer.append([Line(seq, seq, "Ann", "noted", 1, named if seq == 1 else {}) for seq in (1, 2, 3)])
    writer.close()
    return writer.path


def sent(trace: Path, folder: Path) -> Path:
    """The same trace as a file that travels, in another folder."""
    folder.mkdir()
    target = folder / "sent.jsonl"
    target.write_bytes(travelling(trace)[0])
    return target


def test_two_traces_share_one_copy_of_their_knowledge(tmp_path: Path) -> None:
    for name in ("a", "b"):
        assert read_trace(begun(tmp_path, name)).knowledge == KNOWLEDGE
    assert len(list((tmp_path / "knowledge").iterdir())) == 1
    begun(tmp_path, "c", b"{}")
    assert len(list((tmp_path / "knowledge").iterdir())) == 2


def test_a_bare_file_without_its_knowledge_says_how_it_travels(tmp_path: Path) -> None:
    bare = tmp_path / "elsewhere"
    bare.mkdir()
    (bare / "job.jsonl").write_bytes(begun(tmp_path).read_bytes())
    with pytest.raises(KnowledgeMissing, match="came without its knowledge") as missing:
        read_trace(bare / "job.jsonl")
    assert "triage export" in missing.value.hint
    with pytest.raises(KnowledgeMissing):
        TraceWriter.reopen(bare / "job.jsonl")


def test_knowledge_that_was_changed_is_missing(tmp_path: Path) -> None:
    trace = begun(tmp_path)
    (stored,) = (tmp_path / "knowledge").iterdir()
    stored.write_bytes(KNOWLEDGE.replace(b"sound", b"torn!"))
    with pytest.raises(KnowledgeMissing):
        read_trace(trace)


def test_a_file_that_travels_has_the_same_mark_and_brings_its_knowledge(tmp_path: Path) -> None:
    trace = begun(tmp_path)
    target = sent(trace, tmp_path / "elsewhere")
    assert read_trace(target).head == read_trace(trace).head == travelling(trace)[1]
    assert read_trace(target).knowledge == KNOWLEDGE
    assert verify_trace(target, read_trace(trace).head) == []


def test_a_file_that_came_from_elsewhere_goes_on_where_it_is(tmp_path: Path) -> None:
    target = sent(begun(tmp_path), tmp_path / "elsewhere")
    writer, lines, notices = TraceWriter.reopen(target)
    assert (len(lines), notices, writer.knowledge) == (3, (), KNOWLEDGE)
    writer.append([Line(4, 4, "Bo", "noted", 1, {})])
    writer.close()
    assert b'"kind":"knowledge"' not in target.read_bytes()
    assert (read_trace(target).head.count, read_trace(target).knowledge) == (4, KNOWLEDGE)


def test_knowledge_that_travels_and_is_not_what_line_1_names_is_a_fault(tmp_path: Path) -> None:
    target = sent(begun(tmp_path), tmp_path / "elsewhere")
    target.write_bytes(target.read_bytes().replace(b"sound", b"torn!"))
    assert "not the one that line 1 names" in verify_trace(target)[0].message
    with pytest.raises(TraceDamaged, match="not the one that line 1 names"):
        read_trace(target)


def test_foreign_knowledge_that_is_sound_in_itself_is_a_fault(tmp_path: Path) -> None:
    trace, other = begun(tmp_path), begun(tmp_path, "other", b'{"other":1}')
    content = trace.read_bytes() + travelling(other)[0][len(other.read_bytes()) :]
    (tmp_path / "mixed.jsonl").write_bytes(content)
    assert "not the one that line 1 names" in verify_trace(tmp_path / "mixed.jsonl")[0].message


def test_a_file_that_travels_is_listed_like_any_other(tmp_path: Path) -> None:
    sent(begun(tmp_path), tmp_path / "elsewhere")
    (summary,) = list_traces(tmp_path / "elsewhere")
    assert (summary.fault, summary.count) == ("", 3)


def test_a_copy_takes_its_knowledge_along(tmp_path: Path) -> None:
    writer, _, _ = TraceWriter.reopen(begun(tmp_path))
    writer.copy_to(tmp_path / "stick" / "copy.jsonl", []).close()
    writer.close()
    assert read_trace(tmp_path / "stick" / "copy.jsonl").knowledge == KNOWLEDGE


def test_nothing_begins_where_its_knowledge_cannot_be_kept(tmp_path: Path) -> None:
    (tmp_path / "knowledge").write_text("in the way")
    writer = TraceWriter.create(tmp_path, "job")
    with pytest.raises(StoreUnavailable, match="knowledge of the session cannot be saved"):
        writer.keep_knowledge(KNOWLEDGE)
    writer.close()
