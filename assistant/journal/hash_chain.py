"""One record a line, each carrying the hash of the line before. Pure: bytes in, verdict out.

A line is UTF-8 JSON ending in a newline: {"n": 0, "at": 0.0, "kind": "...", ..., "before": "..."}.
`before` is the SHA-256 of the whole previous line without its newline; of nothing for the first.
The last line has no follower that vouches for it, so every line also carries its own `sum`.
"""

from __future__ import annotations

import hashlib
import json
import math
import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Literal, NamedTuple, NoReturn

RESERVED_KEYS = ("n", "at", "kind", "before", "sum")  # what every record has besides its payload
FIRST_BEFORE = hashlib.sha256(b"").hexdigest()
MAX_LINE_BYTES = 4_000_000
SUM_LENGTH = 16  # hex digits; the full hash of the line stands in its follower
State = Literal["whole", "cut", "altered"]


class Record(NamedTuple):
    """One record as it was written. payload: everything besides number, time, kind and hashes.

    before: hash of the whole line in front of it.
    """

    n: int
    at: float
    kind: str
    payload: Mapping[str, Any]
    before: str


@dataclass(frozen=True, slots=True)
class ChainReading:
    """What a run of lines holds: the good records in front of the first bad place, and the verdict.

    count: how many good lines there are, which is more than `records` where only some were read.
    where: the number (from 0) of the first bad record, None when whole. whole_bytes: length of the
    good part. last: hash of the last good line, which the next record must carry.
    """

    records: tuple[Record, ...]
    count: int
    state: State
    where: int | None
    why: str
    whole_bytes: int
    last: str


def encode_line(n: int, at: float, kind: str, payload: Mapping[str, Any], before: str) -> bytes:
    """The line of a record, newline and all. ValueError for NaN, or a payload key of our own."""
    clash = set(payload) & set(RESERVED_KEYS)
    if clash:
        raise ValueError(f"a payload must not hold {min(clash)!r}")
    body = {"n": n, "at": at, "kind": kind, **payload, "before": before}
    text = json.dumps(body, ensure_ascii=False, allow_nan=False, separators=(",", ":"))
    try:
        raw = text.encode("utf-8")
    except UnicodeEncodeError:  # half a surrogate pair: only an escape can hold it
        raw = json.dumps(body, allow_nan=False, separators=(",", ":")).encode("ascii")
    return with_sum(raw)


def with_sum(raw: bytes) -> bytes:
    """A record's JSON object with its own `sum` put at its end, and the line end."""
    return raw[:-1] + f',"sum":"{_line_sum(raw)}"}}\n'.encode()


def hash_of(line: bytes) -> str:
    """The hash that the next record carries of this line (given without its newline)."""
    return hashlib.sha256(line).hexdigest()


def digest_of(hexadecimal: str) -> str:
    """A hash as sixteen digits that can be spoken and written in a bound book.

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
    """Follow the chain through the bytes of a journal as far as it holds.

    only: when given, records are read only where their line holds one of these (and the first and
    the last line). skip: when given, none where it holds one of these (but the last line). Every
    line is still proved by its hashes.
    """
    records: list[Record] = []
    count, before, start = 0, FIRST_BEFORE, 0
    last = raw.rfind(b"\n", 0, max(raw.rfind(b"\n"), 0)) + 1
    while start < len(raw):
        end = raw.find(b"\n", start)
        if end < 0:
            why = _torn_end(count, raw[start:], before)
            return ChainReading(tuple(records), count, *why, start, before)
        line = raw[start:end]
        try:
            wanted = not only or count == 0 or _contains_any(line, only)
            if start >= last or (wanted and not _contains_any(line, skip)):
                records.append(_parse_record(line, count, before))
            else:
                _verify_line(line, count, before)
        except _BrokenError as broken:
            why = ("altered", count, str(broken))
            return ChainReading(tuple(records), count, *why, start, before)
        count, before, start = count + 1, hash_of(line), end + 1
    return ChainReading(tuple(records), count, "whole", None, "", start, before)


def _contains_any(line: bytes, marks: tuple[bytes, ...]) -> bool:
    for mark in marks:  # noqa: SIM110 - a plain loop, because it is gone through for every line
        if mark in line:
            return True
    return False


def _torn_end(n: int, line: bytes, before: str) -> tuple[State, int, str]:
    """The verdict on a last line without its line end: cut short while it was being written."""
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
    """Why a line is not the record it should be."""


_LINE = re.compile(
    rb'\{"n":(?P<n>\d{1,12}),.*,"before":"(?P<before>[0-9a-f]{64})","sum":"[0-9a-f]{16}"\}'
)


def _verify_line(line: bytes, n: int, before: str) -> int:
    """That the line is record `n` and follows the line of that hash; _BrokenError otherwise.

    How long its end is that holds both hashes.
    """
    own = _line_sum(line[: -len(b',"sum":""}') - SUM_LENGTH] + b"}")
    end = f',"before":"{before}","sum":"{own}"}}'.encode()
    if not (line.endswith(end) and line.startswith(b'{"n":%d,' % n)):
        _raise_broken(line, n, before)
    if len(line) > MAX_LINE_BYTES:
        raise _BrokenError(f"record {n} is longer than any we write")
    return len(end)


def _raise_broken(line: bytes, n: int, before: str) -> NoReturn:
    """Why a line that is not the record it should be is not; raises _BrokenError."""
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
    """The record that a proved line holds; the hashes at its end are proved, and not read again."""
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
    if not isinstance(kind, str) or not math.isfinite(at):
        raise _BrokenError(f"record {n} lacks a time or a kind")
    for own in RESERVED_KEYS:
        body.pop(own, None)
    return Record(n, at, kind, body, before)


def _no_constant(name: str) -> float:
    raise ValueError(f"{name} is no number")


_DECODER = json.JSONDecoder(parse_constant=_no_constant)
