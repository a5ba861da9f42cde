"""What the state of the engine wants, in words: the valve, the fire, the glass. Knows no rule."""

from __future__ import annotations

from assistant.messages import Grade
from assistant.wording.quantities import dial_rounded, quantity_words


def does_it_feather(feathers: float, unit: str) -> str:
    """The gauge is at the figure at which the valve should feather.

    >>> does_it_feather(132.0, "psi")
    'It should feather by a hundred and thirty two pounds. Does it?'
    """
    figure = quantity_words(dial_rounded(feathers, unit), unit)
    return f"It should feather by {figure}. Does it?"


def drains_after_standing() -> str:
    """The regulator was opened after a long stand, on drain cocks told shut before it."""
    return "Open the drain cocks: she has stood."


def do_not_light(first: str) -> str:
    """Something is to be put right before the match.

    >>> do_not_light("Shut the regulator, then tell me.")
    'Do not light. Shut the regulator, then tell me.'
    """
    return f"Do not light. {first}"


def does_it_lift() -> str:
    """The gauge is at the set pressure."""
    return "Valve should lift now. Does it?"


def still_rising(feed_enough: bool = False) -> str:
    """Above the feather and rising with the damper shut.

    feed_enough: a feed is running, or there is no room: none is asked for.
    """
    return "Blower off? Regulator, leaks?" + ("" if feed_enough else " Feed if there is room.")


def what_at_the_valve() -> str:
    """The valve moves, and the gauge was not called near it."""
    return "What does the gauge show?"


def water_from_safety(grade: Grade | None) -> str:
    """The boiler lets steam or water out: the glass is read from a safe place, or not at all.

    grade: of the alarm that it was not read, where one stands.
    """
    graded = f"{grade.word.capitalize()}. " if grade is not None else ""
    return f"{graded}Seen from a safe place only: where is the water?"


def no_more_fluid() -> str:
    """Fluid was thrown on a fire: its vapour flashes back at the door."""
    return "Stand back from the door. No more fluid. Let it burn off."


def damper_stuck(burning: bool) -> str:
    """The damper does not shut: what else holds the heat back."""
    return "Blower shut, no firing." if burning else "Mend it before the fire is lit."


def draught_stuck() -> str:
    """Neither damper nor blower shuts: the fire itself is let die. Common practice, no source."""
    return "Let the fire die. Feed, if there is room. Nobody near the valve."


def blower_stuck(burning: bool) -> str:
    """The blower does not shut: what else holds the heat back."""
    if not burning:
        return "Mend it before the fire is lit."
    return "Damper shut, no firing. Watch valve and gauge."


def bars_dropped(burning: bool) -> str:
    """A fire bar is gone: the fire falls through, and air comes where it should not."""
    if not burning:
        return "Mend it before the fire is lit."
    return "No firing. Damper shut. Watch the ash pan."


def new_glass() -> str:
    """A new glass shows nothing until it was blown through."""
    return "Stand aside: blow it through, each way. How does it return?"


def how_it_returns() -> str:
    """The glass was blown through, and it was not told how it came back."""
    return "How does it return?"


def blowing_down() -> str:
    """The blow-down was opened in steam: a short while, by count."""
    return "Count, shut it, then call the water."


def stop_the_feed() -> str:
    """A feed runs while nobody knows whether there is water in sight."""
    return "Stop the feed till the water is seen."


def shut_the_blow_down() -> str:
    """The blow-down is open, and no more water may go."""
    return "Shut the blow-down now."


def bypass_jammed() -> str:
    """The bypass does not open, and the pump goes on feeding."""
    return "Stop the engine: the pump stops."


def belt_off() -> str:
    """The belt came off, or the governor's: without it she races. Common practice, no source."""
    return "Regulator shut. Nobody near the belt till she stands."


def no_more_coal() -> str:
    """No coal is left under steam: water goes in while there is steam to feed with.

    Common practice, no source.
    """
    return "Water up while there is steam to feed with. Then put her away."


def stand_her_level(nose_down: bool) -> str:
    """On a slope the glass shows no level; nose down the crown may be bare under a full glass."""
    crown = "The crown may be bare. " if nose_down else ""
    return f"{crown}Stand her level, then: where is the water?"


def damper_open_again(fall_told: bool = False) -> str:
    """The pressure falls under a damper that was asked to be held in.

    fall_told: that it falls is said already.
    """
    return "Open the damper again." if fall_told else "Pressure falls. Open the damper again."


def is_everyone_clear(opened: bool = False) -> str:
    """The regulator is open, and nobody has told of the people.

    opened: it was shut before: people first.
    """
    return "Shut the regulator. Is everyone clear?" if opened else "Is everyone clear?"


def is_she_chocked() -> str:
    """She ran away and stands again."""
    return "Brake on, wheels chocked both ways?"


def is_she_out_of_gear() -> str:
    """She stands chocked, after she ran away."""
    return "Out of gear?"


def who_says_so() -> str:
    """At what the valve is set was said; the book wants a name with it."""
    return "Who says so? Say the name."


def gauge_trouble_offered() -> str:
    """Gauge and valve disagree, and the heat is stopped: there is a list."""
    return "Say gauge trouble, and we find which is wrong."


def is_there_fire(capped: bool) -> str:
    """The pressure rises, though the fire was called out; capped: the chimney is."""
    return f"Pressure rises. Is there fire in her?{' ' + uncap() if capped else ''}"


def uncap() -> str:
    """A fire, or what may be one, under a capped chimney: fume."""
    return "Cap off the chimney, face aside. Somebody stays."


def blower_down() -> str:
    """Near the wanted pressure, and the blower is not known to be eased."""
    return "Near the wanted pressure. Blower down to a crack."


def damper_down() -> str:
    """At the wanted pressure, and the damper is not known to be eased."""
    return "Wanted pressure. Damper nearly shut."


def kept_shut(left: str) -> str:
    """In a boiler that is not to be heated; left: the acts of it that are not done."""
    return f"{left.capitalize()}."


def is_damper_stuck() -> str:
    """The pressure rises, and the damper was told to be shut for some minutes."""
    return "Pressure rises, damper told shut. Is the damper stuck?"


def damper_to_open() -> str:
    """Steam is to be raised, and the damper was told to be shut."""
    return "The damper is shut. Open it, and see the fire."
