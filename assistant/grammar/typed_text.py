"""Typed text as spoken words: capitals, punctuation, figures, short forms.

Knows no meaning. Typed words are certain, so forms too short to be recognised are accepted here.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from types import MappingProxyType

from assistant.grammar.numbers import LARGEST, Words, spoken_forms

_HYPHEN = re.compile(r"(?<=[a-z])-(?=[a-z])")
_SIGNED = re.compile(r"[-−+]\s*\.?\d")
_TOKEN = re.compile(r"\d+/\d+|\d+(?:[.,]\d+)?|\.\d+|[a-z]+(?:'[a-z]+)*|%|[½¼¾⅓⅔⅛⅜⅝⅞]")
_SIGNS: Mapping[str, str] = MappingProxyType(
    {
        "½": "half", "¼": "a quarter", "¾": "three quarters", "⅓": "a third", "⅔": "two thirds",
        "⅛": "one eighth", "⅜": "three eighths", "⅝": "five eighths", "⅞": "seven eighths",
        "1/2": "half", "1/4": "a quarter", "3/4": "three quarters", "2/4": "half",
        "1/3": "a third", "2/3": "two thirds", "1/8": "one eighth", "3/8": "three eighths",
        "5/8": "five eighths", "7/8": "seven eighths", "%": "percent",
    }
)  # fmt: skip
_PARTS = frozenset({"quarter", "third", "eighth", "tenth"})  # typed without "a": "water quarter"
_ONE = frozenset({"a", "an", "one"})
_WORDS: Mapping[str, str] = MappingProxyType(
    {
        "thats": "that's", "whats": "what's", "im": "i'm", "cant": "can't", "ok": "correct",
        "okay": "correct", "y": "yes", "n": "no", "yep": "yes", "nope": "no",
        "lb": "pounds", "psi": "pounds", "pound": "pounds", "lbs": "pounds", "bars": "bar",
        "kilopascal": "kilopascals", "kpa": "kilopascals",
        "mm": "millimetres", "millimeters": "millimetres",
        "l": "litres", "liters": "litres", "liter": "litre", "min": "minutes", "mins": "minutes",
        "us": "american", "a.m": "am", "closed": "shut", "zero's": "zero", "o": "oh", "nil": "zero",
        "fourty": "forty", "burnt": "burned", "meant": "mean", "cent": "", "per": "percent",
        "injectors": "injector", "the": "",
    }
)  # fmt: skip

# Short forms, accepted from the keyboard only: one weak syllable, or near another form in sound.
TYPED_SHORT: Mapping[Words, Words] = MappingProxyType(
    {
        tuple(short.split()): tuple(full.split())
        for short, full in {
            "feed on": "feed is on", "feed off": "feed is stopped",
            "injector on": "injector running",
            "injector off": "injector stopped", "pump on": "feed is on",
            "pump off": "feed is stopped", "pump is on": "feed is on",
            "pump is off": "feed is stopped", "pump running": "feed is on",
            "pump is going": "feed is on", "hand pump on": "hand pump is going",
            "hand pump is on": "hand pump is going",
            "injector is on": "injector running", "injector is off": "injector stopped",
            "fire is dropped": "fire dropped",
            "blower off": "blower shut", "blower half": "blower half open",
            "blower crack": "blower cracked", "blower full": "blower full open",
            "blower on": "blower open", "damper half": "damper half open",
            "damper crack": "damper cracked", "damper full": "damper full open",
            "coal on": "coal on the fire", "coal is on": "coal on the fire",
            "blower is off": "blower shut", "not now": "not yet", "later": "not yet",
            "shut up": "be quiet", "stop it": "be quiet", "goodbye": "end session",
            "what is the pressure": "how is the pressure", "what is the water": "how is the water",
            "what is the level": "how is the water", "where is the water": "how is the water",
            "what else": "what next", "anything else": "what next",
            "next one please": "next please", "how do i do that": "how do i do it",
            "i do not understand": "help", "i don't understand": "help",
            "how long until steam": "how long to steam", "be silent": "be quiet",
            "mute": "be quiet", "cancel": "undo that", "ignore that": "undo that",
            "delete that": "undo that", "scrub that": "undo that", "i take that back": "undo that",
             "i was wrong": "undo that", "any warnings": "what is wrong",
            "put her to bed": "put her away",
            "hold on": "wait a minute", "hang on": "wait a minute",
            "hang on a minute": "wait a minute", "done that": "that's done",
            "roger": "understood", "one moment": "wait a minute", "pardon": "say again",
            "finished": "that's done", "did it": "that's done", "never mind": "undo that",
            "coal added": "coal on the fire", "undo": "undo that", "done": "that's done",
            "how": "show me how",  # by ear near "half"
            "next": "what next", "again": "say again", "where": "where are we",
            "back": "go back", "note": "take a note", "quit": "end session", "exit": "end session",
            "end": "end session", "hush": "quiet please", "right": "that's right",
            "lit": "fire is lit", "it is lit": "fire is lit", "it's lit": "fire is lit",
            "she is lit": "fire is lit", "she's lit": "fire is lit",
            "what was the pressure": "what was the last pressure",
            "what did i say for the water": "how is the water",
            "when did i last look at the water": "how is the water",
            "what was the water": "how is the water", "skip this": "skip it",
            "skip this one": "skip it", "how much time have i got": "how long have i got",
            "how much time do i have": "how long have i got", "not fitted": "not on this engine",
            "we haven't got one": "not on this engine", "we have none": "not on this engine",
            "none on this engine": "not on this engine",
            "no water": "no water in sight", "wait": "wait a minute", "open": "open items",
            "tank is hot": "tank is getting hot",
            "low water": "very low water",
            "brake is off": "chocks away", "brake off": "chocks away",  # by ear near "on"
            "wheels not chocked": "chocks away",
            "blow back": "it blew back",  # by ear it is near "go back"
            "not here": "not on this engine", "so already": "already so",
            "valve lifts": "valve lifting", "valve feathers": "valve feathering",
        }.items()
    }
)  # fmt: skip


def _figure_forms(figure: str) -> tuple[Words, ...]:
    value = float(figure.replace(",", "."))
    if value > LARGEST:
        return ()
    try:
        return spoken_forms(value)
    except ValueError:
        return ()


MOST_DECIMALS = 2  # of a typed pressure


def normalise(text: str) -> Iterator[Words]:
    """The ways to read the text as words: first as typed, then with abbreviations spelt out.

    A number of several digits is read whole; separate digits ("7 5") are read one by one.

    >>> next(normalise("Pressure: 75."))
    ('pressure', 'seventy', 'five')
    """
    lowered = _HYPHEN.sub(" ", text.lower().replace("’", "'"))
    if _SIGNED.search(lowered):  # no reading is negative, and dropping the sign would change it
        return
    tokens = _TOKEN.findall(lowered)
    for reading in (_to_words(tokens, {}), _to_words(tokens, _WORDS)):
        if reading is not None:
            yield reading


_UNITS: Mapping[str, str] = MappingProxyType(
    {
        "psi": "psi", "pounds": "psi", "pound": "psi", "lb": "psi", "lbs": "psi", "bar": "bar",
        "kpa": "kPa", "kilopascals": "kPa", "kilos": "kgf/cm2",
    }
)  # fmt: skip
_PRESSURE = re.compile(r"(?:the )?(pressure )?(?:is )?(-?\d+(?:\.\d+)?) ?([a-z]+)?")


def typed_pressure(text: str, dial: str) -> tuple[float, str] | None:
    """Value and unit of a typed pressure that is not in the grammar (off the dial, a fraction).

    Understood so that it can be refused with its reason instead of "I did not follow".

    >>> typed_pressure("Pressure 4000", "psi"), typed_pressure("62.5 psi", "bar")
    ((4000.0, 'psi'), (62.5, 'psi'))
    """
    match = _PRESSURE.fullmatch(" ".join(text.lower().split()).rstrip(".!?"))
    if match is None or not (match[1] or match[3]):
        return None
    if len(match[2].partition(".")[2]) > MOST_DECIMALS:
        return None  # finer than any dial is read, and than anything that is read back
    unit = _UNITS.get(match[3]) if match[3] else dial
    return (float(match[2]), unit) if unit else None


_WATCH = re.compile(
    r"(?P<name>[^\W\d_][\w']*(?: [^\W\d_][\w']*){0,2})"
    r" (?:has the watch|takes the watch|is on watch|has her now|is watching her|stays with her)"
)
_NO_NAMES = (
    "i he she it we they you who nobody none no not one somebody someone anybody everybody else "
    "the a an driver mate visitor child man that this"
)
_NO_NAME = frozenset(_NO_NAMES.split())


def typed_watch(text: str) -> str | None:
    """The name in a typed sentence that gives the watch to somebody; None for another sentence.

    >>> typed_watch("Bob has the watch."), typed_watch("nobody has the watch")
    ('Bob', None)
    """
    match = _WATCH.fullmatch(" ".join(text.split()).rstrip(".!"))
    if match is None:
        return None
    words = match["name"].split()
    if not _NO_NAME.isdisjoint(word.lower() for word in words):
        return None
    return " ".join(word if word[0].isupper() else word.capitalize() for word in words)


def _to_words(tokens: list[str], replacements: Mapping[str, str]) -> Words | None:
    """The words of the tokens; None if one is a figure that has no words."""
    words: list[str] = []
    for token in tokens:
        if token[0].isdigit() or token[0] == ".":
            sign = _SIGNS.get(token)
            forms = _figure_forms(token) if sign is None and "/" not in token else ()
            if sign is None and not forms:
                return None
            words += sign.split() if sign else forms[0]
        else:
            if token in _PARTS and (not words or words[-1] not in _ONE):
                words.append("one")
            if token == "half" and words[-1:] == ["a"] and words[-2:-1] != ["and"]:
                words.pop()  # "a half" is near other words in sound, and typed only
            if token == "eighth" and words[-1:] == ["a"]:
                words[-1] = "an"
            words += replacements.get(token, _SIGNS.get(token, token)).split()
    return tuple(words)
