"""What the glass shows, and the time to its marks if nothing is changed. Reads a belief."""

from __future__ import annotations

import numpy as np

from assistant.belief.bands import Band, band
from assistant.belief.estimate import Belief, temperature_now_k
from assistant.belief.forecast import NOW, Minutes, minutes_to
from assistant.belief.water import out_of_sight
from assistant.belief.water_trend import Trend, trend
from assistant.boiler import glass
from assistant.boiler.scales import TENTH_SD
from assistant.boiler.vessel import boiling_k, gauge_pa

EMPTY, FULL = Band(0.0, 0.0, 0.0), Band(1.0, 1.0, 1.0)
NEAR_TOP = 0.85  # of the glass; out of sight above this is full, below it empty
STANDS_PER_MIN = 1.0 / 480.0 / 2.0  # half the glass in eight hours: slower is no movement
# The middles of ten equally probable parts of a normal distribution [standard deviations].
NORMAL_TENTHS = np.array(
    [-1.645, -1.036, -0.674, -0.385, -0.126, 0.126, 0.385, 0.674, 1.036, 1.645]
)


def water(belief: Belief) -> Band:
    """What the glass shows now [fraction of the glass, clamped to it]; out of sight counts as empty
    unless the level was last near the top."""
    middle, spread = belief.water.shown(belief.at_s)
    if out_of_sight(belief.history):
        return FULL if middle > NEAR_TOP else EMPTY
    low, mid, high = (min(max(middle + k * spread, 0.0), 1.0) for k in (-TENTH_SD, 0.0, TENTH_SD))
    return Band(low, mid, high)


def water_middle(belief: Belief) -> float:
    """The middle alone of what `water` says [fraction of the glass]."""
    kg, kelvin = belief.water.middle_kg(belief.at_s), belief.track.at(belief.at_s)
    middle = glass.shown_for(belief.engine, kg, kelvin)
    if out_of_sight(belief.history):
        return 1.0 if middle > NEAR_TOP else 0.0
    return min(max(middle, 0.0), 1.0)


def water_trend(belief: Belief) -> Trend:
    """Whether the glass rises or falls, and by what."""
    return trend(belief.water, belief.at_s)


def minutes_to_lower_mark(belief: Belief) -> Minutes:
    """Minutes until the glass falls to the engine's lower mark, without counting on expansion."""
    mark = belief.engine.glass.lower_mark
    middle, spread = belief.water.shown(belief.at_s)
    if middle <= mark or out_of_sight(belief.history):
        return Minutes(NOW, f"the glass is at {middle:.2f}, the mark at {mark:.2f}")
    rate, rate_sd = _glass_per_min(belief)
    return _minutes_to_mark(middle - mark, spread, -rate, rate_sd)


def minutes_to_upper_mark(belief: Belief) -> Minutes:
    """Minutes until the glass rises to the engine's upper mark, by feed or by expansion."""
    mark = belief.engine.glass.upper_mark
    middle, spread = belief.water.shown(belief.at_s)
    if middle >= mark:
        return Minutes(NOW, f"the glass is at {middle:.2f}, the mark at {mark:.2f}")
    if belief.history.state("feed") == "on":
        rate, rate_sd = _glass_per_min(belief)
        return _minutes_to_mark(mark - middle, spread, rate, rate_sd)
    kg = belief.water.mass(belief.at_s)[0]
    hottest = boiling_k(belief.engine.valve_lifts_gauge_pa, belief.engine.atmosphere_pa)
    low, high = temperature_now_k(belief), hottest
    if glass.shown_for(belief.engine, kg, high) < mark or low >= high:
        return Minutes(None, f"expansion does not bring the glass to {mark:.2f}")
    for _ in range(25):
        half = (low + high) / 2.0
        low, high = (half, high) if glass.shown_for(belief.engine, kg, half) < mark else (low, half)
    by_then = minutes_to(belief, gauge_pa(high, belief.engine.atmosphere_pa))
    return Minutes(by_then.band, f"by expansion: {by_then.why}")


def _glass_per_min(belief: Belief) -> tuple[float, float]:
    """Movement of the glass in a minute, without expansion: middle and standard deviation."""
    water, now = belief.water, belief.at_s
    change = water.change(now, now + 600.0)
    per_kg = water.glass_per_kg(belief.track.at(now))
    lost = change.lost if water.losing > 0.5 else 0.0
    moved = change.fed - change.taken - max(lost, 0.0)
    spread = 0.3 * abs(change.fed) + 0.4 * abs(change.taken) + (change.lost_sd if lost else 0.0)
    return moved * per_kg / 10.0, spread * per_kg / 10.0


def _minutes_to_mark(distance: float, distance_sd: float, rate: float, rate_sd: float) -> Minutes:
    """Distance over rate, both uncertain, from even quantiles of both."""
    if rate < STANDS_PER_MIN:
        return Minutes(None, f"the glass moves {abs(rate):.4f} a minute: it stands")
    distances = np.maximum(distance + distance_sd * NORMAL_TENTHS, 0.0)
    rates = np.maximum(rate + rate_sd * NORMAL_TENTHS, 0.1 * rate)
    minutes = (distances[:, None] / rates[None, :]).ravel()
    return Minutes(
        band(minutes, np.ones(len(minutes))),
        f"{distance:.2f} of the glass at {rate:.4f} a minute",
    )
