"""What is read, what is refused, where the finger points, and that nothing but a DocumentFaulty ever comes out."""

import json
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest
import yaml
from hypothesis import example, given
from hypothesis import strategies as st

from triage.documents import Document, composing
from triage.documents.composing import DEPTH_LIMIT, NODE_LIMIT
from triage.documents.faults import FAULTS_SHOWN
from triage.documents.files import SIZE_LIMIT
from triage.documents.reading import read_document, read_text
from triage.errors import DocumentFaulty, Fault, Place

MARKS = [
    "a",
    "b: ",
    "- ",
    "[",
    "]",
    "{",
    "}",
    ",",
    ": ",
    "? ",
    "> ",
    "'",
    '"',
    "#",
    "@",
    "`",
    "%",
    "yes",
    "010",
    "1e999",
]
PROPERTIES = ["&x ", "*x", "!t ", "!!int ", "<<: ", "\\", "\\x1b", "\\UFFFFFFFF", "\\ud800"]
LINES = ["\n", "  ", "| \n", "%YAML 1.2\n", "---\n", "...\n", "\t", "\r", "\x00", "\u2028", "\ufeff", "\U0001f600"]
YAML_SCRAPS = st.lists(st.sampled_from(MARKS + PROPERTIES + LINES)).map("".join)
PARSERS = [yaml.SafeLoader, getattr(yaml, "CSafeLoader", yaml.SafeLoader)]


@contextmanager
def parser(loader: type) -> Iterator[None]:
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(composing, "_LOADER", loader)
        yield


def faults(text: str) -> list[str]:
    """Line, column and message of each fault."""
    with pytest.raises(DocumentFaulty) as refused:
        read_text(text, "f")
    return [f"{fault.place.line}:{fault.place.column} {fault.message}" for fault in refused.value.faults]


def refusal(read: Callable[[], Document]) -> tuple[Fault, ...]:
    """The faults, none where the document is read; its data is then plain and finite."""
    try:
        data = read().data
    except DocumentFaulty as refused:
        return refused.faults
    assert json.loads(json.dumps(data, allow_nan=False)) == data
    return ()


@given(st.text() | YAML_SCRAPS)
@pytest.mark.parametrize("loader", PARSERS)
@example('"\\UFFFFFFFF"')
@example("%YAML 1." + "9" * 5000 + "\n---\na")
def test_any_text_is_read_or_refused_with_places(loader: type, text: str) -> None:
    with parser(loader):
        found = refusal(lambda: read_text(text, "f"))
    assert all(fault.place.line >= 1 and fault.place.column >= 1 for fault in found)
    assert all(str(fault).isprintable() for fault in found)


@given(st.binary() | st.text().map(lambda text: text.encode("utf-16")) | YAML_SCRAPS.map(str.encode))
def test_any_bytes_are_read_or_refused(tmp_path_factory: pytest.TempPathFactory, raw: bytes) -> None:
    path = tmp_path_factory.getbasetemp() / "bytes.yaml"
    path.write_bytes(raw)
    assert all(fault.place.file == "bytes" for fault in refusal(lambda: read_document(path, name="bytes")))


PLAIN_TEXT = st.text(st.characters(codec="utf-8", exclude_categories=["C", "Zl", "Zp"]))
JSON = st.recursive(
    st.none()
    | st.booleans()
    | st.integers(-(10**15), 10**15)
    | st.floats(allow_nan=False, allow_infinity=False)
    | PLAIN_TEXT,
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(PLAIN_TEXT, inner, max_size=4),
    max_leaves=20,
)


@given(JSON, st.sampled_from([None, 2]))
def test_json_is_read_as_json_readers_do(data: object, indent: int | None) -> None:
    text = json.dumps(data, ensure_ascii=False, indent=indent)
    assert json.dumps(read_text(text, "f").data) == json.dumps(data)


