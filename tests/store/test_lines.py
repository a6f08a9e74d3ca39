import json
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from triage.store import FaultKind, Line
from triage.store.faults import LineError
from triage.store.lines import LINE_LIMIT_BYTES, decode, digest_of, encode, split_seal

TEXT = st.text(st.characters(exclude_categories=["Cs"]))
JSON = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats(allow_nan=False, allow_infinity=False) | TEXT,
    lambda inner: st.lists(inner) | st.dictionaries(TEXT, inner),
    max_leaves=12,
)
SEALED = '{"seq":2,"time":"2026-01-01T00:00:00.000Z","who":"Ann","kind":"note-made","version":1,"data":%s}'


def sealed(body: str | bytes) -> bytes:
    raw = body.encode() if isinstance(body, str) else body
    return raw[:-1] + b',"sha256":"' + digest_of("", raw).encode() + b'"}\n'


def with_data(data: Any) -> Line:
    return Line(2, 0, "Ann", "note-made", 1, {"value": data})


@given(
    seq=st.integers(2, 2**53), at_ms=st.integers(0, 10**14), who=TEXT, kind=TEXT, version=st.integers(1, 99),
    data=st.dictionaries(TEXT, JSON),
)  # fmt: skip
def test_whatever_json_can_hold_comes_back_exactly(seq: int, data: dict[str, object], **others: Any) -> None:
    line = Line(seq, data=data, **others)
    raw, digest = encode(line, "a" * 64)
    assert decode(raw) == line
    assert raw.count(b"\n") == 1
    assert split_seal(raw)[1] == digest


def test_members_stand_in_the_order_of_the_specification_with_the_digest_last() -> None:
    raw, digest = encode(with_data("né"), "")
    assert list(json.loads(raw)) == ["seq", "time", "who", "kind", "version", "data", "sha256"]
    assert raw.endswith(b',"sha256":"' + digest.encode() + b'"}\n')
    assert "né".encode() in raw


@pytest.mark.parametrize(
    "data",
    [float("nan"), float("inf"), "\ud800", {"\udfff": 1}, {1, 2}, b"x", {1: "a", "1": "b"}, 10**5000, object()],
    ids=["nan", "infinity", "surrogate", "surrogate key", "set", "bytes", "keys that become one", "huge", "object"],
)
def test_what_would_not_come_back_is_refused_before_it_is_written(data: object) -> None:
    with pytest.raises(LineError):
        encode(with_data(data), "")


def test_endless_nesting_is_refused_when_written_and_when_read() -> None:
    deep: list[Any] = []
    for _ in range(100_000):
        deep = [deep]
    with pytest.raises(LineError):
        encode(with_data(deep), "")
    with pytest.raises(LineError):
        decode(sealed(SEALED % ('{"a":' + "[" * 100_000 + "]" * 100_000 + "}")))


def test_a_line_may_be_as_long_as_the_limit_and_no_longer() -> None:
    overhead = len(encode(with_data(""), "")[0])
    longest = "x" * (LINE_LIMIT_BYTES - overhead)
    assert len(encode(with_data(longest), "")[0]) == LINE_LIMIT_BYTES
    with pytest.raises(LineError, match="8 MiB") as caught:
        encode(with_data(longest + "x"), "")
    assert caught.value.kind is FaultKind.TOO_LARGE


@pytest.mark.parametrize(
    "data",
    [
        *('{"a":NaN}', '{"a":-Infinity}', '{"a":1e999}', '{"a":"\\ud800"}', '{"a":01}', '{"a":%s}' % ("9" * 5000)),
        *("[]", "null", '{"a":1', "{'a':1}"),
    ],
)
def test_data_that_json_readers_disagree_about_is_unreadable(data: str) -> None:
    with pytest.raises(LineError) as caught:
        decode(sealed(SEALED % data))
    assert caught.value.kind is FaultKind.UNREADABLE


@pytest.mark.parametrize("data", ['{"a":"\\u0007\\ud83d\\ude00"}', '{"a":"\\\\ud800"}'])
def test_escapes_of_whole_characters_are_read(data: str) -> None:
    assert decode(sealed(SEALED % data)).data == json.loads(data)


def test_one_key_twice_is_a_fault_of_its_own() -> None:
    with pytest.raises(LineError) as caught:
        decode(sealed(SEALED % '{"a":{"b":1,"b":1}}'))
    assert caught.value.kind is FaultKind.DUPLICATE_KEY


@pytest.mark.parametrize(
    "edit",
    [
        ('"seq":2', '"seq":0'),
        ('"seq":2', '"seq":-1'),
        ('"seq":2', '"seq":2.0'),
        ('"seq":2', '"seq":true'),
        ('"seq":2', '"seq":"2"'),
        ('"version":1', '"version":0'),
        ('"who":"Ann"', '"who":null'),
        ('"kind":"note-made"', '"kind":["note-made"]'),
        ("00:00:00.000Z", "00:00:00Z"),
        ('"who":"Ann",', ""),
        ('"who":"Ann"', '"who":"Ann","why":"?"'),
        ('{"seq":2,"time"', '{"time"'),
    ],
)
def test_members_of_another_shape_are_unreadable(edit: tuple[str, str]) -> None:
    body = SEALED % "{}"
    assert edit[0] in body
    decode(sealed(body))
    with pytest.raises(LineError) as caught:
        decode(sealed(body.replace(*edit)))
    assert caught.value.kind is FaultKind.UNREADABLE


def test_bytes_that_are_not_utf_8_are_unreadable() -> None:
    with pytest.raises(LineError):
        decode(sealed((SEALED % '{"a":"?"}').encode().replace(b"?", b"\xff")))


@pytest.mark.parametrize("format_version", [None, 0, 3, "1", True, 1.0, {}])
def test_a_first_line_of_another_format_is_foreign(format_version: object) -> None:
    with pytest.raises(LineError) as caught:
        encode(Line(1, 0, "Ann", "session-started", 1, {"format": format_version}), "")
    assert caught.value.kind is FaultKind.FOREIGN_FORMAT
