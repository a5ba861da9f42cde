"""Every message goes through JSON and comes back the same, to the last bit; nothing else may."""

from __future__ import annotations

import dataclasses
import json
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant import messages
from assistant.journal import hash_chain
from assistant.journal.codec import (
    EFFECTS,
    EVENTS,
    NotAMessageError,
    effect_from_record,
    event_from_record,
    from_record,
    known_types,
    to_record,
)
from assistant.messages import Order, Report, Say, Several, Tick

st.register_type_strategy(float, st.floats(allow_nan=False, allow_infinity=False))
JOURNALS = sorted((Path(__file__).parent.parent / "data" / "journals").glob("*.jsonl"))
MESSAGES = st.one_of([st.from_type(kind) for kind in known_types().values()])


@given(MESSAGES)
def test_every_message_comes_back_the_same(message: object) -> None:
    text = json.dumps(to_record(message), allow_nan=False)
    back = from_record(json.loads(text))
    assert back == message
    assert type(back) is type(message)
    assert json.dumps(to_record(back)) == text


def as_old(again: Any, kept: Any) -> Any:
    """What is written today, without the fields that the kept record's program did not know."""
    if isinstance(kept, dict):
        return {name: as_old(again[name], kept[name]) for name in again if name in kept}
    if isinstance(kept, list):
        return [as_old(one, other) for one, other in zip(again, kept, strict=True)]
    return again


@pytest.mark.parametrize("path", JOURNALS, ids=lambda path: path.stem)
def test_every_kept_record_read_and_written_again_has_the_same_bytes(path: Path) -> None:
    raw = path.read_bytes()
    lines = []
    for record in hash_chain.read_chain(raw).records:
        payload = dict(record.payload)
        if record.kind in {"event", "effect"}:
            message = from_record(payload[record.kind])
            payload[record.kind] = as_old(to_record(message), payload[record.kind])
        lines.append(
            hash_chain.encode_line(record.n, record.at, record.kind, payload, record.before)
        )
    assert len(lines) > 30
    assert b"".join(lines) == raw


@pytest.mark.parametrize("number", ["75", "75.0", "1e-05", "1e+16", "0.30000000000000004", "-0.0"])
def test_a_number_is_written_again_as_it_was_written(number: str) -> None:
    text = f'{{"is": "Order", "name": "how long", "value": {number}, "unit": "\\ud800"}}'
    assert json.dumps(to_record(from_record(json.loads(text)))) == text


def test_the_vocabulary_is_covered() -> None:
    dataclass_names = {
        name
        for name, one in vars(messages).items()
        if isinstance(one, type) and dataclasses.is_dataclass(one)
    }
    assert set(known_types()) == dataclass_names
    assert {kind.__name__ for kind in EVENTS | EFFECTS} < dataclass_names


@pytest.mark.parametrize(
    "shape",
    [
        None, 3, [], {}, {"is": 3}, {"is": "Nothing"}, {"is": "Tick"}, {"is": "Tick", "at": "now"},
        {"is": "Tick", "at": True}, {"is": "Tick", "at": 1.0, "more": 1},
        {"is": "Tick", "at": None},
        {"is": "Say", "text": 3}, {"is": "Say", "text": "a", "urgency": "LOUD"},
        {"is": "Answer", "word": "perhaps"}, {"is": "Several", "reports": {"is": "Report"}},
        {"is": "Several", "reports": [{"is": "Tick", "at": 1.0}]},
        {"is": "ReadingAccepted", "report": {"what": "water", "value": 0.5}},
        {"is": "ReadingAccepted", "report": {"is": "Report", "what": "water"}},
        {"is": "Correction", "report": {"is": "Answer", "word": "yes"}},
        {"is": "Answer", "word": "\ud800"}, {"is": "Tone", "grade": 3},
        {"is": "Tick", "at": 1.0, "\ud800": 1}, {"is": "Say", "text": "a", "urgency": None},
        {"is": "Listen", "expected": {"is": "Expected", "answers": [["a"]]}},
        {"is": "Listen", "expected": {"is": "Expected", "elsewhere": []}},
        {"is": "Tick", "at": float("nan")}, {"is": "Tick", "at": 10**400},
        {"is": "Tick", "at": -(10**400)}, {"is": "Tick", "at": float("inf")},
    ],
)  # fmt: skip
def test_what_is_no_message_is_refused(shape: object) -> None:
    with pytest.raises(NotAMessageError):
        from_record(shape)


def test_an_event_is_no_effect() -> None:
    with pytest.raises(NotAMessageError, match="Tick is no effect"):
        effect_from_record(to_record(Tick(1.0)))
    with pytest.raises(NotAMessageError, match="Say is no event"):
        event_from_record(to_record(Say("a")))


def test_a_number_that_is_none_is_not_written() -> None:
    with pytest.raises(NotAMessageError):
        to_record(Order("how long", float("inf")))


def test_a_field_that_an_older_program_did_not_write_takes_its_default() -> None:
    assert from_record({"is": "Started", "at": 0.0}) == messages.Started(0.0)


def test_nested_meanings_are_tagged() -> None:
    record = to_record(Several((Report("water", 0.5, "glass"),)))
    assert record["reports"][0]["is"] == "Report"