def test_the_styles_that_people_write_are_read() -> None:
    text = """\
# A comment.
sign: belt-squeal   # another
minutes: 5
limit_mm: 0.5
factor: 1e-6
asked: true
nothing:
state: {belt: "on", engine: 'off'}
steps:
- Look at the belt.
- >
  Turn it
  by hand.
note: |
  First line.
  Second line.
"""
    assert read_text(text, "f").data == {
        "sign": "belt-squeal",
        "minutes": 5,
        "limit_mm": 0.5,
        "factor": 1e-6,
        "asked": True,
        "nothing": None,
        "state": {"belt": "on", "engine": "off"},
        "steps": ["Look at the belt.", "Turn it by hand.\n"],
        "note": "First line.\nSecond line.\n",
    }


def test_windows_line_ends_are_read_and_counted_once() -> None:
    document = read_text("a: 1\r\nb:\r\n  c: 2\r\n", "f")
    assert document.data == {"a": 1, "b": {"c": 2}}
    assert document.place(["b", "c"]) == Place("f", 3, 6)


PLACED = read_text('checks:\n  - id: look\n    "steps": [öl, b]\n', "trees/x.yaml")


@pytest.mark.parametrize(
    ("path", "value", "key"),
    [
        ([], "1:1", "1:1"),
        (["checks"], "2:3", "1:1"),
        (["checks", 0], "2:5", "2:5"),
        (["checks", 0, "id"], "2:9", "2:5"),
        (["checks", 0, "steps", 1], "3:19", "3:19"),
        (["checks", 0, "minutes"], "2:5", "2:5"),
        (["checks", 7, "id", "deeper"], "2:3", "2:3"),
    ],
)
def test_a_path_has_the_place_of_its_value_its_key_or_its_nearest_ancestor(
    path: list[str | int], value: str, key: str
) -> None:
    assert str(PLACED.place(path)) == f"trees/x.yaml:{value}"
    assert str(PLACED.place_of_key(path)) == f"trees/x.yaml:{key}"


def test_data_that_was_never_text_has_the_first_place() -> None:
    assert Document({"a": 1}, "trace").place(["a"]) == Place("trace", 1, 1)


@pytest.mark.parametrize("loader", PARSERS)
def test_all_faults_are_named_in_reading_order(loader: type) -> None:
    text = """\
a: yes
no: 1
b: 010
c: &x 1
d: *x
e: !!str 5
<<: {a: 1}
a: 2
5: x
? [q]
: 1
f: [1\u200b, .nan]
g:\t1
h: "\\e[31m"
"""
    with parser(loader):
        found = [line.split(" ")[0] for line in faults(text)]
    assert found == [
        "1:4",
        "2:1",
        "3:4",
        "4:4",
        "5:4",
        "6:4",
        "7:1",
        "8:1",
        "9:1",
        "10:3",
        "12:6",
        "12:9",
        "13:3",
        "14:4",
    ]


@pytest.mark.parametrize("loader", PARSERS)
@pytest.mark.parametrize(
    ("text", "place", "words"),
    [
        ("a: b: c\n", "1:5", "A key cannot stand here."),
        ("a: 1\n  b: 2\n", "2:4", "A key cannot stand here."),
        ("a: 1\nb\nc: 2\n", "2:1", "There is no colon after the key."),
        ("a:\n    b: 1\n   c: 2\n", "3:4", "This does not line up with what stands above."),
        ("- a\nb: 1\n", "2:1", "This does not line up with what stands above."),
        ("a: 1\nb: 'x\nc: 2\n", "2:4", "The quote that opens here is never closed."),
        ("a: [1, 2\nb: 3\n", "1:4", "The list that opens here is not closed, or a comma is missing."),
        ("a: {x: 1\nb: 3\n", "1:4", "The keys that open here are not closed, or a comma is missing."),
        ("a: @x\n", "1:4", "Text cannot begin like this."),
        ("a: - b\n", "1:4", "A list cannot begin on this line."),
        ("a: *\n", "1:5", "'*' begins an alias, which is not read."),
        ("a: & b\n", "1:5", "'&' begins an anchor, which is not read."),
        ("a: !e!x b\n", "1:4", "'!' begins a tag, which is not read."),
        ("a: |x\n  b\n", "1:5", "Text stands on the line of '|' or '>'."),
        ("a: 1\n...\nb: 2\n", "3:1", "Text goes on after its end."),
        ("%YAML 2.0\n---\na\n", "1:1", "'%' begins a directive, which is not read."),
        ("a: ]\n", "1:4", "A value is missing here."),
    ],
)
def test_what_is_no_yaml_is_explained(loader: type, text: str, place: str, words: str) -> None:
    with parser(loader):
        assert faults(text) == [f"{place} {words}"]


