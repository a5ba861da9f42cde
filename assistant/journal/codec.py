"""Events, effects and the values in them <-> plain JSON values, strictly and exactly.

A dataclass becomes {"is": its name, field: value, ...}; floats come back bit for bit. The types
are those of `messages`; no file is known here.
"""

from __future__ import annotations

import math
import sys
from collections.abc import Callable
from dataclasses import Field, fields, is_dataclass
from enum import IntEnum
from functools import cache
from types import NoneType, UnionType
from typing import Any, Literal, get_args, get_origin, get_type_hints

from assistant import messages

_JsonObject = dict[str, Any]
TAG = "is"


class NotAMessageError(ValueError):
    """A JSON value that is not a message of this version."""


@cache
def known_types() -> dict[str, type]:
    """Every dataclass of the vocabulary by its name."""
    members = (getattr(messages, name) for name in dir(messages))
    return {
        kind.__name__: kind
        for kind in members
        if isinstance(kind, type) and is_dataclass(kind) and kind.__module__ == messages.__name__
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
    return tuple(field.name for field in fields(kind) if _is_written(field))


def _is_written(field: Field[Any]) -> bool:
    return bool(field.metadata.get("written", True))


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


def _message_of_kind(kinds: frozenset[type], shape: object, kind_name: str) -> Any:
    message = from_record(shape)
    if type(message) not in kinds:
        raise NotAMessageError(f"{type(message).__name__} is no {kind_name}")
    return message


def from_record(shape: object) -> Any:
    """The message of a JSON shape, every field checked against its type.

    A missing field takes its default, so that an older journal can be read; a field that this
    version does not know is refused.
    """
    if not isinstance(shape, dict) or not isinstance(shape.get(TAG), str):
        raise NotAMessageError(f"no '{TAG}' in {str(shape)[:60]!r}")
    kind = known_types().get(shape[TAG])
    if kind is None:
        raise NotAMessageError(f"unknown message {shape[TAG][:60]!r}")
    readers = _readers(kind)
    values = {}
    for name, value in shape.items():
        if name != TAG:
            if name not in readers:
                raise NotAMessageError(f"{shape[TAG]} has no field {str(name)[:60]!r}")
            values[name] = readers[name](value)
    try:
        return kind(**values)
    except TypeError as wrong:
        raise NotAMessageError(f"{shape[TAG]}: {wrong}") from wrong


Reader = Callable[[Any], Any]


@cache
def _readers(kind: type) -> dict[str, Reader]:
    """A reader for each field of a message: JSON value in, field's value out."""
    hints = get_type_hints(kind)
    return {name: _reader(hints[name]) for name in _field_names(kind)}


def _reader(hint: Any) -> Reader:
    """A reader of values of this type; it raises NotAMessageError when the JSON does not fit."""
    origin = get_origin(hint)
    if origin is Literal:
        return _literal(hint, frozenset(get_args(hint)))
    if isinstance(hint, UnionType) or origin is UnionType:
        return _union(hint, [arg for arg in get_args(hint) if arg is not NoneType])
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
    if not fits or not -sys.float_info.max <= value <= sys.float_info.max:
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
    scalars = {kind: _reader(kind) for kind in choices if kind in (str, bool, int, float)}
    if float in scalars:
        scalars.setdefault(int, scalars[float])

    def read(value: Any) -> Any:
        if value is None and may_be_none:
            return None
        scalar = scalars.get(type(value))  # for speed: most values are scalars, and need no trial
        if scalar is not None:
            return scalar(value)
        reason: NotAMessageError | None = None
        for reader in readers:
            try:
                return reader(value)
            except NotAMessageError as wrong:
                reason = wrong
        raise reason or _refused(value, hint)

    return read


def _tuple(hint: Any, inner: tuple[Any, ...]) -> Reader:
    """A tuple is a list in JSON: `tuple[X, ...]`, or one type for each place."""
    any_length = len(inner) == 2 and inner[1] is Ellipsis
    readers = [_reader(hint) for hint in inner if hint is not Ellipsis]

    def read(value: Any) -> Any:
        if not isinstance(value, list) or not (any_length or len(value) == len(readers)):
            raise _refused(value, hint)
        if any_length:
            return tuple(readers[0](item) for item in value)
        return tuple(reader(item) for reader, item in zip(readers, value, strict=True))

    return read
