"""What a driver says most, one form of each and how it varies: for the card and `phrases`.

The one table of it: what stands here is understood, or a test fails.
"""

from __future__ import annotations

from dataclasses import dataclass

from assistant.wording.help_words import pressure_example


@dataclass(frozen=True, slots=True)
class Saying:
    """One thing to say."""

    group: str
    form: str
    varies: str = ""
    """Other forms, or what may stand in the place of a word."""
    card: bool = False
    """Whether it is one of the twenty on the card."""


GROUPS = ("readings", "answers", "reports", "troubles", "moves", "questions", "notes")


def sayings(dial: str = "psi") -> tuple[Saying, ...]:
    """Everything worth knowing by heart, in groups. dial: the unit of the gauge."""
    return (
        Saying("readings", pressure_example(dial), "any number; with or without the unit", True),
        Saying("readings", "water half", "a quarter, two thirds, five eighths", True),
        Saying("readings", "no water in sight", "nothing in the glass", True),
        Saying("readings", "tank three quarters", "tank half, tank is full"),
        Saying("answers", "that's right", "correct; yes", True),
        Saying("answers", "wrong", "wrong, and the right value: wrong sixty five", True),
        Saying("answers", "ready", "done: the step is done", True),
        Saying("answers", "not yet", "it is asked again later", True),
        Saying("answers", "not on this engine", "she has no such fitting"),
        Saying("answers", "skip", "go back; a killer is not skipped"),
        Saying("reports", "fire is lit", "fire built up, the fire is banked, the fire is dropped"),
        Saying("reports", "more coal on the fire", "put some coal on"),
        Saying("reports", "one bucket on", "two shovels on, ten litres in, one bucket of water in"),
        Saying("reports", "blower half open", "shut, just cracked, wide open; damper the same"),
        Saying("reports", "valve is feathering", "safety valve lifting, valve shut", True),
        Saying("reports", "the feed is running", "finished feeding", True),
        Saying("reports", "regulator is shut", "regulator open, drains open, out of gear"),
        Saying("reports", "glass comes back at once", "glass comes back slowly, stays empty"),
        Saying("troubles", "steam escaping", "steam leak, joint has blown", True),
        Saying("troubles", "glass is broken", "gauge glass broken", True),
        Saying("troubles", "plug has gone", "tube has burst, water in the firebox", True),
        Saying("troubles", "safety valve is stuck", "regulator is stuck open"),
        Saying("troubles", "someone is hurt", "somebody is burned", True),
        Saying("troubles", "fire outside", "chimney fire", True),
        Saying("troubles", "pump trouble", "injector trouble, glass trouble, fire trouble", True),
        Saying("troubles", "danger is over", "when it is"),
        Saying("moves", "standing by", "raising steam, taking over"),
        Saying("moves", "moving off", ""),
        Saying("moves", "putting away", "banked for the night", True),
        Saying("questions", "what next", "", True),
        Saying("questions", "how long", "how long to sixty", True),
        Saying("questions", "where are we", "", True),
        Saying("questions", "why", ""),
        Saying("questions", "say again", "", True),
        Saying("questions", "what can i say", "help; emergency for trouble only"),
        Saying("notes", "take a note", "then up to thirty seconds"),
        Saying("notes", "wait ten minutes", "alarms still speak"),
    )


FIRST = (
    "water half",
    "no water in sight",
    "that's right",
    "wrong",
    "ready",
    "not yet",
    "what next",
    "why",
    "say again",
)  # and a pressure: the first ten


def first_ten(dial: str = "psi") -> tuple[Saying, ...]:
    """The ten to begin with, in the order of the table."""
    wanted = {pressure_example(dial), *FIRST}
    return tuple(saying for saying in sayings(dial) if saying.form in wanted)


def on_the_card(dial: str = "psi") -> tuple[Saying, ...]:
    """The twenty for the card."""
    return tuple(saying for saying in sayings(dial) if saying.card)
