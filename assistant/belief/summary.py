"""Everything that is forecast at once, as the JSON record of the `forecast` command."""

from __future__ import annotations

from assistant.belief.bands import Band
from assistant.belief.estimate import Belief
from assistant.belief.forecast import minutes_to, pressure
from assistant.belief.water_forecast import (
    minutes_to_lower_mark,
    minutes_to_upper_mark,
    water,
    water_trend,
)
from assistant.boiler.scales import PSI_PA


def forecast_summary(belief: Belief, target_gauge_pa: float) -> dict[str, object]:
    """Pressure, time to the target, water, its trend and the times to its marks."""
    minutes, trend = minutes_to(belief, target_gauge_pa), water_trend(belief)
    lower, upper = minutes_to_lower_mark(belief), minutes_to_upper_mark(belief)
    return {
        "at_s": belief.at_s,
        "target_psi": target_gauge_pa / PSI_PA,
        "pressure_psi": _record(pressure(belief), 1.0 / PSI_PA),
        "minutes": None if minutes.band is None else _record(minutes.band),
        "water": {
            "glass": _record(water(belief)),
            "trend": trend.word,
            "cause": trend.cause,
            "minutes_to_lower_mark": None if lower.band is None else _record(lower.band),
            "minutes_to_upper_mark": None if upper.band is None else _record(upper.band),
            "why": trend.why,
        },
        "why": minutes.why,
        "learned_from": belief.shared.runs,
        "chance_of_unseen_loss": round(belief.water.losing, 3),
    }


def _record(values: Band, scale: float = 1.0) -> dict[str, float]:
    return {name: round(getattr(values, name) * scale, 4) for name in ("low", "mid", "high")}
