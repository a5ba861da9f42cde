"""Sentences that are understood only when typed: by ear each is too near to another sentence.

Typed words are certain, so that a form may differ from another by one sound ("can", "can't"). Knows
words and what they report; knows no question.
"""

from __future__ import annotations

from collections.abc import Iterator

from assistant.grammar.numbers import Words
from assistant.messages import Report

FORMS: dict[tuple[str, str], tuple[str, ...]] = {
    ("water told", "enough"): (
        "water in sight", "i can see the water", "we can see the water", "i can see water",
    ),
    ("emergency", "fire outside"): ("coal is on fire", "coal in the bunker is on fire"),
    ("fire", "coal"): (
        "coal is on the fire", "fed the fire", "i fed the fire", "put a round on",
        "i put a round on", "a round of coal on",
    ),
    ("fire", "banked"): ("banked her up", "banked it up"),
    ("oil", "all round"): ("oiled up", "i have oiled up", "i oiled up", "i have oiled round"),
    ("engine", "stopped"): ("stopped her", "i stopped her", "i have stopped her"),
    ("brake", "on"): ("brake is screwed down", "brake is hard on", "brake hard on"),
    ("fire", "built"): ("wood on the fire", "wood is on the fire", "more wood on"),
}  # fmt: skip


# What was done to a thing. "Shut the bypass" alone may be an order to somebody.
_DONE: tuple[tuple[tuple[str, ...], str, tuple[str, ...]], ...] = (
    (("opened the {}", "i opened the {}", "i have opened the {}"), "open", ("bypass",)),
    (("i shut the {}", "i have shut the {}"), "shut", ("bypass",)),
    (
        ("opened the {} a crack", "i opened the {} a crack", "cracked the {}"),
        "open",
        ("regulator",),
    ),
    (("opened the {} a crack",), "crack", ("damper", "blower")),
)
_FED = ("feed", "injector")
_FEED_OFF = (
    "knocked off the {}", "knocked the {} off", "i knocked off the {}", "i knocked the {} off",
    "i have knocked off the {}", "i have knocked the {} off", "shut off the {}",
)  # fmt: skip


def typed_forms() -> Iterator[tuple[Words, Report]]:
    """Every form with what it reports."""
    for frames, state, names in _DONE:
        for frame, name in ((frame, name) for frame in frames for name in names):
            yield tuple(frame.format(name).split()), Report(name, state)
    for frame, name in ((frame, name) for frame in _FEED_OFF for name in _FED):
        yield tuple(frame.format(name).split()), Report("feed", "off")
    for (what, value), texts in FORMS.items():
        for text in texts:
            yield tuple(text.split()), Report(what, value)
