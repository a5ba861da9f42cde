"""Forecasts in words: minutes, water, feed, valve, consumption. Knows no formula.

A figure comes as a band (10, 50 and 90 % points) and is said as one; what is unknown is said so.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

from assistant.grammar import fractions, numbers
from assistant.wording.quantities import dial_rounded, quantity_words, sentence

HOUR = 60  # minutes


def _minutes(value: float) -> int:
    """Rounded to one minute below twenty, five below an hour, ten above: no false precision."""
    step = 1 if value < 20 else 5 if value < HOUR else 10
    return max(int(value / step + 0.5) * step, 0)


def minutes_words(value: float) -> str:
    """A time in words. [minutes]

    >>> minutes_words(12.4), minutes_words(84)
    ('twelve minutes', 'one hour twenty')
    """
    whole = _minutes(value)
    if whole < HOUR:
        return quantity_words(whole, "minute")
    hours, rest = divmod(whole, HOUR)
    whole_hours = f"{numbers.number_words(hours)} hour{'s' if hours > 1 else ''}"
    return f"{whole_hours} {numbers.number_words(rest)}" if rest else whole_hours


def _range(low: float, high: float) -> str:
    """ "ten to sixteen"; empty when both round to the same."""
    first, last = _minutes(low), _minutes(high)
    if first == last:
        return ""
    if last < HOUR:
        return f", {numbers.number_words(first)} to {numbers.number_words(last)}"
    return f", {minutes_words(low)} to {minutes_words(high)}"


def minutes_to_words(
    low: float, mid: float, high: float, target: float, unit: str = "psi", working: bool = False
) -> str:
    """Time to a pressure. [low, mid, high: minutes; target: gauge pressure in unit]

    working: it is the wanted pressure, which is said by its name.

    >>> minutes_to_words(10, 12, 16, 120)
    'About twelve minutes to a hundred and twenty pounds, ten to sixteen.'
    >>> minutes_to_words(70, 80, 95, 120, working=True)
    'About one hour twenty to wanted pressure, one hour ten to one hour forty.'
    """
    wanted = "wanted pressure" if working else quantity_words(target, unit)
    if high <= 0:
        return f"Already at {wanted}."
    if _minutes(mid) == 0:
        return f"Less than a minute to {wanted}."
    return f"About {minutes_words(mid)} to {wanted}{_range(low, high)}."


def cannot_say(why: str) -> str:
    """No forecast, and why.

    >>> cannot_say("no reading for ten minutes")
    'I cannot say when yet. No reading for ten minutes.'
    """
    return f"I cannot say when yet. {sentence(why)}".strip()


def no_time(why: str) -> str:
    """No time is told while something graver stands.

    >>> no_time("gauge and valve disagree")
    'No time while gauge and valve disagree.'
    """
    return f"No time while {why}."


TRENDS: dict[tuple[str, str], str] = {
    ("rising", "expansion"): "Water rising, likely by expansion.",
    ("rising", "feed"): "Water rising by feed.",
    ("rising", "unknown"): "Water rising. I cannot tell why.",
    ("steady", "expansion"): "Water steady.",
    ("steady", "use"): "Water steady. Feed and use about equal.",
    ("steady", "loss"): "Glass flat while warming. Water is going somewhere.",
    ("steady", "feed"): "Water steady with feed on. Is the feed reaching the boiler?",
    ("falling", "use"): "Water falling. Steam is using it.",
    ("falling", "loss"): "Water falling faster than use. Look for a leak.",
    ("falling", "feed"): "Water falling with feed on. Check the feed.",
    ("falling", "unknown"): "Water falling. I cannot tell why.",
}
TREND_ALONE: dict[str, str] = {
    "rising": "Water rising.",
    "steady": "Water steady.",
    "falling": "Water falling.",
    "unknown": "I cannot tell how the water is moving.",
}


def water_trend_words(trend: str, cause: str) -> str:
    """The movement of the water and its cause, both as the forecast names them.

    >>> water_trend_words("rising", "expansion")
    'Water rising, likely by expansion.'
    """
    return TRENDS.get((trend, cause), TREND_ALONE.get(trend, TREND_ALONE["unknown"]))


def rising_over_a_gauge_at_rest() -> str:
    """Water that nobody feeds rises over a fire: it grows hot, whatever the gauge shows."""
    return "Water rising, likely by expansion. Watch the gauge."


def swollen() -> str:
    """Far up as steam was first drawn: the bubbles lift it, and it falls back."""
    return "Steam drawn swells the water. Read it again when she stands."


def trend_reason(why: str) -> str:
    """The reason for a movement of the glass, fit to be spoken; other reasons unchanged.

    >>> trend_reason("glass +0.12 in 8 minutes: +0.13 expansion, -0.01 use")
    'glass up twelve hundredths in 8 minutes: up thirteen by expansion, down one by use'
    """
    whole, colon, parts = why.partition(":")
    total = _SIGNED.sub(lambda m: f"{_hundredths(m)} hundredths", whole, count=1)
    return total + colon + _SIGNED.sub(lambda m: f"{_hundredths(m)} by", parts)


_SIGNED = re.compile(r"([+-])(\d)\.(\d\d)\b")


def _hundredths(match: re.Match[str]) -> str:
    count = int(match[2] + match[3])
    return f"{'up' if match[1] == '+' else 'down'} {numbers.number_words(float(count))}"


def is_it_expansion(trend: str, cause: str) -> str:
    """The answer to "is the water rising by itself?"."""
    if trend != "rising":
        return f"Not rising now. {water_trend_words(trend, cause)}"
    if cause == "expansion":
        return "Likely expansion, not feed. Watch the glass."
    return "No. Water rising by feed." if cause == "feed" else "I cannot tell. Watch the glass."


def water_lasts(low: float | None, mid: float | None, high: float | None) -> str:
    """How long until the lower mark. [minutes; None: it is not falling towards it]"""
    if low is None or mid is None or high is None:
        return "By your readings, not falling. Look at the glass."
    if _minutes(mid) == 0:
        return "Water is at the lower mark now."
    return f"About {minutes_words(mid)} to the lower mark{_range(low, high)}."


def feed_cost_words(fed: float, fed_unit: str, drop: float, unit: str, glass_gain: float) -> str:
    """What a feed will cost. [drop: gauge pressure in unit; glass_gain: fraction of the glass]

    >>> feed_cost_words(2, "litre", 6, "psi", 0.1)
    'Two litres: pressure down about six pounds, glass up a tenth.'
    """
    tenths = round(glass_gain * 10)
    gain = "hardly at all" if tenths < 1 else "a tenth" if tenths == 1 else _gain(glass_gain)
    rounded = dial_rounded(drop, unit)
    cost = f"down about {quantity_words(rounded, unit)}" if rounded else "hardly down"
    return sentence(f"{quantity_words(fed, fed_unit)}: pressure {cost}, glass up {gain}")


def feed_expected(minutes: float, gain: float, drop: float, unit: str) -> str:
    """What a pump should do in so many minutes. [gain: fraction of the glass; drop: in unit]

    drop: without what the fire gives back meanwhile.

    >>> feed_expected(5, 0.24, 6, "psi")
    'Five minutes: glass up one quarter. Pressure down six pounds at most.'
    """
    rounded = dial_rounded(drop, unit)
    cost = f" Pressure down {quantity_words(rounded, unit)} at most." if rounded else ""
    return sentence(f"{minutes_words(minutes)}: glass up {_gain(gain)}") + cost


def feed_as_expected() -> str:
    """The glass gained about what the pump should give."""
    return "Gain as it should be."


def feed_reason(gained: float, expected: float, minutes: float) -> str:
    """The numbers behind that answer. [gained, expected: fractions of the glass]"""
    return trend_reason(f"glass {gained:+.2f} in {minutes:.0f} minutes, {expected:+.2f} expected")


def pump_stands(others: Sequence[str]) -> str:
    """A pump that the engine turns was put on while she stands. others: her other feeds.

    >>> pump_stands(["hand pump"])
    'She stands: that pump does not turn. Use the hand pump.'
    """
    instead = f"Use the {others[0]}." if others else "Drains open, then turn her."
    return f"She stands: that pump does not turn. {instead}"


def too_much_feed() -> str:
    """The amount is more than the boiler holds."""
    return "That is more than the glass has room for."


def _gain(gain: float) -> str:
    return "to the top" if gain >= 1 else fractions.fraction_words(gain)


def when_lift(low: float | None, mid: float | None, high: float | None, why: str = "") -> str:
    """When the valve will lift if nothing is changed. [minutes]"""
    if low is None or mid is None or high is None:
        return " ".join(filter(None, ("I expect no lift yet.", sentence(why), "Watch the gauge.")))
    if _minutes(mid) == 0:
        return "She may lift any moment. Stand clear."
    return f"About {minutes_words(mid)} until she lifts{_range(low, high)}."


def valve_again(damper_shut: bool, feed_enough: bool = False) -> str:
    """What to do when the valve lifts again and again; not what is done already.

    feed_enough: a feed is running, or there is no room: none is asked for.
    """
    acts = ["The valve blows water away."]
    acts += [] if damper_shut else ["Damper shut."]
    return " ".join(acts if feed_enough else [*acts, "Feed if there is room."])


def valve_why() -> str:
    """The reason for it."""
    return "a fire too strong lifts the valve, and each lift takes water out of the boiler"


def used_words(
    water_litres: float | None, coal_kg: float | None = None, counted: bool = False
) -> str:
    """Water and fuel used so far. [litres, kg; None: not known]

    counted: what coal was counted on is told after it, so that it is not called unknown.
    """
    parts = []
    if water_litres is not None:
        litres = quantity_words(float(round(water_litres)), "litre")
        parts.append(f"about {litres} of water" if round(water_litres) else "hardly any water")
    if coal_kg is not None:
        count = round(coal_kg)
        kilograms = (
            "one kilogram" if count == 1 else f"{numbers.number_words(float(count))} kilograms"
        )
        parts.append(f"about {kilograms} of coal" if count else "hardly any coal")
    elif parts and not counted:
        return f"{sentence(parts[0])} The coal I do not know."
    return sentence(" and ".join(parts)) if parts else "I do not know yet."


def meanwhile(minutes: float, prompt: str) -> str:
    """Work offered while waiting.

    >>> meanwhile(11, "Oil round now?")
    'Eleven minutes to go. Meanwhile: oil round now?'
    """
    offer = prompt[:1].lower() + prompt[1:]
    return f"{sentence(minutes_words(minutes) + ' to go')} {sentence('meanwhile: ' + offer)}"
