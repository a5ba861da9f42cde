"""The first records of a journal come back as they were, or are found incomplete."""

from __future__ import annotations

import hashlib

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.errors import InputWrongError
from assistant.journal.hash_chain import Record
from assistant.journal.header import (
    ROLES,
    Header,
    KeptText,
    header_from,
    header_records,
    refuse_newer,
)

TEXTS = st.builds(
    KeptText, st.sampled_from(ROLES), st.text(), st.text(st.characters(codec="utf-8"))
)
HEADERS = st.builds(
    Header,
    st.text(),
    st.text(),
    st.integers(),
    st.floats(50_000.0, 110_000.0),
    st.lists(TEXTS, max_size=5).map(tuple),
    st.sampled_from(["live", "typed", "script", "rehearsal"]),
    st.text(),
)


def records(header: Header) -> list[Record]:
    return [Record(n, 0.0, kind, body, "") for n, (kind, body) in enumerate(header_records(header))]


@given(HEADERS)
def test_it_comes_back_the_same(header: Header) -> None:
    more = Record(99, 1.0, "event", {}, "")
    assert header_from([*records(header), more]) == header


@given(HEADERS, st.integers(0, 5))
def test_a_header_cut_anywhere_is_none(header: Header, end: int) -> None:
    whole = records(header)
    assert header_from(whole[: min(end, len(whole) - 1)]) is None


def test_a_header_without_one_of_its_keys_is_none() -> None:
    (first, *rest) = records(Header("E", "2026-05-02", 1, 101_325.0, ()))
    for key in first.payload:
        body = {name: value for name, value in first.payload.items() if name != key}
        assert header_from([first._replace(payload=body), *rest]) is None


@pytest.mark.parametrize("pressure_pa", [-1e9, 0.0, 1e6, float("nan"), float("inf")])
def test_no_book_of_ours_tells_of_such_air(pressure_pa: float) -> None:
    assert header_from(records(Header("E", "2026-05-02", 1, pressure_pa, ()))) is None


def test_the_hash_of_a_text_is_that_of_its_utf_8() -> None:
    kept = KeptText("engine", "e.yaml", "name: № 4\n")
    assert kept.sha256 == hashlib.sha256("name: № 4\n".encode()).hexdigest()


def test_an_unknown_role_is_not_written() -> None:
    header = Header("E", "2026-05-02", 1, 101_325.0, (KeptText("weather", "w", ""),))
    with pytest.raises(ValueError, match="no role 'weather'"):
        list(header_records(header))


def test_a_newer_format_is_refused_by_the_version_that_wrote_it() -> None:
    with pytest.raises(InputWrongError, match=r"version 9\.1, format 3\); this one reads format 2"):
        refuse_newer({"format": 3, "program": "9.1"})
    refuse_newer({"format": 1})
    refuse_newer({"format": 2})
    refuse_newer({})
