"""Every message goes through JSON and comes back the same, to the last bit; nothing else may."""

from __future__ import annotations

import dataclasses
import json

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant import messages
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
MESSAGES = st.one_of([st.from_type(kind) for kind in known_types().values()])


@given(MESSAGES)
def test_every_message_comes_back_the_same(message: object) -> None:
    text = json.dumps(to_record(message), allow_nan=False)
    back = from_record(json.loads(text))
    assert back == message
    assert type(back) is type(message)


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
