"""Whether the glass rises or falls, and by what: expansion, feed, use or loss."""

from __future__ import annotations

from dataclasses import dataclass

from assistant.belief.history import Water
from assistant.belief.water import WaterBelief, out_of_sight
from assistant.boiler import glass

_STEADY = 0.03  # of the glass; a smaller movement over the time looked back is none
LOOK_BACK_S = 480.0
STALE_S = 1800.0  # after half an hour without a reading the trend is unknown


@dataclass(frozen=True, slots=True)
class Trend:
    """How the glass moves, and why."""

    word: str
    """rising, steady, falling or unknown"""
    cause: str
    """expansion, feed, use, loss or unknown"""
    why: str
    """the figures used, in words"""


@dataclass(frozen=True, slots=True)
class ChangesShown:
    """Parts of the movement of the shown level between two times [fraction of the glass]."""

    all: float
    expansion: float
    fed: float
    taken: float
    lost: float
    lost_sd: float


def changes(water: WaterBelief, from_s: float, to_s: float) -> ChangesShown:
    """What the movement between two times is made of."""
    kelvin = water.track.at(to_s)
    before, after = water.shown(from_s)[0], water.shown(to_s)[0]
    kg = water.mass(from_s)[0]
    expansion = glass.shown_for(water.engine, kg, kelvin) - before
    change, per_kg = water.change(from_s, to_s), water.glass_per_kg(kelvin)
    return ChangesShown(
        after - before,
        expansion,
        change.fed * per_kg,
        change.taken * per_kg,
        change.lost * per_kg,
        change.lost_sd * per_kg,
    )


def trend(water: WaterBelief, now_s: float) -> Trend:
    """The movement since a look at the glass some minutes back, and its largest cause."""
    water = water.likelier
    if out_of_sight(water.history):
        return Trend("unknown", "unknown", "no water in sight: nothing tells where it is")
    if len(water.levels) < 2:
        return Trend("unknown", "unknown", "the glass was called fewer than two times")
    *_, previous, last = water.levels
    if now_s - last.at_s > STALE_S:
        minutes = (now_s - last.at_s) / 60.0
        return Trend("unknown", "unknown", f"the glass was last called {minutes:.0f} minutes ago")
    if water.swells(last.at_s):
        return Trend("unknown", "unknown", "steam was first taken just before: swell is not gain")
    start = _look_back(water)
    moved = changes(water, start.at_s, max(now_s, last.at_s))
    word = "rising" if moved.all > _STEADY else "falling" if moved.all < -_STEADY else "steady"
    step = float(last.height or 0.0) - float(previous.height or 0.0)
    if (word == "rising" and step < -0.6 * water.rounding) or (
        word == "falling" and step > 0.6 * water.rounding
    ):
        return Trend(
            "unknown", "unknown", f"the last two calls disagree with the rest: {step:+.2f}"
        )
    return Trend(word, _cause(water, word, moved), _why(now_s - start.at_s, moved))


def _look_back(water: WaterBelief) -> Water:
    """The look some minutes back; further back while the level read was the same all along."""
    *before, last = water.levels
    start = before[0]
    for level in before:
        start = level if level.at_s <= last.at_s - LOOK_BACK_S else start
    for level in reversed(before):
        if abs(float(level.height or 0.0) - float(last.height or 0.0)) > 0.5 * water.rounding:
            break
        start = level if level.at_s < start.at_s else start
    return start


def _cause(water: WaterBelief, word: str, moved: ChangesShown) -> str:
    losing = water.losing > 0.5 and moved.lost > max(moved.lost_sd, 0.02)
    if losing and moved.lost > moved.taken and word != "rising":
        return "loss"
    if word == "rising":
        if max(moved.expansion, moved.fed) < 0.5 * _STEADY:
            return "unknown"
        return "feed" if moved.fed > moved.expansion else "expansion"
    if word == "falling":
        cooling = -moved.expansion
        if max(cooling, moved.taken) < 0.5 * _STEADY:
            return "unknown"
        return "use" if moved.taken >= cooling else "expansion"
    return "unknown"


def _why(elapsed_s: float, moved: ChangesShown) -> str:
    parts = {
        "expansion": moved.expansion,
        "feed": moved.fed,
        "use": -moved.taken,
        "loss": -moved.lost,
    }
    listed = ", ".join(f"{part:+.2f} {name}" for name, part in parts.items() if abs(part) >= 0.005)
    total = f"glass {moved.all:+.2f} in {elapsed_s / 60.0:.0f} minutes"
    return f"{total}: {listed}" if listed else total
