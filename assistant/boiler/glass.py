"""The gauge glass: what is shown and how much water that is. Knows no file and no time.

Heights are fractions of the visible glass, volumes those of the liquid as hot as it is [m3]; the
true level is that of the boiler, the shown one that of the cooler column in the glass.
"""

from __future__ import annotations

import math
from bisect import insort
from dataclasses import replace
from functools import lru_cache
from itertools import pairwise

import numpy as np

from assistant.boiler.figures import Engine, Glass
from assistant.boiler.scales import LITRE_M3
from assistant.boiler.steam import saturated
from assistant.boiler.vessel import Contents, split, vessel_of, water_for

COLUMN_K = 333.15  # the water in the glass stands at about 60 C: common practice, no source


def liquid_volume_m3(glass: Glass, height: float) -> float:
    """Liquid in the boiler [m3] when the true level is at a height; linear beyond the points."""
    heights, litres = zip(*sorted(glass.points), strict=True)
    return _interpolated(height, heights, litres) * LITRE_M3


def level_height(glass: Glass, liquid_m3: float) -> float:
    """Height of the true level for so much liquid [m3]; below 0 or above 1 is out of sight."""
    heights, litres = zip(*sorted(glass.points), strict=True)
    return _interpolated(liquid_m3 / LITRE_M3, litres, heights)


def _interpolated(x: float, xs: tuple[float, ...], ys: tuple[float, ...]) -> float:
    """Linear between the points, and beyond the outer ones along their last line."""
    last = len(xs) - 2
    i = min(max(int(np.searchsorted(xs, x)) - 1, 0), last)
    return ys[i] + (x - xs[i]) * (ys[i + 1] - ys[i]) / (xs[i + 1] - xs[i])


def shown_ratio(boiler_k: float, column_k: float = COLUMN_K) -> float:
    """Shown height over true: the column in the glass is cooler, so denser, and stands lower.

    Both measured from the bottom of the glass. A column never counts as hotter than the boiler.
    """
    hot = saturated(max(boiler_k, column_k))
    cool = saturated(min(boiler_k, column_k))
    return (1.0 / hot.vf - 1.0 / hot.vg) / (1.0 / cool.vf - 1.0 / hot.vg)


def height_shown(true_height: float, boiler_k: float, column_k: float = COLUMN_K) -> float:
    """What the glass shows for a true level in the boiler."""
    return true_height * shown_ratio(boiler_k, column_k) if true_height > 0.0 else true_height


def true_height(shown_height: float, boiler_k: float, column_k: float = COLUMN_K) -> float:
    """The true level behind what the glass shows."""
    return shown_height / shown_ratio(boiler_k, column_k) if shown_height > 0.0 else shown_height


def shown_for(engine: Engine, water_kg: float, boiler_k: float) -> float:
    """What the glass shows with so much water [kg] in the boiler at a temperature [K]."""
    parts = split(vessel_of(engine), Contents(water_kg, boiler_k))
    return height_shown(
        level_height(engine.glass, parts.liquid_m3) + slope_offset(engine), boiler_k
    )


@lru_cache(maxsize=2048)
def water_shown_kg(engine: Engine, shown_height: float, boiler_k: float) -> float:
    """All water in the boiler [kg], steam too, when the glass shows this at a temperature [K]."""
    liquid_m3 = liquid_volume_m3(
        engine.glass, true_height(shown_height, boiler_k) - slope_offset(engine)
    )
    liquid_m3 = min(max(liquid_m3, 0.0), 0.999 * engine.volume_m3)
    return water_for(vessel_of(engine), liquid_m3, boiler_k)


def level_by_slope_m(barrel_length_m: float, nose_up_rad: float) -> float:
    """How much higher the water stands at the glass [m] for the engine standing nose up.

    The glass is at the firebox end and the barrel tips about its middle; nose down is negative.
    """
    return barrel_length_m / 2.0 * math.tan(nose_up_rad)


def slope_offset(engine: Engine) -> float:
    """How much higher the level stands at the glass as the engine stands [of the glass]."""
    if engine.nose_up_rad == 0.0 or engine.barrel_length_m is None:
        return 0.0
    return level_by_slope_m(engine.barrel_length_m, engine.nose_up_rad) / engine.glass.visible_m


def calibrated_glass(
    glass: Glass, cans: tuple[tuple[float, float], ...], before_litres: float | None = None
) -> Glass:
    """The glass with points measured while filling cold: (litres put in so far, height shown).

    before_litres: what was in the boiler before the first can [litre]; None: by the points that
    the glass has. A measured point replaces those within a tenth of the glass of it.
    Raises ValueError where height does not rise with the litres.
    """
    if not cans:
        return glass
    if before_litres is None:
        litres, first = cans[0]
        before_litres = liquid_volume_m3(glass, first) / LITRE_M3 - litres
    measured = [(high, before_litres + litres) for litres, high in cans]
    unmeasured = [
        point for point in glass.points if all(abs(point[0] - high) >= 0.1 for high, _ in measured)
    ]
    points: list[tuple[float, float]] = []
    for point in (*unmeasured, *measured):
        insort(points, point)
    for (low, less), (high, more) in pairwise(points):
        if high <= low or more <= less:
            raise ValueError(
                f"glass {low:g} at {less:g} litre and {high:g} at {more:g} litre: "
                "both must rise together"
            )
    return replace(glass, points=tuple(points))
