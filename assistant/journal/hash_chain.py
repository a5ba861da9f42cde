"""The hash chain of a journal: bytes in, records and verdict out. Pure; see FORMAT.md.

A line is one JSON object. `before` is the SHA-256 of the previous line without its newline, of
nothing for the first; `sum`, the start of the line's own hash, covers the last line too.
"""

from __future__ import annotations

import hashlib
import json
import math
import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Literal, NamedTuple, NoReturn

RESERVED_KEYS = ("n", "at", "kind", "before", "sum")  # in every record besides its payload
FIRST_BEFORE = hashlib.sha256(b"").hexdigest()
MAX_LINE_BYTES = 4_000_000
MAX_AT_S = 1e10  # three hundred years; with more no date can be told
SUM_LENGTH = 16  # hex digits; the full hash of a line is in the next one
State = Literal["whole", "cut", "altered"]


class Record(NamedTuple):
    """One record as it was written."""

    n: int
    at: float
    """Session time [s]."""
    kind: str
    payload: Mapping[str, Any]
    """All keys but `RESERVED_KEYS`."""
    before: str
    """Hash of the line before it."""


@dataclass(frozen=True, slots=True)
class ChainReading:
    """The records before the first bad line, and the verdict on the chain."""

    records: tuple[Record, ...]
    """The good records, or those of them that were asked for."""
    count: int
    """Number of good lines; more than `records` where only some were asked for."""
    state: State
    where: int | None
    """Number (from 0) of the first bad record, None when whole."""
    why: str
    """The reason it is bad, empty when whole."""
    whole_bytes: int
    """Length of the good part."""
    last: str
    """Hash of the last good line, which the next record must carry."""


def encode_line(n: int, at: float, kind: str, payload: Mapping[str, Any], before: str) -> bytes:
    """The line of a record with its newline. ValueError for NaN or a reserved payload key."""
    clash = set(payload) & set(RESERVED_KEYS)
    if clash:
        raise ValueError(f"a payload must not hold {min(clash)!r}")
    body = {"n": n, "at": at, "kind": kind, **payload, "before": before}
    text = json.dumps(body, ensure_ascii=False, allow_nan=False, separators=(",", ":"))
    try:
        raw = text.encode("utf-8")
    except UnicodeEncodeError:  # a lone surrogate: only an escape can hold it
        raw = json.dumps(body, allow_nan=False, separators=(",", ":")).encode("ascii")
    return with_sum(raw)


def with_sum(raw: bytes) -> bytes:
    """A record's JSON object with `sum` appended as its last key, and the newline."""
    return raw[:-1] + f',"sum":"{_line_sum(raw)}"}}\n'.encode()


def hash_of(line: bytes) -> str:
    """The hash that the next record carries of this line (given without its newline)."""
    return hashlib.sha256(line).hexdigest()


def digest_of(hexadecimal: str) -> str:
    """A hash as sixteen decimal digits, to be spoken and written in a paper book.

    >>> digest_of("ff" * 32)
    '4007 9131 2963 9935'
    """
    digits = f"{int(hexadecimal, 16) % 10**16:016d}"
    return " ".join(digits[i : i + 4] for i in range(0, 16, 4))


def _line_sum(raw: bytes) -> str:
    return hashlib.sha256(raw).hexdigest()[:SUM_LENGTH]


def read_chain(
    raw: bytes, only: tuple[bytes, ...] = (), skip: tuple[bytes, ...] = ()
) -> ChainReading:
    """Read the records of a journal as far as its hash chain holds.

    only, skip: byte marks, for speed: only lines that contain one of `only`, and none of `skip`,
    are decoded (and always the first and the last); the hashes of every line are verified anyway.
    """
    records: list[Record] = []
    count, before, start = 0, FIRST_BEFORE, 0
    last = raw.rfind(b"\n", 0, max(raw.rfind(b"\n"), 0)) + 1
    while start < len(raw):
        end = raw.find(b"\n", start)
        if end < 0:
            verdict = _torn_end(count, raw[start:], before)
            return ChainReading(tuple(records), count, *verdict, start, before)
        line = raw[start:end]
        try:
            wanted = not only or count == 0 or _contains_any(line, only)
            if start >= last or (wanted and not _contains_any(line, skip)):
                records.append(_parse_record(line, count, before))
            else:
                _verify_line(line, count, before)
        except _BrokenError as broken:
            reason = str(broken)
            return ChainReading(tuple(records), count, "altered", count, reason, start, before)
        count, before, start = count + 1, hash_of(line), end + 1
    return ChainReading(tuple(records), count, "whole", None, "", start, before)


