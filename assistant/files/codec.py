"""Events, effects and all that they hold <-> plain JSON values, strictly and exactly.

A dataclass becomes {"is": its name, field: value, ...}; floats come back bit for bit. Knows the
vocabulary's types by walking `messages`, and no file.
"""

from __future__ import annotations

import math
from dataclasses import fields, is_dataclass
from enum import IntEnum
from functools import cache
from types import NoneType, UnionType
from typing import Any, Literal, get_args, get_origin, get_type_hints

from assistant import messages

Json = dict[str, Any]
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


def to_record(message: object) -> Json:
    """The JSON shape of an event, an effect or a meaning. ValueError for NaN and infinities.

    >>> to_record(messages.Tick(1.5))
    {'is': 'Tick', 'at': 1.5}
    """
    if known_types().get(type(message).__name__) is not type(message):
        raise NotAMessageError(f"{type(message).__name__} is no message")
    shape: Json = {TAG: type(message).__name__}
    for one in fields(message):  # type: ignore[arg-type]  # a dataclass, see known_types
        shape[one.name] = _plain(getattr(message, one.name))
    return shape


def _plain(value: object) -> Any:
    if isinstance(value, IntEnum):
        return value.name
    if value is None or isinstance(value, str | bool | int):
        return value
    if isinstance(value, float):
        if not math.isfinite(value):
            raise NotAMessageError(f"{value} cannot be written down")
        return value
    if isinstance(value, tuple):
        return [_plain(item) for item in value]
    return to_record(value)


def event_from_record(shape: object) -> messages.Event:
    """The event of a JSON shape; NotAMessageError for anything else."""
    return _one_of(EVENTS, shape, "event")  # type: ignore[no-any-return]


def effect_from_record(shape: object) -> messages.Effect:
    """The effect of a JSON shape; NotAMessageError for anything else."""
    return _one_of(EFFECTS, shape, "effect")  # type: ignore[no-any-return]


def _one_of(kinds: frozenset[type], shape: object, what: str) -> Any:
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
    hints = _hints(kind)
    strange = set(shape) - set(hints) - {TAG}
    if strange:
        raise NotAMessageError(f"{shape[TAG]} has no field {min(strange)[:60]!r}")
    given = {name: _typed(hints[name], value) for name, value in shape.items() if name != TAG}
    try:
        return kind(**given)
    except TypeError as wrong:
        raise NotAMessageError(f"{shape[TAG]}: {wrong}") from wrong


@cache
def _hints(kind: type) -> dict[str, Any]:
    return get_type_hints(kind)


def _typed(hint: Any, value: Any) -> Any:
    """The value as the hint wants it; NotAMessageError when it does not fit."""
    origin = get_origin(hint)
    if origin is Literal:
        return _checked(value in get_args(hint) and isinstance(value, str), hint, value)
    if isinstance(hint, UnionType) or origin is UnionType:
        return _union(get_args(hint), hint, value)
    if origin is tuple:
        return _tuple(get_args(hint), hint, value)
    if isinstance(hint, type) and issubclass(hint, IntEnum):
        _checked(isinstance(value, str) and value in hint.__members__, hint, value)
        return hint[value]
    if hint in known_types().values():
        message = from_record(value)
        return _checked(type(message) is hint, hint, message)
    if hint is float:
        fits = isinstance(value, int | float) and not isinstance(value, bool)
        _checked(fits and math.isfinite(value), hint, value)
        return value
    return _checked(type(value) is hint, hint, value)


def _union(choices: tuple[Any, ...], hint: Any, value: Any) -> Any:
    if value is None:
        return _checked(NoneType in choices, hint, value)
    for choice in choices:
        if choice is NoneType:
            continue
        try:
            return _typed(choice, value)
        except NotAMessageError as wrong:
            last = wrong
    raise last


def _tuple(inner: tuple[Any, ...], hint: Any, value: Any) -> Any:
    _checked(isinstance(value, list), hint, value)
    if len(inner) == 2 and inner[1] is Ellipsis:
        return tuple(_typed(inner[0], item) for item in value)
    _checked(len(value) == len(inner), hint, value)
    return tuple(_typed(kind, item) for kind, item in zip(inner, value, strict=True))


def _checked(fits: bool, hint: Any, value: Any) -> Any:
    if not fits:
        raise NotAMessageError(f"{str(value)[:60]!r} is no {getattr(hint, '__name__', hint)}")
    return value
