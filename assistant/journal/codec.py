"""Events, effects and the values in them <-> plain JSON values, strictly and exactly.

A dataclass becomes {"is": its name, field: value, ...}; floats come back bit for bit. The types
are those of `messages`; no file is known here.
"""

from __future__ import annotations

import math
import sys
from collections.abc import Callable
from dataclasses import MISSING, Field, fields, is_dataclass
from enum import IntEnum
from functools import cache
from types import NoneType, UnionType
from typing import Annotated, Any, Literal, Union, get_args, get_origin, get_type_hints

import msgspec

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
    version does not know is refused. NotAMessageError says which value is wrong, and where.
    """
    if not isinstance(shape, dict) or not isinstance(shape.get(TAG), str):
        raise NotAMessageError(f"no '{TAG}' in {str(shape)[:60]!r}")
    kind = known_types().get(shape[TAG])
    if kind is None:
        raise NotAMessageError(f"unknown message {shape[TAG][:60]!r}")
    try:
        msgspec.convert(shape, _form(kind))
    except (msgspec.ValidationError, UnicodeError) as wrong:
        raise NotAMessageError(f"{shape[TAG]}: {str(wrong)[:200]}") from wrong
    return _from_json(shape)


def _from_json(value: Any) -> Any:
    """The value of a JSON shape that has been checked."""
    if isinstance(value, list):
        return tuple([_from_json(item) for item in value])
    if not isinstance(value, dict):
        return value
    if TAG not in value:  # no fault to msgspec where only one type may stand
        raise NotAMessageError(f"no '{TAG}' in {str(value)[:60]!r}")
    kind = known_types()[value[TAG]]
    values = {name: item for name, item in value.items() if name != TAG}
    for name, read in _not_plain(kind).items():
        if name in values:
            values[name] = read(values[name])
    return kind(**values)


@cache
def _not_plain(kind: type) -> dict[str, Callable[[Any], Any]]:
    """The fields of a message whose JSON value is not the field's value, with what makes it so."""
    hints = get_type_hints(kind)
    return {
        name: hints[name].__getitem__ if _is_enum(hints[name]) else _from_json
        for name in _field_names(kind)
        if not _is_plain(hints[name])
    }


def _is_plain(hint: Any) -> bool:
    if isinstance(hint, UnionType):
        return all(_is_plain(choice) for choice in get_args(hint))
    return hint in (str, bool, int, float, NoneType) or get_origin(hint) is Literal


def _is_enum(hint: Any) -> bool:
    return isinstance(hint, type) and issubclass(hint, IntEnum)


@cache
def _form(kind: type) -> type[msgspec.Struct]:
    """What JSON shapes of a message must look like.

    It only checks them, and the message is made of the shape itself: out of the form a number that
    was written without a point would come back with one.
    """
    hints = get_type_hints(kind)
    written = [
        (field.name, _json_type(hints[field.name]))
        if field.default is MISSING
        else (field.name, _json_type(hints[field.name]), field.default)
        for field in fields(kind)
        if _is_written(field)
    ]
    return msgspec.defstruct(
        kind.__name__, written, tag_field=TAG, tag=True, forbid_unknown_fields=True
    )


def _json_type(hint: Any) -> Any:
    """The type of the JSON value of a field of this type."""
    if hint is float:
        return _FINITE
    if _is_enum(hint):
        return Literal[tuple(hint.__members__)]
    if isinstance(hint, UnionType):
        return Union[tuple(_json_type(choice) for choice in get_args(hint))]  # noqa: UP007
    if get_origin(hint) is tuple:
        return tuple[tuple(_json_type(inner) for inner in get_args(hint))]  # type: ignore[misc]
    return _form(hint) if hint in known_types().values() else hint


_FINITE = Annotated[float, msgspec.Meta(ge=-sys.float_info.max, le=sys.float_info.max)]
