"""The words for yes and no and for every order to the assistant.

Knows no reading. Each name is one of `messages.ORDERS`; a test holds the two together.
"""

from __future__ import annotations

from collections.abc import Iterator

from assistant.grammar.numbers import Words, spoken_forms
from assistant.grammar.readings import pressure_numbers, unit_words, units_heard
from assistant.messages import Answer, Meaning, Order

YES = (
    "correct",
    "that's right",
    "that is right",
    "that is correct",
    "yes",
    "yes correct",
    "affirmative",
)
NO = ("wrong", "that's wrong", "that is wrong", "no", "no that's wrong", "negative", "not correct")

ORDER_FORMS: dict[str, tuple[str, ...]] = {
    "repeat": (
        "say again", "say that again", "please repeat", "repeat that", "repeat",
        "what was that", "once more please", "repeat please", "say it again", "come again",
        "i did not catch that", "what did you say",
    ),
    "next": (
        "what next", "what's next", "what is next", "what now",
        "what do i do next", "what do i do", "what do i do now", "next step",
        "what should i do", "what should i do now", "what do we do now", "next please",
    ),
    "how": ("show me how", "how do i do it", "tell me how"),
    "why": ("why", "why is that", "tell me why", "explain that", "what is the reason"),
    "how long": (
        "how long", "how long now", "how much longer",
        "how long to go", "how many minutes", "how long have i got",
        "how long to wanted pressure", "how long until wanted pressure",
        "how long to working pressure", "how long until working pressure",
        "when will she be ready", "when do we have steam", "how long to steam",
    ),
    "how long water": (
        "how long has the water", "how long has the water got", "how long will the water last",
        "how long for the water", "how long until the water is low", "how long do i have water",
    ),
    "is it expansion": (
        "is the water rising by itself", "is it expansion",
        "is that expansion", "is it only expansion",
        "why is the water rising",
    ),
    "when lift": (
        "when will she lift", "when will the valve lift", "when does the valve lift",
        "when will it lift", "how long to lifting",
    ),
    "how much used": (
        "how much have i used", "how much water have i used", "how much have we used",
        "how much coal have i used",
    ),
    "where": (
        "where are we", "where were we", "where am i", "where have we got to",
        "how is she", "how is the water", "how is the pressure", "what was the last pressure",
        "what was the last water", "how do we stand", "what is standing", "what is wrong",
        "are there any warnings",
    ),
    "open items": (
        "open items", "read the open items", "what is still open",
        "what have i left open",
    ),
    "ready": (
        "ready", "i am ready", "i'm ready", "ready now", "we are ready", "carry on",
        "that's done", "that is done", "all done",
    ),
    "not yet": ("not yet", "not ready yet", "not done yet", "not just yet"),
    "skip": (
        "skip", "skip it", "skip that", "skip this step",
        "leave it open", "leave that for now",
    ),
    "back": ("go back", "go back one", "back one step", "previous step"),
    "acknowledge": (
        "understood", "acknowledged", "alarm heard", "i have heard", "heard", "i hear you",
        "alarm understood",
    ),
    "shelve": ("shelve the alarm", "shelve that", "remind me later", "shelve it for now"),
    "hush": ("quiet please", "be quiet", "stop talking", "stop", "silence please", "quiet"),
    "stop": (
        "end the session", "end session", "stop listening",
        "finish the session", "close the session", "that is all for today",
    ),
    "undo": (
        "undo that", "take that back", "take back the last reading", "scratch that",
        "cancel the last reading", "cancel that", "forget that",
    ),
    "note": ("take a note", "make a note", "note for the book", "write this down"),
    "not here": (
        "not on this engine", "not today", "already so", "it is so already", "is so already",
        "already done",
    ),
    "help": ("what can i say", "help", "what may i say", "something is wrong"),
    "troubles": ("emergency",),
    "call": ("engine minder",),
}  # fmt: skip

FEED_FRAMES = ("what if i put in", "what if i feed", "what would it cost to feed")
FEED_UNITS: dict[str, tuple[str, ...]] = {
    "litre": ("litres",),
    "imperial_gallon": ("imperial", "gallons"),
    "US_gallon": ("american", "gallons"),
}
WAIT_FRAMES = ("wait", "wait for", "give me", "ask again in", "come back in")


def answer_forms() -> Iterator[tuple[Words, Answer]]:
    """Yes and no."""
    for text in YES:
        yield tuple(text.split()), Answer("yes")
    for text in NO:
        yield tuple(text.split()), Answer("no")


def plain_orders() -> Iterator[tuple[Words, Meaning]]:
    """The orders that carry no number."""
    for name, texts in ORDER_FORMS.items():
        for text in texts:
            yield tuple(text.split()), Order(name)


def waits() -> Iterator[tuple[Words, Meaning]]:
    """ "wait five minutes": 1 to 30, and 40, 45, 50, 60 minutes."""
    for count in (*range(1, 31), 40, 45, 50, 60):
        order = Order("wait", float(count), "minute")
        unit = "minute" if count == 1 else "minutes"
        for frame in WAIT_FRAMES:
            yield (*frame.split(), *spoken_forms(count)[0], unit), order
    for frame in WAIT_FRAMES:
        yield (*frame.split(), "a", "minute"), Order("wait", 1.0, "minute")


def how_longs(dial_unit: str) -> Iterator[tuple[Words, Meaning]]:
    """ "how long to sixty", in the dial's unit or with the unit named."""
    for unit in units_heard(dial_unit):
        for form, value in pressure_numbers(unit):
            order = Order("how long", value, unit)
            if unit == dial_unit:
                yield ("how", "long", "to", *form), order
            for word in unit_words(unit, value):
                yield ("how", "long", "to", *form, word), order


def feeds() -> Iterator[tuple[Words, Meaning]]:
    """ "what if i put in two litres": 1 to 60 in whole numbers, 0.5 to 9.5 in halves."""
    counts = sorted({*map(float, range(1, 61)), *(half / 2 for half in range(1, 20))})
    for unit, ending in FEED_UNITS.items():
        for count in counts:
            singular = tuple(word.removesuffix("s") for word in ending) if count == 1 else ending
            for frame in FEED_FRAMES:
                for form in spoken_forms(count):
                    yield (*frame.split(), *form, *singular), Order("if feed", count, unit)
    for frame in FEED_FRAMES:
        yield (*frame.split(), "a", "litre"), Order("if feed", 1.0, "litre")
        yield (*frame.split(), "half", "a", "litre"), Order("if feed", 0.5, "litre")