def _contains_any(line: bytes, marks: tuple[bytes, ...]) -> bool:
    for mark in marks:  # noqa: SIM110 - a plain loop is faster, and it runs for every line
        if mark in line:
            return True
    return False


def _torn_end(n: int, line: bytes, before: str) -> tuple[State, int, str]:
    """The verdict on a last line without a newline: usually cut short while being written."""
    place = line.rfind(b',"sum":"')
    if place >= 0 and len(line) > place + len(b',"sum":""}') + SUM_LENGTH:
        return "altered", n, f"record {n} does not end where it should: something was put behind it"
    try:
        kind = _parse_record(line, n, before).kind
    except _BrokenError:
        why = f"record {n} is cut short: {len(line)} bytes of it are there, the rest is lost"
        return "cut", n, why
    return "cut", n, f"record {n} ({kind}) is cut short by its line end only"


class _BrokenError(Exception):
    """The reason why a line is not the next record."""


_LINE = re.compile(
    rb'\{"n":(?P<n>\d{1,12}),.*,"before":"(?P<before>[0-9a-f]{64})","sum":"[0-9a-f]{16}"\}'
)


def _verify_line(line: bytes, n: int, before: str) -> int:
    """Verify that the line is record `n` and follows the line with that hash, else _BrokenError.

    Returns the length of its end, which holds both hashes. A comparison of bytes, for speed: a line
    that passes needs no parsing to be verified.
    """
    line_sum = _line_sum(line[: -len(b',"sum":""}') - SUM_LENGTH] + b"}")
    end = f',"before":"{before}","sum":"{line_sum}"}}'.encode()
    if not (line.endswith(end) and line.startswith(b'{"n":%d,' % n)):
        _raise_broken(line, n, before)
    if len(line) > MAX_LINE_BYTES:
        raise _BrokenError(f"record {n} is longer than any we write")
    return len(end)


def _raise_broken(line: bytes, n: int, before: str) -> NoReturn:
    """Raise _BrokenError with the reason why a line is not record `n`."""
    if len(line) > MAX_LINE_BYTES:
        raise _BrokenError(f"record {n} is longer than any we write")
    parts = _LINE.fullmatch(line)
    if parts is None:
        raise _BrokenError(f"record {n} is no longer readable")
    if int(parts["n"]) != n:
        raise _BrokenError(f"record {n} is missing: the record found there says {int(parts['n'])}")
    if parts["before"].decode() != before:
        changed = f"record {n - 1} or {n} was changed"
        raise _BrokenError(
            f"record {n} does not follow the one before it: {changed}"
            if n else "record 0 does not begin a journal"
        )  # fmt: skip
    kind = re.search(rb'"kind":"(\w{1,20})"', line[:200])
    raise _BrokenError(f"record {n}{f' ({kind[1].decode()})' if kind else ''} was changed")


def _parse_record(line: bytes, n: int, before: str) -> Record:
    """The record of a line, once it is verified; the hashes at its end are not parsed again."""
    payload_ends = -_verify_line(line, n, before)
    try:
        text = line[:payload_ends].decode("utf-8") + "}"
        body, end = _DECODER.raw_decode(text)
        if end != len(text):
            raise ValueError("more than one")
        at = float(body["at"])
    except (ValueError, RecursionError, KeyError, TypeError, OverflowError) as wrong:
        raise _BrokenError(f"record {n} is no longer readable") from wrong
    kind = body.get("kind")
    if not isinstance(kind, str) or not math.isfinite(at) or abs(at) > MAX_AT_S:
        raise _BrokenError(f"record {n} lacks a time or a kind")
    for key in RESERVED_KEYS:
        body.pop(key, None)
    return Record(n, at, kind, body, before)


def _no_constant(name: str) -> float:
    raise ValueError(f"{name} is not a number")


_DECODER = json.JSONDecoder(parse_constant=_no_constant)
