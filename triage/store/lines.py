"""One line of a trace, as a value and as bytes, and the digest that ties it to the line before.

`docs/trace-format.md` is the specification; a stranger can check a trace from it without this program.
"""

import contextlib
import json
import math
import re
from collections.abc import Mapping
from dataclasses import dataclass
from hashlib import sha256
from typing import NoReturn

from triage.store.faults import FaultKind, LineError
from triage.store.instants import iso_ms, iso_text

FORMAT_VERSION = 2
"""The format that is written. The first line's data says it under `format`."""
FORMATS = (1, 2)
"""The formats that can be read."""
LINE_LIMIT_BYTES = 8 * 1024 * 1024

_KEYS = ("seq", "time", "who", "kind", "version", "data")
_SEAL = re.compile(rb',"sha256":"([0-9a-f]{64})"\}\n\Z')
_SEAL_BYTES = 78
_KNOWLEDGE = b',"knowledge":{'


@dataclass(frozen=True)
class Line:
    """One saved event.

    Attributes:
        seq: place in the trace, from 1 without gaps.
        at_ms: when, since the UTC epoch [ms].
        who: the person or the part of the program that it is from.
        kind: what happened.
        version: version of the kind's data, from 1.
        data: anything that JSON can hold; the first line's has `format` in it.
    """

    seq: int
    at_ms: int
    who: str
    kind: str
    version: int
    data: Mapping[str, object]


def digest_of(digest_before: str, body: bytes) -> str:
    """Work out the digest of a line.

    Args:
        digest_before: hexadecimal digest of the line before; empty for the first.
        body: the line's JSON object without its digest member and without line end.
    """
    return sha256(digest_before.encode("ascii") + body).hexdigest()


def encode(line: Line, digest_before: str) -> tuple[bytes, str]:
    """Write a line as the bytes that go to disk.

    Args:
        line: what is written.
        digest_before: hexadecimal digest of the line before; empty for the first.

    Returns:
        the bytes with their line end, and the line's own digest.

    Raises:
        LineError: the line holds something that would not come back, such as nan or half of a character.
    """
    try:
        values = (line.seq, iso_text(line.at_ms), line.who, line.kind, line.version, dict(line.data))
        members = dict(zip(_KEYS, values, strict=True))
        body = json.dumps(members, ensure_ascii=False, allow_nan=False, separators=(",", ":")).encode("utf-8")
    except UnicodeEncodeError:
        raise _unreadable("holds half of a character") from None
    except (TypeError, ValueError, RecursionError) as error:
        raise _unreadable(f"holds what no JSON can ({error})") from None
    digest = digest_of(digest_before, body)
    raw = body[:-1] + b',"sha256":"' + digest.encode("ascii") + b'"}\n'
    # What could not be read back must never reach the disk, so reading has the last word.
    decode(raw)
    return raw, digest


def split_seal(raw: bytes) -> tuple[bytes, str]:
    """Part a line into what its digest covers and the digest that it carries, which is empty if it carries none."""
    match = _SEAL.match(raw[-_SEAL_BYTES:])
    if match is None:
        return raw, ""
    return raw[:-_SEAL_BYTES] + b"}", match[1].decode("ascii")


def decode(raw: bytes) -> Line:
    """Read a line from its bytes, whether or not its digest fits.

    Args:
        raw: the line with its line end.

    Raises:
        LineError: the bytes are no line of a trace, or are the first line of a format that is not known here.
    """
    if len(raw) > LINE_LIMIT_BYTES:
        raise LineError(FaultKind.TOO_LARGE, f"is longer than {LINE_LIMIT_BYTES >> 20} MiB")
    body, digest = split_seal(raw)
    if not digest:
        raise _unreadable("does not end in its digest")
    line = _line(_parse(body))
    if line.seq == 1 and repr(line.data.get("format")) not in map(repr, FORMATS):
        found = repr(line.data.get("format"))[:20]
        known = " and ".join(map(str, FORMATS))
        raise LineError(FaultKind.FOREIGN_FORMAT, f"names trace format {found}; this program knows {known}")
    return line


def opening_line(raw: bytes) -> Line:
    """Read a trace's first line from its bytes but for the knowledge in it, which is nearly all of it.

    Args:
        raw: the line with its line end.

    Raises:
        LineError: as `decode`.
    """
    # Within a text a quote is escaped, so this can only be a key.
    before, found, _ = raw.partition(_KNOWLEDGE)
    if found and len(raw) <= LINE_LIMIT_BYTES:
        with contextlib.suppress(LineError):
            return decode(before + b"}" + raw[-_SEAL_BYTES:])
    return decode(raw)


def _line(members: object) -> Line:
    if not isinstance(members, dict) or tuple(members) != _KEYS:
        raise _unreadable(f"is not an object of {', '.join(_KEYS)}")
    match tuple(members.values()):
        case (int(seq), str(time), str(who), str(kind), int(version), dict(data)) if _count(seq) and _count(version):
            return Line(seq, _at_ms(time), who, kind, version, data)
    raise _unreadable("has a member of the wrong type")


def _count(number: int) -> bool:
    return number >= 1 and not isinstance(number, bool)


def _at_ms(time: str) -> int:
    try:
        return iso_ms(time)
    except ValueError:
        raise _unreadable("has no valid time") from None


def _parse(body: bytes) -> object:
    try:
        found: object = json.loads(
            body.decode("utf-8"), object_pairs_hook=_members, parse_float=_finite, parse_constant=_refuse_constant
        )
        # Halves of characters can hide in escapes; whole control characters are escaped too, so look closer.
        if b"\\u" in body:
            json.dumps(found, ensure_ascii=False).encode("utf-8")
    except LineError:
        raise
    except (ValueError, RecursionError):
        raise _unreadable("is not JSON") from None
    return found


def _members(pairs: list[tuple[str, object]]) -> dict[str, object]:
    members = dict(pairs)
    if len(members) < len(pairs):
        raise LineError(FaultKind.DUPLICATE_KEY, "has one key twice in an object")
    return members


def _finite(text: str) -> float:
    number = float(text)
    if math.isinf(number):
        raise ValueError(text)
    return number


def _refuse_constant(text: str) -> NoReturn:
    raise ValueError(text)


def _unreadable(reason: str) -> LineError:
    return LineError(FaultKind.UNREADABLE, reason)