def test_an_unknown_backslash_is_explained() -> None:
    assert "This backslash stands for no character." in faults('a: "\\q"')[0]


def test_faults_before_broken_yaml_are_kept_and_the_hint_says_that_reading_stopped() -> None:
    with pytest.raises(DocumentFaulty) as refused:
        read_text("a: yes\nb: 'x\n", "f")
    first, last = refused.value.faults
    assert first.place.line == 1
    assert "Reading stopped here" in last.hint


def test_a_key_that_stands_again_names_the_line_of_the_first() -> None:
    with pytest.raises(DocumentFaulty) as refused:
        read_text("a: 1\nb: 2\na: 3\na: 4\n", "f")
    assert [str(fault) for fault in refused.value.faults] == [
        "f:3:1: The key 'a' stands here a second time. The first is in line 1.",
        "f:4:1: The key 'a' stands here a second time. The first is in line 1.",
    ]


def test_the_same_key_in_two_mappings_is_no_fault() -> None:
    assert read_text("- a: 1\n- a: 2\n", "f").data == [{"a": 1}, {"a": 2}]


def test_one_document_may_have_a_start_line_and_a_second_document_is_refused() -> None:
    assert read_text("---\na: 1\n", "f").data == {"a": 1}
    assert faults("--- a\n--- b\n") == ["2:1 A second document begins here."]


@pytest.mark.parametrize("loader", PARSERS)
@pytest.mark.parametrize("directive", ["%YAML 1.2", "%TAG !e! tag:x,2000:"])
def test_a_directive_is_refused(loader: type, directive: str) -> None:
    with parser(loader):
        assert faults(f"{directive}\n---\na\n") == ["1:1 A directive stands here."]


def nested(depth: int) -> str:
    return "[" * depth + "]" * depth


def test_nesting_is_read_to_the_limit_and_refused_beyond_it() -> None:
    assert read_text(nested(DEPTH_LIMIT), "f").data
    assert faults(nested(DEPTH_LIMIT + 1)) == [f"1:{DEPTH_LIMIT + 1} This is nested more than {DEPTH_LIMIT} deep."]


def test_reading_goes_on_after_a_part_that_is_nested_too_deep() -> None:
    assert len(faults(f"- {nested(DEPTH_LIMIT)}\n- yes\n")) == 2


def test_reading_stops_where_no_person_would_nest() -> None:
    assert faults("[\n" * 200) == [
        f"{DEPTH_LIMIT + 1}:1 This is nested more than {DEPTH_LIMIT} deep.",
        f"{2 * DEPTH_LIMIT + 1}:1 This is nested more than {2 * DEPTH_LIMIT} deep.",
    ]


@pytest.mark.parametrize("loader", PARSERS)
@pytest.mark.parametrize("scrap", ["[", "[\n", "{a: ", "- ", "? ", "[[], "])
def test_endless_nesting_ends_soon(loader: type, scrap: str) -> None:
    with parser(loader):
        assert faults(scrap * 5_000)


