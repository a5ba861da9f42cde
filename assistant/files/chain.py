"""One record a line, each carrying the hash of the line before. Pure: bytes in, verdict out.

A line is UTF-8 JSON ending in a newline: {"n": 0, "at": 0.0, "kind": "...", ..., "before": "..."}.
`before` is the SHA-256 of the whole previous line without its newline; of nothing for the first.
The last line has no follower that vouches for it, so every line also carries its own `sum`.
"""

from __future__ import annotations

import hashlib
import json
import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Literal

OWN = ("n", "at", "kind", "before", "sum")  # what every record has besides its payload
FIRST_BEFORE = hashlib.sha256(b"").hexdigest()
MOST_LINE_BYTES = 4_000_000
SUM_LENGTH = 16  # hex digits; the full hash of the line stands in its follower
State = Literal["whole", "cut", "altered"]


@dataclass(frozen=True, slots=True)
class Record:
    """One record as it was written. payload: everything besides number, time, kind and hashes.

    before: hash of the whole line in front of it.
    """

    n: int
    at: float
    kind: str
    payload: Mapping[str, Any]
    before: str


@dataclass(frozen=True, slots=True)
class Chained:
    """What a run of lines holds: the good records in front of the first bad place, and the verdict.

    where: the number (from 0) of the first bad record, None when whole. whole_bytes: length of the
    good part. last: hash of the last good line, which the next record must carry.
    """

    records: tuple[Record, ...]
    state: State
    where: int | None
    why: str
    whole_bytes: int
    last: str


def line_of(n: int, at: float, kind: str, payload: Mapping[str, Any], before: str) -> bytes:
    """The line of a record, newline and all. ValueError for NaN, or a payload key of our own."""
    clash = set(payload) & set(OWN)
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
    return raw[:-1] + f',"sum":"{_short(raw)}"}}\n'.encode()


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


def _short(raw: bytes) -> str:
    return hashlib.sha256(raw).hexdigest()[:SUM_LENGTH]


def follow(raw: bytes) -> Chained:
    """Follow the chain through the bytes of a journal as far as it holds."""
    records: list[Record] = []
    before, start = FIRST_BEFORE, 0
    while start < len(raw):
        end = raw.find(b"\n", start)
        line = raw[start:] if end < 0 else raw[start:end]
        if end < 0:
            return _torn(records, line, len(raw) - start, start, before)
        try:
            records.append(_record(line, len(records), before))
        except _BrokenError as broken:
            return Chained(tuple(records), "altered", len(records), str(broken), start, before)
        before, start = hash_of(line), end + 1
    return Chained(tuple(records), "whole", None, "", start, before)


def _torn(records: list[Record], line: bytes, lost: int, start: int, before: str) -> Chained:
    """The verdict on a last line without its newline: cut short while it was being written."""
    n = len(records)
    place = line.rfind(b',"sum":"')
    if place >= 0 and len(line) > place + len(b',"sum":""}') + SUM_LENGTH:
        why = f"record {n} does not end where it should: something was put behind it"
        return Chained(tuple(records), "altered", n, why, start, before)
    try:
        kind = _record(line, n, before).kind
        why = f"record {n} ({kind}) is cut short by its line end only"
    except _BrokenError:
        why = f"record {n} is cut short: {lost} bytes of it are there, the rest is lost"
    return Chained(tuple(records), "cut", n, why, start, before)


class _BrokenError(Exception):
    """Why a line is not the record it should be."""


def _record(line: bytes, n: int, before: str) -> Record:
    if len(line) > MOST_LINE_BYTES:
        raise _BrokenError(f"record {n} is longer than any we write")
    try:
        body = _DECODER.decode(line.decode("utf-8"))
    except (ValueError, RecursionError) as wrong:
        raise _BrokenError(f"record {n} is no longer readable") from wrong
    if not isinstance(body, dict) or not body.keys() >= _OWN:
        raise _BrokenError(f"record {n} lacks a part that every record has")
    if body["n"] != n or isinstance(body["n"], bool):
        raise _BrokenError(f"record {n} is missing: the record found there says {body['n']!r}")
    if body["before"] != before:
        raise _BrokenError(
            f"record {n} does not follow the one before it: record {n - 1} or {n} was changed"
            if n else "record 0 does not begin a journal"
        )  # fmt: skip
    if not _sum_holds(line):
        raise _BrokenError(f"record {n} ({str(body['kind'])[:40]}) was changed")
    if not isinstance(body["at"], int | float) or not isinstance(body["kind"], str):
        raise _BrokenError(f"record {n} lacks a time or a kind")
    kind = body["kind"]
    try:
        at = float(body["at"])
    except OverflowError as wrong:
        raise _BrokenError(f"record {n} has no time that can be") from wrong
    if not math.isfinite(at):
        raise _BrokenError(f"record {n} has no time that can be")
    for own in OWN:
        del body[own]
    return Record(n, at, kind, body, before)


def _sum_holds(line: bytes) -> bool:
    """Whether the line, less its own `sum` at the end, still has that sum."""
    place = line.rfind(b',"sum":"')
    return place >= 0 and line[place:] == f',"sum":"{_short(line[:place] + b"}")}"}}'.encode()


def _no_constant(name: str) -> float:
    raise ValueError(f"{name} is no number")


_OWN = frozenset(OWN)
_DECODER = json.JSONDecoder(parse_constant=_no_constant)
