"""Whether the glass rises or falls, and by what: expansion, feed, use or loss."""

from __future__ import annotations

from dataclasses import dataclass

from assistant.belief.history import Water
from assistant.belief.water import WaterBelief, out_of_sight
from assistant.boiler import glass

_MOVES = 0.03  # of the glass; less than this in the time looked back over is steady
LOOK_BACK_S = 480.0
STALE_S = 1800.0  # a glass not called for half an hour tells no trend


@dataclass(frozen=True, slots=True)
class Trend:
    """word: rising, steady, falling, unknown; cause: expansion, feed, use, loss, unknown."""

    word: str
    cause: str
    why: str


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
    by_warmth = glass.shown_for(water.engine, kg, kelvin) - before
    parts, per_kg = water.parts(from_s, to_s), water.glass_per_kg(kelvin)
    return ChangesShown(
        after - before,
        by_warmth,
        parts.fed * per_kg,
        parts.taken * per_kg,
        parts.lost * per_kg,
        parts.lost_sd * per_kg,
    )


def trend(water: WaterBelief, now_s: float) -> Trend:
    """The movement since a look at the glass some minutes back, and its largest cause."""
    water = water.likelier
    seen = water.seen
    if out_of_sight(water.history):
        return Trend("unknown", "unknown", "no water in sight: nothing tells where it is")
    if len(seen) < 2:
        return Trend("unknown", "unknown", "the glass was called fewer than two times")
    last = seen[-1]
    if now_s - last.at_s > STALE_S:
        minutes = (now_s - last.at_s) / 60.0
        return Trend("unknown", "unknown", f"the glass was last called {minutes:.0f} minutes ago")
    if water.swells(last.at_s):
        return Trend("unknown", "unknown", "steam was first taken just before: swell is not gain")
    begun = _look_back(water)
    moved = changes(water, begun.at_s, max(now_s, last.at_s))
    word = "rising" if moved.all > _MOVES else "falling" if moved.all < -_MOVES else "steady"
    called = float(last.height or 0.0) - float(seen[-2].height or 0.0)
    if (word == "rising" and called < -0.6 * water.step) or (
        word == "falling" and called > 0.6 * water.step
    ):
        return Trend(
            "unknown", "unknown", f"the last two calls disagree with the rest: {called:+.2f}"
        )
    return Trend(word, _cause(water, word, moved), _why(now_s - begun.at_s, moved))


def _look_back(water: WaterBelief) -> Water:
    """The look some minutes back; further back while the glass was called the same all along."""
    *before, last = water.seen
    begun = before[0]
    for seen in before:
        begun = seen if seen.at_s <= last.at_s - LOOK_BACK_S else begun
    for seen in reversed(before):
        if abs(float(seen.height or 0.0) - float(last.height or 0.0)) > 0.5 * water.step:
            break
        begun = seen if seen.at_s < begun.at_s else begun
    return begun


def _cause(water: WaterBelief, word: str, moved: ChangesShown) -> str:
    losing = water.losing > 0.5 and moved.lost > max(moved.lost_sd, 0.02)
    if losing and moved.lost > moved.taken and word != "rising":
        return "loss"
    if word == "rising":
        if max(moved.expansion, moved.fed) < 0.5 * _MOVES:
            return "unknown"
        return "feed" if moved.fed > moved.expansion else "expansion"
    if word == "falling":
        cooling = -moved.expansion
        if max(cooling, moved.taken) < 0.5 * _MOVES:
            return "unknown"
        return "use" if moved.taken >= cooling else "expansion"
    return "unknown"


def _why(passed_s: float, moved: ChangesShown) -> str:
    minutes = passed_s / 60.0
    parts = {
        "expansion": moved.expansion,
        "feed": moved.fed,
        "use": -moved.taken,
        "loss": -moved.lost,
    }
    told = ", ".join(f"{part:+.2f} {name}" for name, part in parts.items() if abs(part) >= 0.005)
    return f"glass {moved.all:+.2f} in {minutes:.0f} minutes" + (f": {told}" if told else "")