def test_aliases_are_refused_before_they_could_multiply() -> None:
    lines = ["a0: &a0 [x, x]"] + [f"a{n}: &a{n} [{', '.join([f'*a{n - 1}'] * 9)}]" for n in range(1, 10)]
    assert len(faults("\n".join(lines))) == 10 + 9 * 9


def test_too_many_nodes_stop_the_reading() -> None:
    assert read_text("- \n" * (NODE_LIMIT - 1), "f")
    assert faults("- \n" * NODE_LIMIT) == [f"{NODE_LIMIT}:2 The document has more than {NODE_LIMIT} keys and values."]


def test_size_is_read_to_the_limit_and_refused_beyond_it(tmp_path: Path) -> None:
    path = tmp_path / "large.yaml"
    path.write_bytes(b"#" * SIZE_LIMIT)
    assert read_document(path).data is None
    path.write_bytes(b"#" * (SIZE_LIMIT + 1))
    with pytest.raises(DocumentFaulty, match="larger than 1 MiB"):
        read_document(path)
    with pytest.raises(DocumentFaulty, match="larger than 1 MiB"):
        read_text("#" * (SIZE_LIMIT + 1), "f")


def test_bytes_that_are_not_utf_8_are_each_named_with_their_place(tmp_path: Path) -> None:
    path = tmp_path / "latin.yaml"
    path.write_bytes("a: ä\nb: größe".encode("latin-1"))
    with pytest.raises(DocumentFaulty) as refused:
        read_document(path, name="latin.yaml")
    assert [str(fault.place) for fault in refused.value.faults] == [
        "latin.yaml:1:4",
        "latin.yaml:2:6",
        "latin.yaml:2:7",
    ]
    assert refused.value.faults[0].message == "The byte 0xE4 is not UTF-8."


def test_a_byte_order_mark_is_named_and_shifts_nothing() -> None:
    assert faults("\ufeffa: 1\nb: no\n") == [
        "1:1 A byte order mark stands here.",
        "2:4 'no' is true or false to some readers.",
    ]


@pytest.mark.parametrize(
    "character", "\x00\x07\x1b\x7f\x85\x9b\u061c\u200b\u200e\u2028\u202e\u2066\ufeff\uffff\ud800\r\t"
)
def test_unseen_characters_are_refused_raw_and_escaped(character: str) -> None:
    assert [fault.partition(" ")[0] for fault in faults(f"a: 'x'\nb: 'y{character}z'\n")] == ["2:6"]
    escaped = json.dumps(character)[1:-1]
    assert faults(f'a: "{escaped}"\n')[0].startswith("1:")


def test_characters_of_every_script_are_read() -> None:
    assert read_text("a: Ölstand 90 N·m 測 🔧 −5 °C", "f").data == {"a": "Ölstand 90 N·m 測 🔧 −5 °C"}


def test_a_binary_file_gives_a_list_that_ends(tmp_path: Path) -> None:
    path = tmp_path / "picture.yaml"
    path.write_bytes(b"\x89\x00\xff" * 100_000)
    with pytest.raises(DocumentFaulty) as refused:
        read_document(path)
    assert len(refused.value.faults) == FAULTS_SHOWN + 1
    assert refused.value.faults[-1].message == "More faults follow."


def test_a_file_that_cannot_be_opened_is_a_fault_of_its_first_place(tmp_path: Path) -> None:
    for path in (tmp_path / "missing.yaml", tmp_path, tmp_path / "null\0.yaml"):
        with pytest.raises(DocumentFaulty) as refused:
            read_document(path, name="x.yaml")
        (fault,) = refused.value.faults
        assert fault.place == Place("x.yaml", 1, 1)
        assert fault.message.startswith("The file cannot be read: ")


def test_an_empty_file_holds_nothing(tmp_path: Path) -> None:
    path = tmp_path / "empty.yaml"
    path.write_text("# only a comment\n")
    assert read_document(path) == Document(None, str(path))
