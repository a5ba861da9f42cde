"""Events, effects and all that they hold <-> plain JSON values, strictly and exactly.

A dataclass becomes {"is": its name, field: value, ...}; floats come back bit for bit. Knows the
vocabulary's types by walking `messages`, and no file.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import fields, is_dataclass
from enum import IntEnum
from functools import cache
from types import NoneType, UnionType
from typing import Any, Literal, get_args, get_origin, get_type_hints

from assistant import messages

_JsonObject = dict[str, Any]
TAG = "is"


class NotAMessageError(ValueError):
    """A JSON value that is no message of this version."""


@cache
def known_types() -> dict[str, type]:
    """Every dataclass of the vocabulary by its name."""
    found = (getattr(messages, name) for name in dir(messages))
    return {
        one.__name__: one
        for one in found
        if isinstance(one, type) and is_dataclass(one) and one.__module__ == messages.__name__
    }


EVENTS: frozenset[type] = frozenset(get_args(messages.Event))
EFFECTS: frozenset[type] = frozenset(get_args(messages.Effect))


def to_record(message: object) -> _JsonObject:
    """The JSON shape of an event, an effect or a meaning. ValueError for NaN and infinities.

    >>> to_record(messages.Tick(1.5))
    {'is': 'Tick', 'at': 1.5}
    """
    if known_types().get(type(message).__name__) is not type(message):
        raise NotAMessageError(f"{type(message).__name__} is no message")
    shape: _JsonObject = {TAG: type(message).__name__}
    kind: type = type(message)
    for name in _field_names(kind):
        shape[name] = _to_json(getattr(message, name))
    return shape


@cache
def _field_names(kind: type) -> tuple[str, ...]:
    return tuple(one.name for one in fields(kind))


def _to_json(value: object) -> Any:
    if isinstance(value, IntEnum):
        return value.name
    if value is None or isinstance(value, str | bool | int):
        return value
    if isinstance(value, float):
        if not math.isfinite(value):
            raise NotAMessageError(f"{value} cannot be written down")
        return value
    if isinstance(value, tuple):
        return [_to_json(item) for item in value]
    return to_record(value)


def event_from_record(shape: object) -> messages.Event:
    """The event of a JSON shape; NotAMessageError for anything else."""
    return _message_of_kind(EVENTS, shape, "event")  # type: ignore[no-any-return]


def effect_from_record(shape: object) -> messages.Effect:
    """The effect of a JSON shape; NotAMessageError for anything else."""
    return _message_of_kind(EFFECTS, shape, "effect")  # type: ignore[no-any-return]


def _message_of_kind(kinds: frozenset[type], shape: object, what: str) -> Any:
    message = from_record(shape)
    if type(message) not in kinds:
        raise NotAMessageError(f"{type(message).__name__} is no {what}")
    return message


def from_record(shape: object) -> Any:
    """The message of a JSON shape, every field checked against its type.

    A field that the shape lacks takes its default, so that an older journal can be read; a field
    that this version does not know is refused.
    """
    if not isinstance(shape, dict) or not isinstance(shape.get(TAG), str):
        raise NotAMessageError(f"no '{TAG}' in {str(shape)[:60]!r}")
    kind = known_types().get(shape[TAG])
    if kind is None:
        raise NotAMessageError(f"unknown message {shape[TAG][:60]!r}")
    readers = _readers(kind)
    given = {}
    for name, value in shape.items():
        if name != TAG:
            if name not in readers:
                raise NotAMessageError(f"{shape[TAG]} has no field {str(name)[:60]!r}")
            given[name] = readers[name](value)
    try:
        return kind(**given)
    except TypeError as wrong:
        raise NotAMessageError(f"{shape[TAG]}: {wrong}") from wrong


Reader = Callable[[Any], Any]


@cache
def _readers(kind: type) -> dict[str, Reader]:
    """For each field of a message, what makes its value out of a JSON value."""
    return {name: _reader(hint) for name, hint in get_type_hints(kind).items()}


def _reader(hint: Any) -> Reader:
    """What makes a value of this type, or raises NotAMessageError when the JSON does not fit."""
    origin = get_origin(hint)
    if origin is Literal:
        return _literal(hint, frozenset(get_args(hint)))
    if isinstance(hint, UnionType) or origin is UnionType:
        return _union(hint, [one for one in get_args(hint) if one is not NoneType])
    if origin is tuple:
        return _tuple(hint, get_args(hint))
    if isinstance(hint, type) and issubclass(hint, IntEnum):
        return _enum_member(hint)
    if hint in known_types().values():
        return _dataclass(hint)
    return _number if hint is float else _exact_type(hint)


def _refused(value: Any, hint: Any) -> NotAMessageError:
    return NotAMessageError(f"{str(value)[:60]!r} is no {getattr(hint, '__name__', hint)}")


def _number(value: Any) -> Any:
    fits = type(value) is float or type(value) is int
    if not fits or not math.isfinite(value):
        raise _refused(value, float)
    return value


def _exact_type(hint: type) -> Reader:
    def read(value: Any) -> Any:
        if type(value) is not hint:
            raise _refused(value, hint)
        return value

    return read


def _literal(hint: Any, words: frozenset[str]) -> Reader:
    def read(value: Any) -> Any:
        if not isinstance(value, str) or value not in words:
            raise _refused(value, hint)
        return value

    return read


def _enum_member(hint: type[IntEnum]) -> Reader:
    def read(value: Any) -> Any:
        if not isinstance(value, str) or value not in hint.__members__:
            raise _refused(value, hint)
        return hint[value]

    return read


def _dataclass(hint: type) -> Reader:
    def read(value: Any) -> Any:
        message = from_record(value)
        if type(message) is not hint:
            raise _refused(message, hint)
        return message

    return read


def _union(hint: Any, choices: list[Any]) -> Reader:
    readers = [_reader(choice) for choice in choices]
    may_be_none = NoneType in get_args(hint)
    plain = {one: _reader(one) for one in choices if one in (str, bool, int, float)}
    if float in plain:
        plain.setdefault(int, plain[float])

    def read(value: Any) -> Any:
        if value is None and may_be_none:
            return None
        at_once = plain.get(type(value))  # trying one after the other is slow for the commonest
        if at_once is not None:
            return at_once(value)
        reason: NotAMessageError | None = None
        for reader in readers:
            try:
                return reader(value)
            except NotAMessageError as wrong:
                reason = wrong
        raise reason or _refused(value, hint)

    return read


def _tuple(hint: Any, inner: tuple[Any, ...]) -> Reader:
    """Tuples are lists in JSON; `tuple[X, ...]` or one type a place."""
    endless = len(inner) == 2 and inner[1] is Ellipsis
    readers = [_reader(one) for one in inner if one is not Ellipsis]

    def read(value: Any) -> Any:
        if not isinstance(value, list) or not (endless or len(value) == len(readers)):
            raise _refused(value, hint)
        if endless:
            return tuple(readers[0](item) for item in value)
        return tuple(reader(item) for reader, item in zip(readers, value, strict=True))

    return read
