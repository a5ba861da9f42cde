"""How somebody says that he, or another, is hurt or burned: who, what, which part of the body.

A small table, from which every form is made. Knows words only.
"""

from __future__ import annotations

from collections.abc import Iterator

_BE = (
    "i am", "i'm", "he is", "he's", "she is", "she's", "somebody is", "someone is", "a child is",
    "a visitor is", "a man is", "the driver is", "my mate is",
)  # fmt: skip
_BEEN = ("i have been", "i've been", "he has been", "she has been", "somebody has been")
_GOT = ("i got", "he got", "she got", "somebody got", "someone got")
_SELF = (
    "i have # myself", "i've # myself", "i # myself", "he has # himself", "she has # herself",
)  # fmt: skip
_PARTS = ("hand", "arm", "face", "leg", "foot", "eyes")
_WHOSE = ("my", "his", "her")
_OF_A_PART = ("# my {}", "i # my {}", "i have # my {}", "he has # his {}", "she has # her {}")
_HURT_ITSELF = ("hurt", "cut")
_BURNED = ("burned", "scalded")
_HURT_ONLY = (
    "help me", "i need help", "we need help", "call an ambulance", "we need an ambulance",
    "i need an ambulance", "get an ambulance", "ambulance",
    "man down", "somebody has collapsed", "someone has collapsed", "he has collapsed",
    "she has collapsed", "my mate has collapsed", "a man is down", "somebody is down",
    "someone is down", "a man has collapsed", "the driver has collapsed",
    "somebody has fallen off", "someone has fallen off", "he has fallen off", "he fell off",
    "a man has fallen off", "the driver has passed out", "he has passed out",
    "somebody has passed out", "someone has passed out",
)  # fmt: skip
_CRUSHED = (
    "somebody is crushed", "someone is crushed", "he is crushed", "he has been run over",
    "somebody has been run over", "she ran over his foot", "she ran over my foot",
    "his leg is crushed", "my leg is crushed", "his leg is broken", "my leg is broken",
    "his arm is broken", "my arm is broken", "he is unconscious", "somebody is unconscious",
)  # fmt: skip
_BURNED_ONLY = (
    "it burned me", "it has burned me", "it scalded me", "he is on fire", "my sleeve is on fire",
    "his sleeve is on fire", "his clothes are on fire", "my clothes are on fire",
    "my coat is on fire",
    "his coat is on fire",
)  # fmt: skip


def hurt() -> tuple[str, ...]:
    """Every form that says that somebody is hurt, and not how.

    >>> "i am hurt" in hurt(), "my arm is bleeding" in hurt(), "he is burned" in hurt()
    (True, True, False)
    """
    bleeding = (*_with(_BE, "bleeding"), *_part_is("bleeding"))
    forms = (form for what in _HURT_ITSELF for form in _suffered(what))
    return tuple(dict.fromkeys((*forms, *bleeding, *_CRUSHED, *_HURT_ONLY)))


def burned() -> tuple[str, ...]:
    """Every form that says that somebody is burned or scalded.

    >>> "burned my face" in burned(), "my eyes are scalded" in burned()
    (True, True)
    """
    forms = (form for what in _BURNED for form in _suffered(what))
    return tuple(dict.fromkeys((*forms, *_BURNED_ONLY)))


def _with(who: tuple[str, ...], what: str) -> Iterator[str]:
    return (f"{each} {what}" for each in who)


def _suffered(what: str) -> Iterator[str]:
    """What was done to somebody: burned, scalded, hurt, cut."""
    yield from _with((*_BE, *_BEEN, *_GOT), what)
    yield from (frame.replace("#", what) for frame in _SELF)
    yield from _part_is(what)
    for frame in _OF_A_PART:
        yield from (frame.replace("#", what).format(part) for part in _PARTS)


def _part_is(what: str) -> Iterator[str]:
    for part in _PARTS:
        be = "are" if part.endswith("s") else "is"
        yield from (f"{whose} {part} {be} {what}" for whose in _WHOSE)
        if what in _BURNED:  # "hand is cut" is heard as "hand is caught"
            yield f"{part} {be} {what}"
